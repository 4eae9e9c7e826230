"""The ways in which styles hide a box or move it: each answers "gone", a reason to doubt, or "" for neither.

Lengths are CSS pixels. Where a way is common for other things as well (a little shift of a raised sign), only what
reaches far counts; what lies between is doubted.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import tinycss2
from tinycss2.ast import Node

from torquary_ingest.openers.web_page.css.cascade import Styles
from torquary_ingest.openers.web_page.css.declarations import WIDE_WORDS, Value, words_of
from torquary_ingest.openers.web_page.css.lengths import SCREEN_HIGH, SCREEN_WIDE, Scale, evaluate

GONE = "gone"
_FAR = 999.0
"""Pixels beyond which nothing moved to the left or up is on any screen."""

_FAINT = 0.1
_SHRUNK = 0.3
_LETTER = 0.65
"""Width of a letter in sizes of type, for texts that may not fit (common practice: digits take 0.5 to 0.6)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """What the ways are judged by: winning values, size of type, how the box stands, the text in it."""

    tag: str
    styles: Styles
    em: float
    rem: float
    inline: bool
    tabular: bool
    in_cell: bool
    text: str

    def word(self, name: str) -> str:
        """Return a value as text in small letters; "" if none is declared."""
        value = self.styles.get(name)
        return tinycss2.serialize(value).strip().lower() if value else ""

    def length(self, name: str, whole: float | None) -> float | None:
        """Return a length in pixels; None if none is declared, or it cannot be worked out."""
        value = self.styles.get(name)
        return evaluate(value, Scale(em=self.em, rem=self.rem, whole=whole)) if value else None


def judge(box: Box) -> str:
    """Return "gone", why it cannot be told what shows, or ""."""
    answers = [way(box) for way in _WAYS]
    return GONE if GONE in answers else next((answer for answer in answers if answer), "")


def _opacity(box: Box) -> str:
    opacity = box.length("opacity", 1.0)
    if opacity is None:
        return "its opacity cannot be told" if box.styles.get("opacity") and not _is_word(box, "opacity") else ""
    return GONE if opacity <= 0 else "it is all but transparent" if opacity < _FAINT else ""


def _content(box: Box) -> str:
    if box.word("content-visibility") != "hidden" or box.inline or box.tag in ("tr", "thead", "tbody", "tfoot"):
        return ""
    return GONE if not box.tabular or box.tag in ("td", "th") else "its content may be left out"


def _clipped(box: Box) -> str:
    """`clip` counts for boxes taken out of the flow, `clip-path` for all."""
    clip, path = box.word("clip"), box.word("clip-path")
    if clip not in ("", "auto") and not _is_word(box, "clip") and box.word("position") in ("absolute", "fixed"):
        return GONE if _empty_rectangle(box) else "a part of it is cut off"
    if path in ("", "none") or _is_word(box, "clip-path"):
        return ""
    return GONE if _empty_shape(box.styles["clip-path"], box.em) else "a shape cuts parts of it off"


def _empty_rectangle(box: Box) -> bool:
    """rect(top, right, bottom, left) of no more than a pixel shows nothing."""
    sides = _arguments(box.styles["clip"][0] if len(box.styles["clip"]) == 1 else None, box.em)
    if len(sides) != 4 or None in sides:
        return False
    top, right, bottom, left = (side or 0.0 for side in sides)
    return bottom - top <= 1 or right - left <= 1


def _empty_shape(value: Value, em: float) -> bool:
    parts = words_of(value)
    if len(parts) != 1 or parts[0].type != "function":
        return False
    given = _arguments(parts[0], em, whole=100.0)
    known = [side for side in given if side is not None]
    if parts[0].lower_name == "inset":
        known = known if len(known) == len(given) else []
        four = (known * 4)[:4] if len(known) in (1, 2) else known
        return len(four) == 4 and (four[0] + four[2] >= 100 or four[1] + four[3] >= 100) and _in_per_cent(parts[0])
    if parts[0].lower_name in ("circle", "ellipse"):
        return bool(given) and given[0] == 0
    return parts[0].lower_name == "polygon" and bool(given) and len(known) == len(given) and len(set(known)) == 1


