"""The cascade: of all that style sheets declare for an element, what wins (CSS Cascading 5)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from typing import cast

import tinycss2
from lxml import etree
from tinycss2.ast import Node

from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.web_page.css.declarations import Declared, Value, read_declarations
from torquary_ingest.openers.web_page.css.rules import Rule, Sheets
from torquary_ingest.openers.web_page.css.selectors import Path, Selectors, Strength

_MOST_STYLE = 2 * 1024 * 1024
MOST_TRIALS = 10_000_000
"""Selectors times elements; some ten seconds."""

_MOST_PARTS = 4000
_DEEPEST_NAMES = 20

Weight = tuple[bool, bool, tuple[float, ...], Strength, int]
Styles = dict[str, Value]
_Won = dict[str, tuple[Weight, Value]]
_TOP: tuple[float, ...] = (float("inf"),)


class Cascade:
    """What holds for each element of a page.

    `animations` are names of those that change what shows, `may_add` the elements to which a rule adds text of which
    it cannot be told whether it counts.
    """

    def __init__(self, root: etree._Element) -> None:
        """Read the page's style sheets; raise `SheetRefused` (sheet_too_large) when trying them takes too long."""
        sheets = Sheets()
        styles = [style for style in root.iter("style") if (style.get("type") or "text/css").lower() == "text/css"]
        if sum(len(style.text or "") for style in styles) > _MOST_STYLE:
            raise _too_many()
        for style in styles:
            sheets.read(style.text or "", media=style.get("media") or "")
        if sheets.full:
            raise _too_many()
        self.animations = sheets.animations
        self._won: dict[tuple[etree._Element, str], _Won] = defaultdict(dict)
        self._supposed: dict[etree._Element, list[Declared]] = defaultdict(list)
        self.may_add: set[etree._Element] = set()
        self._named: dict[etree._Element, Styles] = {}
        self._match(root, sheets.rules)

    def declared(self, element: etree._Element, pseudo: str = "") -> Styles:
        """Return the winning values of an element or of a pseudo-element, names of values filled in."""
        won = dict(self._won.get((element, pseudo), {}))
        inline = element.get("style") if not pseudo else None
        if inline:
            nodes = tinycss2.parse_blocks_contents(inline, skip_comments=True, skip_whitespace=True)
            for order, one in enumerate(read_declarations(nodes)):
                _enter(won, one, (one.important, True, _TOP, (0, 0, 0), order))
        if "all" in won:
            reset = won["all"][0]
            won = {name: entry for name, entry in won.items() if name == "all" or entry[0] > reset}
        names = self._names(element)
        filled = ((name, _fill(value, names)) for name, (_, value) in won.items() if not name.startswith("--"))
        return {name: value for name, value in filled if value is not None}

    def pseudos(self, element: etree._Element) -> list[str]:
        """Return the pseudo-elements that rules style on an element."""
        return [name for name in ("before", "after", "first-letter", "first-line") if (element, name) in self._won]

    def supposed(self, element: etree._Element) -> Styles:
        """Return what rules declare for an element of which it cannot be told whether they count."""
        declared = self._supposed.get(element, ())
        names = self._names(element) if declared else {}
        filled = ((one.name, _fill(one.value, names)) for one in declared if not one.name.startswith("--"))
        return {name: value for name, value in filled if value is not None}

    def _names(self, element: etree._Element) -> Styles:
        """Return the custom properties of an element, those that it inherits too."""
        found = self._named.get(element)
        if found is None:
            parent = element.getparent()
            found = dict(self._names(parent)) if parent is not None else {}
            own = {name: value for name, (_, value) in self._won.get((element, ""), {}).items() if name[:2] == "--"}
            inline = element.get("style")
            if inline and "--" in inline:
                nodes = tinycss2.parse_blocks_contents(inline, skip_comments=True, skip_whitespace=True)
                own.update({one.name: one.value for one in read_declarations(nodes) if one.name[:2] == "--"})
            found.update(own)
            self._named[element] = found
        return found

    def _match(self, root: etree._Element, rules: Sequence[Rule]) -> None:
        names, elements = _names_used(root)
        trials = 0
        selectors = Selectors(names)
        for order, rule in enumerate(rules):
            for path in selectors.paths(rule.selectors):
                trials += elements
                if trials > MOST_TRIALS:
                    raise _too_many()
                for element in cast(list[etree._Element], root.xpath(path.path)):
                    if path.certain and rule.certain:
                        self._take(element, path, rule, order)
                    elif not path.pseudo:
                        self._supposed[element] += rule.declared
                    elif any(one.name == "content" for one in rule.declared):
                        self.may_add.add(element)

    def _take(self, element: etree._Element, path: Path, rule: Rule, order: int) -> None:
        won = self._won[(element, path.pseudo)]
        for one in rule.declared:
            layer = tuple(-place for place in rule.layer) if one.important else rule.layer
            _enter(won, one, (one.important, False, layer, path.strength, order))


def _enter(won: _Won, one: Declared, weight: Weight) -> None:
    if one.name not in won or won[one.name][0] <= weight:
        won[one.name] = (weight, one.value)


def _too_many() -> SheetRefused:
    return SheetRefused(
        "sheet_too_large", "the page has too many style rules to tell what shows: save its tables alone"
    )


def _names_used(root: etree._Element) -> tuple[set[str], int]:
    """Return the classes and ids that the page gives its elements, and the number of elements."""
    names: set[str] = set()
    elements = 0
    for element in root.iter():
        elements += 1
        names.update((element.get("class") or "").split())
        if element.get("id"):
            names.add(str(element.get("id")))
    return names, elements


def _fill(value: Value, names: Styles, depth: int = 0) -> Value | None:
    """Put in what `var()` stands for; None where a name has no value: the declaration counts for nothing."""
    if not any(node.type == "function" for node in value):
        return value
    filled: list[Node] = []
    for node in value:
        if node.type != "function" or "var(" not in node.serialize().lower():
            filled.append(node)
            continue
        if depth > _DEEPEST_NAMES or len(filled) > _MOST_PARTS:
            return None
        put = _named(node, names, depth) if node.lower_name == "var" else _within(node, names, depth)
        if put is None:
            return None
        filled += put
    return tuple(filled)


def _named(node: Node, names: Styles, depth: int) -> Value | None:
    name, _, fallback = tinycss2.serialize(node.arguments).partition(",")
    value = names.get(name.strip())
    filled = _fill(value, names, depth + 1) if value is not None else None
    if filled is None and fallback.strip():
        filled = _fill(tuple(tinycss2.parse_component_value_list(fallback)), names, depth + 1)
    return filled


def _within(node: Node, names: Styles, depth: int) -> Value | None:
    inside = _fill(tuple(node.arguments), names, depth + 1)
    if inside is None:
        return None
    return tuple(tinycss2.parse_component_value_list(f"{node.name}({tinycss2.serialize(inside)})"))
