"""What changes a figure: limits that it is under, and conditions, types and quantities that were not understood."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from torquary_ingest.clauses.parts import Part, cut_parts
from torquary_ingest.clauses.thing import Element, Thing
from torquary_ingest.clauses.tokens import Token
from torquary_schema.roles import spot_roles
from torquary_schema.words import spot

_BETWEEN_LIMIT_AND_FIGURE = frozenset({"small", "of", "torque", "tighten", "colon", "open", "or"})
_ABOUT_CONDUCTOR = frozenset(
    {"kind", "size", "small", "of", "and", "or", "colon", "comma", "conductor", "connection"}
)
_CASES = (
    "condition",
    "variant",
    "never",
    "exceed",
    "type",
    "quantity",
    "number",
    "screwless",
    "max",
    "min",
)
_RANGE_BY_WORD = re.compile(r"(\d{1,3})\s+[^\W\d]+\s+\d")
_SIDES = ("max", "min")
_COUNTED = ("fastener", "time", "thread", "terminal", "drive", "tool")


def side_of(part: Part) -> tuple[str, str]:
    """Return the field of a torque that a part's figure fills, and what makes that unclear ("" if nothing does).

    An upper bound is a limit: "max.", "at most", "must not exceed", "do not tighten beyond".
    """
    never, exceed = part.of("never"), part.of("exceed")
    if exceed:
        return ("torque_max", "") if never or _forbids(exceed[0]) else ("torque", exceed[0].text)
    if never:
        return "torque", never[0].text
    sides = {
        f"torque_{token.kind}" for token in part.of("max", "min") if limits_figure(part, token)
    }
    sides |= {
        token.concept
        for token in part.of("torque", "tighten")
        if token.concept in ("torque_max", "torque_min")
    }
    if len(sides) > 1:
        return "torque", "min. / max."
    return (sides.pop() if sides else "torque"), ""


def _forbids(token: Token) -> bool:
    """Tell whether a word for a bound says itself that it is one: "not to exceed", "must not exceed"."""
    return any(match.concept == "max" for match in spot("connective", token.text))


def limits_figure(part: Part, token: Token) -> bool:
    """Tell whether a word for a limit speaks of the part's figure: nothing else stands between, or a torque's name.

    Behind the figure it is the last word: "0.2 N·m, no more".
    """
    figure = part.figure
    if figure is None:
        return False
    if token.end > figure.start:
        return part.elements[-2:] == (figure, token)
    between = [one for one in part.elements if token.end <= one.start and one.end <= figure.start]
    beside_torque = bool(between) and between[0].kind in ("torque", "tighten")
    before = [one for one in part.elements if one.end <= token.start]
    behind_torque = bool(before) and before[-1].kind in ("torque", "tighten")
    return (
        beside_torque
        or behind_torque
        or all(one.kind in _BETWEEN_LIMIT_AND_FIGURE for one in between)
    )


def is_about_conductors(part: Part) -> bool:
    """Tell whether a condition is nothing but a kind or size of conductor: "if aluminium conductors are used"."""
    others = [
        one
        for one in part.elements
        if one.kind not in _ABOUT_CONDUCTOR and one.kind not in ("condition", "connect")
    ]
    others = [
        one for one in others if one.kind not in ("stop", "line", "figure", "tighten", "torque")
    ]
    return bool(part.of("kind", "size")) and not [
        one for one in others if not isinstance(one, Thing)
    ]


def find_unread(parts: Iterable[Part], own: Part) -> Iterator[str]:
    """Yield the printed conditions, types and quantities of parts that nothing has understood; `own` has the figure.

    "If …, connect the line to X4 (0.4 N·m)" makes a connection optional: its torque holds wherever it is made.
    """
    optional = bool(own.of("connect")) and not own.of("tighten")
    for part in parts:
        if optional and part is not own and part.of("condition"):
            continue
        yield from (token.text for token in part.of(*_CASES) if not is_understood(part, token))
        # "The greased conductor": what it is like is a condition, as its kind and size are.
        conductors = [thing for thing in part.things("conductor") if not spot_roles(thing.text)]
        yield from (thing.text for thing in conductors if thing.unread)


def cases_in(text: str) -> list[str]:
    """Return what a line over figures limits them to and no vocabulary of it explains: "For size 4 models:"."""
    parts = cut_parts(text)
    told = (
        (part, token) for part in parts for token in part.of(*_CASES) if token.kind not in _SIDES
    )
    return [token.text for part, token in told if not is_understood(part, token)]


def is_understood(part: Part, token: Token) -> bool:
    """Tell whether what may change a figure is told by what stands beside it in its part."""
    elements = part.elements
    at = elements.index(token)
    before = elements[at - 1] if at else None
    after = elements[at + 1] if at + 1 < len(elements) else None
    if token.kind == "number":
        return _is_counted(before, after)
    if any(map(_is_of_all, (elements[at - 1 : at + 1], elements[at + 1 : at + 3]))):
        return True
    if token.kind == "variant":
        return "device" in {one.kind for one in (before, after) if one is not None}
    if token.kind in ("max", "min"):
        return limits_figure(part, token)
    if token.kind in ("exceed", "never"):
        return side_of(part) == ("torque_max", "") or _is_of_tool(part)
    if token.kind == "condition":
        return token.concept != "except" and is_about_conductors(part)
    return token.kind == "quantity" and bool(part.of("strip", "drive", "tool"))


def _is_of_tool(part: Part) -> bool:
    """Tell whether a part says of a tool alone that it is not to be used: "never use power screwdrivers"."""
    return bool(part.of("tool")) and part.figure is None and not part.things()


def _is_of_all(pair: Sequence[Element]) -> bool:
    """Tell whether two words speak of all devices of the sheet, and limit nothing: "(for) all sizes"."""
    if len(pair) != 2 or pair[1].kind != "variant":
        return False
    return any(m.concept == "all" and m.end - m.start == len(pair[0].text) for m in spot("statement", pair[0].text))


def may_number(part: Part) -> str:
    """Return a thing and the number behind it that may mark it or begin the figure: "terminal 13 to 22 lbf·in"."""
    figure = part.figure
    before = [one for one in part.elements if figure is not None and one.end <= figure.start]
    ranged = _RANGE_BY_WORD.match(figure.text) if figure is not None else None
    if (
        ranged is None
        or not before
        or not isinstance(before[-1], Thing)
        or before[-1].kind != "terminal"
    ):
        return ""
    return f"{before[-1].text} {ranged[1]}"


def _is_counted(before: Element | None, after: Element | None) -> bool:
    """Tell whether a number counts screws or weeks, or numbers a part of a drawing: "(3)"."""
    called = (
        before is not None and after is not None and before.kind == "open" and after.kind == "close"
    )
    counts = after is not None and (
        isinstance(after, Thing) or after.kind in _COUNTED or after.text in ("x", "×")
    )
    return called or counts