def _in_per_cent(function: Node) -> bool:
    return all(node.type == "percentage" for node in words_of(function.arguments))


def _arguments(node: Node | None, em: float, whole: float | None = None) -> list[float | None]:
    if node is None or node.type != "function":
        return []
    return [evaluate([one], Scale(em=em, whole=whole)) for one in words_of(node.arguments) if one != ","]


def _squeezed(box: Box) -> str:
    """What runs over a box that hides its overflow does not show; whether it all fits is reckoned from its letters."""
    overflow = {box.word(f"overflow-{axis}") for axis in "xy"} - {"", "visible", *WIDE_WORDS}
    if not overflow or box.inline or not box.text or box.tag in ("html", "body"):
        return ""
    wides = [one for name in ("width", "max-width") if (one := box.length(name, None)) is not None]
    highs = [one for name in ("height", "max-height") if (one := box.length(name, None)) is not None]
    if any(size <= 1 for size in (*wides, *highs)):
        return "its cell may hide it" if box.tabular else GONE
    if not overflow & {"hidden", "clip"}:
        return ""  # the rest of it can be scrolled to
    if not _fits(box, min(wides, default=None), min(highs, default=None)):
        return "it may be cut off at the edge of its box"
    line = box.length("line-height", box.em)
    plain = box.word("line-height")[-1:].isdigit()
    flat = (line is not None and line < (0.3 if plain else 3)) or box.word("contain") in ("strict", "size")
    return "its lines may be cut off" if flat else ""


def _fits(box: Box, wide: float | None, high: float | None) -> bool:
    """Tell whether a box of a given width or height (None: as its text asks for) takes its text, by its letters."""
    letter = _LETTER * box.em
    words = [box.text] if box.word("white-space") in ("nowrap", "pre") else box.text.split()
    if wide is not None and max(map(len, words)) * letter > wide:
        return False
    if high is None:
        return True
    lines = max(1, int(high / (1.2 * box.em)))
    return high >= 0.8 * box.em and len(box.text) * letter <= (wide or SCREEN_WIDE) * lines


def _moved(box: Box) -> str:
    """Offsets count for boxes that are positioned; margins for all."""
    position = box.word("position")
    placed = position in ("absolute", "fixed", "relative")
    for side, whole in (("left", SCREEN_WIDE), ("top", SCREEN_HIGH), ("right", SCREEN_WIDE), ("bottom", SCREEN_HIGH)):
        for name in (side, f"margin-{side}"):
            given = box.length(name, whole) if placed or name != side else None
            if given is not None and given <= -_FAR and name == side:
                return GONE
            if given is not None and (given <= -_FAR or (given >= _FAR and name == side)):
                return "it is moved far away"  # a margin carries what follows along with it
    if position in ("absolute", "fixed") and box.in_cell:
        return "it is laid over the page elsewhere than in its place"
    return _shifted(box, placed) if box.in_cell else ""


def _shifted(box: Box, placed: bool) -> str:
    """A raised sign is moved by less than its own size; what is moved along the line may change places."""
    for name in ("left", "right", "top", "bottom", "margin-left", "margin-right", "margin-top", "margin-bottom"):
        given = box.length(name, box.em) if placed or name.startswith("margin") else None
        if given is None or (name.startswith("margin") and given >= 0):
            continue
        if abs(given) > box.em * (0.3 if name.endswith(("left", "right")) else 1.0):
            return "it is moved out of its place"
    return ""


