"""Declarations of CSS that bear on what shows: shorthands taken apart, names by writing direction made plain."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from tinycss2 import color5
from tinycss2.ast import Declaration, Node

Value = tuple[Node, ...]

_SIDES = ("top", "right", "bottom", "left")
_WATCHED_LIST = (
    "all animation-name background-clip background-color background-image clip clip-path color content "
    "content-visibility direction display filter float font-size grid-area grid-column grid-column-start "
    "grid-column-end grid-template-columns "
    "grid-row grid-row-start height letter-spacing line-height mask mask-image max-height max-width "
    "mix-blend-mode offset-path opacity order overflow-x overflow-y position rotate scale text-decoration-line "
    "text-indent text-fill-color text-security text-shadow transform translate unicode-bidi visibility width "
    "zoom flex-direction line-clamp white-space contain list-style-type"
)
_WATCHED = frozenset(_WATCHED_LIST.split()) | {f"{kind}{side}" for kind in ("", "margin-") for side in _SIDES}
_PLAIN_NAMES = {
    "inset-inline-start": "left", "inset-inline-end": "right", "inset-block-start": "top", "inset-block-end": "bottom",
    "margin-inline-start": "margin-left", "margin-inline-end": "margin-right", "margin-block-start": "margin-top",
    "margin-block-end": "margin-bottom", "inline-size": "width", "block-size": "height",
    "max-inline-size": "max-width", "max-block-size": "max-height", "word-wrap": "overflow-wrap",
}  # fmt: skip
_SIZE_NAMES = "xx-small x-small small medium large x-large xx-large xxx-large smaller larger"
_SIZES = frozenset(_SIZE_NAMES.split())
_OF_SYSTEM_NAMES = (
    "accentcolor accentcolortext activetext buttonborder buttonface buttontext canvas canvastext field fieldtext "
    "graytext highlight highlighttext linktext mark marktext selecteditem selecteditemtext visitedtext window "
    "windowtext infobackground infotext menu menutext -webkit-link"
)
_OF_SYSTEM = frozenset(_OF_SYSTEM_NAMES.split())
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
_NOT_NAME_NAMES = (
    "none infinite normal reverse alternate alternate-reverse forwards backwards both running paused linear "
    "ease ease-in ease-out ease-in-out step-start step-end"
)
_NOT_NAMES = frozenset(_NOT_NAME_NAMES.split())


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
    return name != "color" or (len(parts) == 1 and (_is_colour(parts[0]) or _is_of_system(parts[0])))


def words_of(value: Iterable[Node]) -> list[Node]:
    """Return the parts of a value without the blanks between them."""
    return [node for node in value if node.type not in ("whitespace", "comment")]


def _expand(name: str, value: Value) -> Iterator[tuple[str, Value]]:
    """Yield the properties that a declaration sets, by their plain names."""
    if name.startswith("--"):
        yield name, value
        return
    name = _PLAIN_NAMES.get(name, name)
    for prefix in ("-webkit-", "-moz-"):
        name = name.removeprefix(prefix)
    parts = words_of(value)
    if any("var(" in part.serialize().lower() for part in parts if part.type == "function"):
        yield from ((one, value) for one in _LONG.get(name, (name,)) if one in _WATCHED)
    elif name in _TAKEN_APART:
        yield from _TAKEN_APART[name](parts)
    elif name in _LONG:
        yield from ((one, tuple(parts)) for one in _LONG[name])
    elif name in _WATCHED:
        yield name, value


_LONG = {
    "margin": tuple(f"margin-{side}" for side in _SIDES), "inset": _SIDES, "overflow": ("overflow-x", "overflow-y"),
    "font": ("font-size", "line-height"), "background": ("background-color", "background-image"),
    "animation": ("animation-name",), "flex-flow": ("flex-direction",), "text-decoration": ("text-decoration-line",),
    "list-style": ("list-style-type",),
    "inset-inline": ("left", "right"), "margin-inline": ("margin-left", "margin-right"),
}  # fmt: skip


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


def _sides(parts: list[Node], before: str = "") -> Iterator[tuple[str, Value]]:
    for side, part in zip(_SIDES, _four(parts), strict=False):
        yield f"{before}{side}", (part,)


def _overflow(parts: list[Node]) -> Iterator[tuple[str, Value]]:
    yield "overflow-x", tuple(parts[:1])
    yield "overflow-y", tuple(parts[-1:])


def _background(parts: list[Node]) -> Iterator[tuple[str, Value]]:
    images = (part for part in parts if part.type in ("url", "function") and not _is_colour(part))
    yield "background-color", tuple(part for part in parts if _is_colour(part))
    yield "background-image", tuple(images)


def _animation(parts: list[Node]) -> Iterator[tuple[str, Value]]:
    named = (part for part in parts if part.type in ("ident", "string") and part.value.lower() not in _NOT_NAMES)
    yield "animation-name", tuple(named)


def _is_of_system(part: Node) -> bool:
    return part.type == "ident" and part.lower_value in _OF_SYSTEM


def _is_colour(part: Node) -> bool:
    return color5.parse_color(part) is not None if part.type in ("ident", "hash", "function") else False


_TAKEN_APART: dict[str, Callable[[list[Node]], Iterator[tuple[str, Value]]]] = {
    "margin": lambda parts: _sides(parts, "margin-"), "inset": _sides, "overflow": _overflow, "font": _font,
    "background": _background, "animation": _animation,
}  # fmt: skip
