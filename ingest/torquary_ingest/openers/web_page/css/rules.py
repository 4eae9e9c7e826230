"""The rules of style sheets, flat: nesting and conditions resolved, in the order in which they count."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import tinycss2
from tinycss2.ast import AtRule, Node, QualifiedRule

from torquary_ingest.openers.web_page.css.conditions import Truth, holds_media, holds_supports
from torquary_ingest.openers.web_page.css.declarations import Declared, read_declarations

_DEEPEST = 32
_MOST_RULES = 60_000
_LAST = float("inf")

Layer = tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """Selectors with what they declare. `layer` orders cascade layers, rules outside them last.

    `certain` is False where the condition or the scope that the rule stands in cannot be told.
    """

    selectors: tuple[str, ...]
    declared: tuple[Declared, ...]
    layer: Layer = (_LAST,)
    certain: bool = True


@dataclass(slots=True)
class Sheets:
    """All rules of a page, and the names of animations that change what shows."""

    rules: list[Rule] = field(default_factory=list)
    animations: set[str] = field(default_factory=set)
    full: bool = False
    _layers: dict[tuple[str, ...], int] = field(default_factory=dict)

    def read(self, text: str, media: str = "") -> None:
        """Add the rules of a style sheet that is for some media."""
        holds = holds_media(tinycss2.parse_component_value_list(media))
        if holds is not False:
            nodes = tinycss2.parse_stylesheet(text, skip_comments=True, skip_whitespace=True)
            self._read_nodes(nodes, _Around(certain=bool(holds)))

    def _read_nodes(self, nodes: Sequence[Node], around: _Around) -> None:
        if around.depth > _DEEPEST or len(self.rules) > _MOST_RULES:
            self.full = True
            return
        own = read_declarations(nodes) if around.selectors else []
        if own:
            self.rules.append(
                Rule(
                    selectors=around.selectors,
                    declared=tuple(own),
                    layer=self._order(around.layer),
                    certain=around.certain,
                )
            )
        for node in nodes:
            if isinstance(node, QualifiedRule):
                selectors = _nest(_split_selectors(node.prelude), around.selectors)
                self._read_nodes(_inside(node), around.within(selectors=selectors))
            elif isinstance(node, AtRule):
                self._read_at_rule(node, around)

    def _read_at_rule(self, node: AtRule, around: _Around) -> None:
        keyword = node.lower_at_keyword.removeprefix("-webkit-")
        if keyword == "layer":
            names = [tuple(name.strip().split(".")) for name in tinycss2.serialize(node.prelude).split(",")]
            if node.content is None:
                for name in names:
                    self._order((*around.layer, *name))
                return
            name = names[0] if names[0] != ("",) else (f" {len(self._layers)}",)
            self._order((*around.layer, *name))
            inside = _inside(node) if around.selectors else _rules_in(node)
            self._read_nodes(inside, around.within(layer=(*around.layer, *name)))
        elif keyword == "keyframes":
            if any(read_declarations(_inside(frame)) for frame in _rules_in(node) if isinstance(frame, QualifiedRule)):
                self.animations.add(tinycss2.serialize(node.prelude).strip().strip("\"'"))
        elif node.content is not None:
            holds = _holds(keyword, node.prelude)
            if holds is not False:
                inside = _inside(node) if around.selectors else _rules_in(node)
                self._read_nodes(inside, around.within(certain=around.certain and bool(holds)))

    def _order(self, layer: tuple[str, ...]) -> Layer:
        """Return a layer's place in the cascade: by first mention on each level, its own rules behind its layers'."""
        places = [self._layers.setdefault(layer[: at + 1], len(self._layers)) for at in range(len(layer))]
        return (*map(float, places), _LAST)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Around:
    """What the rules that are being read stand in."""

    selectors: tuple[str, ...] = ()
    layer: tuple[str, ...] = ()
    certain: bool = True
    depth: int = 0

    def within(
        self,
        selectors: tuple[str, ...] | None = None,
        layer: tuple[str, ...] | None = None,
        certain: bool | None = None,
    ) -> _Around:
        """Return what a block in it stands in."""
        return _Around(
            selectors=self.selectors if selectors is None else selectors,
            layer=self.layer if layer is None else layer,
            certain=self.certain if certain is None else certain,
            depth=self.depth + 1,
        )


def _holds(keyword: str, prelude: Sequence[Node]) -> Truth:
    """Tell whether the rules of a block count; None for scopes, containers and what is not known."""
    if keyword == "media":
        return holds_media(prelude)
    if keyword == "supports":
        return holds_supports(prelude)
    return False if keyword in ("font-face", "page", "property", "counter-style") else None


def _inside(node: AtRule | QualifiedRule) -> list[Node]:
    return list(tinycss2.parse_blocks_contents(node.content or [], skip_comments=True, skip_whitespace=True))


def _rules_in(node: AtRule) -> list[Node]:
    return list(tinycss2.parse_rule_list(node.content or [], skip_comments=True, skip_whitespace=True))


def _split_selectors(prelude: Sequence[Node]) -> list[str]:
    parts: list[list[Node]] = [[]]
    for node in prelude:
        if node == ",":
            parts.append([])
        elif node.type != "comment":
            parts[-1].append(node)
    return [tinycss2.serialize(part).strip() for part in parts]


def _nest(selectors: list[str], outer: tuple[str, ...]) -> tuple[str, ...]:
    """Write nested selectors out: "&" stands for each of the rule's around, which goes before one without it."""
    if not outer:
        return tuple(selectors)
    written = [
        one.replace("&", parent) if "&" in one else f"{parent} {one}" for one in selectors for parent in outer
    ]
    return tuple(written[:2000])
