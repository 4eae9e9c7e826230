"""Declarations of CSS that bear on what shows: shorthands taken apart, names by writing direction made plain."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from tinycss2 import color5
from tinycss2.ast import Declaration, Node

Value = tuple[Node, ...]

_SIDES = ("top", "right", "bottom", "left")
_WATCHED = frozenset(
    ["all", "animation-name", "background-clip", "background-color", "background-image", "clip", "clip-path", "color", "content", "content-visibility", "direction", "display", "filter", "float", "font-size", "grid-area", "grid-column", "grid-column-start", "grid-row", "grid-row-start", "height", "letter-spacing", "line-height", "mask", "mask-image", "max-height", "max-width", "mix-blend-mode", "offset-path", "opacity", "order", "overflow-x", "overflow-y", "position", "rotate", "scale", "text-decoration-line", "text-indent", "text-fill-color", "text-security", "text-shadow", "transform", "translate", "unicode-bidi", "visibility", "width", "zoom", "flex-direction", "line-clamp", "flex-wrap", "appearance"]
) | {f"{kind}{side}" for kind in ("", "margin-") for side in _SIDES}
_PLAIN_NAMES = {
    "inset-inline-start": "left", "inset-inline-end": "right", "inset-block-start": "top", "inset-block-end": "bottom",
    "margin-inline-start": "margin-left", "margin-inline-end": "margin-right", "margin-block-start": "margin-top",
    "margin-block-end": "margin-bottom", "inline-size": "width", "block-size": "height",
    "max-inline-size": "max-width", "max-block-size": "max-height", "word-wrap": "overflow-wrap",
}  # fmt: skip
_SIZES = frozenset(
    ["xx-small", "x-small", "small", "medium", "large", "x-large", "xx-large", "xxx-large", "smaller", "larger"]
)
WIDE_WORDS = ("inherit", "initial", "unset", "revert", "revert-layer")
_WORDS = {
    name: frozenset(words.split())
    for name, words in {
        "display": "none contents block inline inline-block flow flow-root flex inline-flex grid inline-grid table "
        "inline-table table-row table-cell table-column table-row-group table-header-group table-footer-group "
        "table-column-group table-caption list-item run-in ruby ruby-base ruby-text math -webkit-box "
        "-webkit-inline-box -webkit-flex -moz-box",
        "visibility": "visible hidden collapse",
        "position": "static relative absolute fixed sticky -webkit-sticky",
        "content-visibility": "visible hidden auto",
        "float": "none left right inline-start inline-end",
        "direction": "ltr rtl",
        "overflow-x": "visible hidden clip scroll auto overlay",
        "overflow-y": "visible hidden clip scroll auto overlay",
    }.items()
}
_NOT_NAMES = frozenset(
    ["none", "infinite", "normal", "reverse", "alternate", "alternate-reverse", "forwards", "backwards", "both", "running", "paused", "linear", "ease", "ease-in", "ease-out", "ease-in-out", "step-start", "step-end"]
)


@dataclass(frozen=True, slots=True)
class Declared:
    """A property, its value, and whether it is important."""

    name: str
    value: Value
    important: bool = False


def read_declarations(nodes: Iterable[Node]) -> list[Declared]:
    """Return the declarations among the contents of a block that bear on what shows, in order."""
    found: list[Declared] = []
    for node in nodes:
        if isinstance(node, Declaration):
            value = tuple(one for one in node.value if one.type != "comment")
            name = node.name if node.name.startswith("--") else node.lower_name
            found += [Declared(n, v, bool(node.important)) for n, v in _expand(name, value) if is_valid(n, v)]
    return found


def is_valid(name: str, value: Value) -> bool:
    """Tell whether a browser takes the value: what it does not take leaves the declaration before it in force."""
    parts = words_of(value)
    if len(parts) == 1 and parts[0].type == "ident" and parts[0].lower_value in WIDE_WORDS:
        return True
    if any(part.type == "function" for part in parts):
        return True  # sums, names of values: judged when they are worked out
    if name in _WORDS:
        return 0 < len(parts) <= 3 and all(part.type == "ident" and part.lower_value in _WORDS[name] for part in parts)
    if name == "opacity":
        return len(parts) == 1 and parts[0].type in ("number", "percentage")
    return name != "color" or (len(parts) == 1 and _is_colour(parts[0]))


def words_of(value: Iterable[Node]) -> list[Node]:
    """Return the parts of a value without the blanks between them."""
    return [node for node in value if node.type not in ("whitespace", "comment")]


def _expand(name: str, value: Value) -> Iterator[tuple[str, Value]]:
    if name.startswith("--"):
        yield name, value
        return
    name = _PLAIN_NAMES.get(name, name)
    for prefix in ("-webkit-", "-moz-"):
        name = name.removeprefix(prefix)
    parts = words_of(value)
    if any(part.type == "function" and part.lower_name == "var" for part in parts):
        yield from ((one, value) for one in _long_names(name))
    elif name in ("margin", "inset"):
        for side, part in zip(_SIDES, _four(parts), strict=True):
            yield (side if name == "inset" else f"margin-{side}"), (part,)
    elif name == "overflow" and parts:
        yield "overflow-x", (parts[0],)
        yield "overflow-y", (parts[-1],)
    elif name == "font":
        yield from _font(parts)
    elif name == "background":
        yield "background-color", tuple(part for part in parts if _is_colour(part)) or _NOTHING
        yield "background-image", tuple(part for part in parts if part.type in ("url", "function") and not _is_colour(part))
    elif name == "animation":
        yield "animation-name", tuple(p for p in parts if p.type in ("ident", "string") and p.value.lower() not in _NOT_NAMES)
    elif name == "flex-flow":
        yield "flex-direction", tuple(parts)
    elif name in ("text-decoration", "inset-inline", "margin-inline"):
        for one in _long_names(name):
            yield one, tuple(parts)
    elif name in _WATCHED:
        yield name, value


_NOTHING: Value = ()
_LONG = {
    "margin": tuple(f"margin-{side}" for side in _SIDES), "inset": _SIDES, "overflow": ("overflow-x", "overflow-y"),
    "font": ("font-size", "line-height"), "background": ("background-color", "background-image"),
    "animation": ("animation-name",), "flex-flow": ("flex-direction",), "text-decoration": ("text-decoration-line",),
    "inset-inline": ("left", "right"), "margin-inline": ("margin-left", "margin-right"),
}  # fmt: skip


def _long_names(name: str) -> tuple[str, ...]:
    return _LONG.get(name, (name,) if name in _WATCHED else ())


def _four(parts: list[Node]) -> list[Node]:
    """Return top, right, bottom and left of one to four values."""
    if not parts:
        return []
    top = parts[0]
    right = parts[1] if len(parts) > 1 else top
    bottom = parts[2] if len(parts) > 2 else top
    return [top, right, bottom, parts[3] if len(parts) > 3 else right]


def _font(parts: list[Node]) -> Iterator[tuple[str, Value]]:
    """Yield size and line height: the size is the first length, the line height stands behind its slash."""
    if len(parts) == 1:
        yield "font-size", tuple(parts)
        return
    for at, part in enumerate(parts):
        size = part.type in ("dimension", "percentage", "function") or (part.type == "number" and part.value == 0)
        if size or (part.type == "ident" and part.lower_value in _SIZES):
            yield "font-size", (part,)
            if at + 2 < len(parts) and parts[at + 1] == "/":
                yield "line-height", (parts[at + 2],)
            return


def _is_colour(part: Node) -> bool:
    return color5.parse_color(part) is not None if part.type in ("ident", "hash", "function") else False