def _turned(box: Box) -> str:
    """Transforms count for all boxes but those in a line of text."""
    if box.inline:
        return ""
    scale = words_of(box.styles.get("scale", ()))
    factors = [evaluate([one], Scale(em=box.em, whole=1.0)) for one in scale]
    answers = [_scaled(factors)] if scale and not _is_word(box, "scale") else []
    for node in words_of(box.styles.get("transform", ())):
        if node.type == "function":
            answers.append(_transformed(node, box))
    moves = [evaluate([one], Scale(em=box.em, whole=box.em)) for one in words_of(box.styles.get("translate", ()))]
    answers.append(_carried(moves, box) if moves and not _is_word(box, "translate") else "")
    if box.word("rotate") not in ("", "none", "0", "0deg", *WIDE_WORDS) and _upside_down(box.word("rotate")):
        answers.append("it is turned")
    return GONE if GONE in answers else next((answer for answer in answers if answer), "")


def _transformed(node: Node, box: Box) -> str:
    name = node.lower_name
    if name.startswith("scale"):
        return _scaled(_arguments(node, box.em, whole=1.0)[: 2 if name == "scale3d" else 3])
    if name.startswith("translate"):
        return _carried(_arguments(node, box.em, whole=box.em), box)
    if name in ("rotate", "rotatez"):
        return "it is turned" if _upside_down(tinycss2.serialize(node.arguments).strip()) else ""
    if name == "matrix":
        matrix = _arguments(node, box.em)
        flat = len(matrix) == 6 and matrix[0] == 0 and matrix[1] == 0
        return GONE if flat or (len(matrix) == 6 and matrix[2] == 0 and matrix[3] == 0) else "it is turned or moved"
    return "" if name == "perspective" else "it is turned or moved"


def _scaled(factors: list[float | None]) -> str:
    if 0 in factors:
        return GONE
    return "" if factors and all(one is not None and one > _SHRUNK for one in factors) else "it is shrunk or mirrored"


def _carried(moves: list[float | None], box: Box) -> str:
    if any(one is not None and one <= -_FAR for one in moves):
        return GONE
    far = any(one is None or abs(one) > (box.em if box.in_cell else SCREEN_HIGH) for one in moves)
    return "it is moved out of its place" if far else ""


def _upside_down(angle: str) -> bool:
    """Headings stand on their side; what is turned further reads as other digits."""
    turns = {"90deg", "-90deg", "270deg", "-270deg", ".25turn", "0.25turn", "-.25turn", "-0.25turn", "0", "0deg"}
    return angle not in turns


def _painted(box: Box) -> str:
    """Masks, filters and blending change what is seen of a text in ways that are not worked out here."""
    plain = ("", "none", "normal", "auto", *WIDE_WORDS)
    if any(box.word(name) not in plain for name in ("mask", "mask-image", "mix-blend-mode", "text-security")):
        return "a mask or blending may hide it"
    if any(box.word(name) not in plain for name in ("offset-path", "line-clamp")):
        return "it is moved or cut off"
    zoom = box.length("zoom", 1.0)
    if zoom is not None and zoom < _SHRUNK:
        return "it is shrunk"
    acts = box.word("filter")
    if "opacity(0" in acts.replace(" ", "") and "opacity(0." not in acts:
        return GONE
    dims = any(one in acts for one in ("opacity", "blur", "bright", "contrast", "url"))
    return "a filter may hide it" if dims else ""


def _ordered(box: Box) -> str:
    """In a cell the order of a text's parts is that of the file, unless one is sent elsewhere."""
    if not box.in_cell:
        return ""
    if box.word("display") == "inherit":
        return "its display is that of what it stands in"
    plain = ("", "0", "auto", "none", "unset", "initial", "inherit", "revert")
    named = ("order", "float", "grid-area", "grid-row", "grid-column", "grid-row-start", "grid-column-start")
    if any(box.word(name) not in plain for name in named):
        return "its place among its neighbours is changed"
    if "reverse" in box.word("flex-direction"):
        return "its parts are shown in reverse order"
    letters = box.length("letter-spacing", box.em)
    return "its letters stand over one another" if letters is not None and letters < -0.2 * box.em else ""


def _is_word(box: Box, name: str) -> bool:
    return box.word(name) in WIDE_WORDS


_WAYS: tuple[Callable[[Box], str], ...] = (
    _opacity, _content, _clipped, _squeezed, _moved, _turned, _painted, _ordered,
)  # fmt: skip
