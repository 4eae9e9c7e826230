"""Headings that reach over several columns: limits that share a quantity, and units that reach too far."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from torquary_ingest.document import Doubt
from torquary_ingest.headings.column import Column
from torquary_ingest.headings.grid import text_of
from torquary_ingest.headings.sense import heading_core, make_sense
from torquary_schema.words import fold, spot


def doubt_beside_limits(columns: list[Column]) -> list[Column]:
    """Doubt a third column under the heading of two limits: the heading may reach too far."""
    heads = {side: {c.lines[0] for c in columns if c.field == f"torque_{side}" and c.lines} for side in ("min", "max")}
    both = heads["min"] & heads["max"]
    message = "stands under a heading of two limits and names neither; look at the sheet whether it is a torque"
    return [
        replace(c, doubts=(*c.doubts, Doubt(code="condition_unread", message=f"{c.lines[-1]!r} {message}")))
        if c.field == "torque" and len(c.lines) > 1 and c.lines[0] in both
        else c
        for c in columns
    ]


def without_stray_unit(columns: list[Column]) -> list[Column]:
    """Leave a column of terminals what it is when a torque unit reached its heading from a band row beneath.

    It does so when another column names the torque and states no unit.
    """
    stray = [column.field == "torque" and _ends_in_band(column) for column in columns]
    others = [column for column, strange in zip(columns, stray, strict=True) if not strange]
    if not any(_names_torque(column) and not column.unit for column in others):
        return columns
    return [_left_as_named(column) if strange else column for column, strange in zip(columns, stray, strict=True)]


def _left_as_named(column: Column) -> Column:
    """Return a column as its heading names it without the line of torque beneath."""
    if not _names_sizes(column):
        return replace(column, field="terminal", unit="", qualifier="", qualifier_cells=())
    unit = next(filter(None, (make_sense(line).unit("area", "gauge") for line in column.lines)), "")
    return replace(column, field="conductor", unit=unit, qualifier="", qualifier_cells=())


def _ends_in_band(column: Column) -> bool:
    """Tell whether a heading names terminals or sizes, and a unit of torque only in a line beneath.

    Over another column than the first a line that names the torque itself heads that column.
    """
    senses = [make_sense(line) for line in column.lines]
    named = any(s.has("terminal") and not s.has("torque") and not s.units for s in senses[:-1])
    lowest = senses[-1]
    named_beneath = lowest.has("torque", "torque_min", "torque_max") and column.index > 0
    banded = bool(lowest.unit("torque", "force")) and not named_beneath
    return (named or _names_sizes(column)) and banded


def _names_sizes(column: Column) -> bool:
    """Tell whether a line of a heading names conductors in a unit of theirs, and no torque."""
    senses = [make_sense(line) for line in column.lines[:-1]]
    return any(s.has("conductor") and s.unit("area", "gauge") and not s.has("torque") for s in senses)


def _names_torque(column: Column) -> bool:
    return column.field.startswith("torque") and make_sense(column.heading).has("torque", "torque_min", "torque_max")


def join_cut_phrases(columns: list[Column]) -> list[Column]:
    """Give two columns the torque phrase that the gutter between them cuts.

    "Recommended tightening torque" centred over "N·m" and "lb·in" leaves "recommended" over the left one, which
    names no terminal; over "min." and "max." it leaves the left one without a quantity.
    """
    joined = list(columns)
    for at, (left, right) in enumerate(pairwise(columns)):
        first, second = heading_core(left.heading), heading_core(right.heading)
        phrase = second if first and second.startswith(f"{first} ") else f"{first} {second}"
        known = any(m.concept.startswith("torque") and m.printed == phrase for m in spot("heading", phrase))
        if not right.field.startswith("torque") or _names_torque(left):
            continue
        if known and left.field.startswith("torque"):
            joined[at : at + 2] = [_without_words(left, phrase), _without_words(right, phrase)]
        elif known and (field := _beside_other_limit(left, right)):
            left = replace(left, field=field, unit=left.unit or right.unit)
            joined[at : at + 2] = [_without_words(left, phrase), _without_words(right, phrase)]
    return joined


def doubt_beside_unread(columns: list[Column]) -> list[Column]:
    """Doubt a torque that gives one limit beside a column that gives the other and was not understood."""
    doubted = list(columns)
    for at, (left, right) in enumerate(pairwise(columns)):
        if right.field.startswith("torque") and _beside_other_limit(left, right):
            message = f"{left.heading!r} beside it may be its other limit and was not understood; look at the sheet"
            doubt = Doubt(code="condition_unread", message=message)
            doubted[at + 1] = replace(right, doubts=(*right.doubts, doubt))
        for torque, beside, place in ((left, right, at), (right, left, at + 1)):
            if torque.field == "torque" and _lone_side(beside):
                message = f"{beside.heading!r} stands beside it and limits what is not said; look at the sheet"
                doubt = Doubt(code="condition_unread", message=message)
                doubted[place] = replace(torque, doubts=(*torque.doubts, doubt))
    return doubted


def _beside_other_limit(column: Column, fellow: Column) -> str:
    """Return the torque field of a column without a quantity that gives the other limit than its fellow; or ""."""
    sense = make_sense(column.heading)
    if column.field != "unknown" or sense.minimum == sense.maximum or fellow.field == "torque":
        return ""
    field = "torque_min" if sense.minimum else "torque_max"
    return field if field != fellow.field else ""


def _without_words(column: Column, phrase: str) -> Column:
    """Return a column whose qualifiers no longer hold words of the phrase."""
    rests = [(cell, make_sense(text_of(cell)).rest) for cell in column.qualifier_cells]
    kept = [(cell, rest) for cell, rest in rests if fold(rest) not in phrase]
    return replace(
        column, qualifier=" / ".join(rest for _, rest in kept), qualifier_cells=tuple(cell for cell, _ in kept)
    )


def share_quantity(columns: list[Column]) -> list[Column]:
    """Give "max." the quantity of its neighbour "Torque min." when it says no more than the other limit.

    The name stands over the left one of a pair; one to the right is asked only where the left has no limit. Where
    both could be its fellow the column is doubted.
    """
    shared = list(columns)
    for at, column in enumerate(columns):
        mine = _lone_side(column)
        if not mine:
            continue
        left = columns[at - 1] if at and _side_of(columns[at - 1]) not in ("", mine) else None
        right = columns[at + 1] if _may_reach_left(columns, at + 1, mine) else None
        giver = left or right
        if giver is not None and giver.field.startswith(("torque_", "conductor_")):
            shared[at] = _take(column, giver, mine, torn=left is not None and right is not None)
    return shared


def _lone_side(column: Column) -> str:
    """Return "min" or "max" for a heading that says nothing but this."""
    sense = make_sense(column.heading)
    if column.field != "unknown" or sense.rest or sense.units or sense.minimum == sense.maximum:
        return ""
    return "min" if sense.minimum else "max"


def _side_of(column: Column) -> str:
    """Return the limit that a heading with a quantity of its own gives, "" for none; whatever the quantity is."""
    sense = make_sense(column.heading)
    if _lone_side(column) or sense.minimum == sense.maximum:
        return ""
    return "min" if sense.minimum else "max"


def _may_reach_left(columns: list[Column], at: int, mine: str) -> bool:
    """Tell whether a column is the other limit of a torque or size, and has no fellow to its own right."""
    if at >= len(columns) or _side_of(columns[at]) in ("", mine):
        return False
    fellow = at + 1 < len(columns) and _lone_side(columns[at + 1]) == mine
    return columns[at].field.startswith(("torque_", "conductor_")) and not fellow


def _take(column: Column, giver: Column, mine: str, *, torn: bool) -> Column:
    message = f"{column.heading!r} stands between two quantities; look at the sheet which of them it limits"
    doubts = (*column.doubts, Doubt(code="condition_unread", message=message)) if torn else column.doubts
    return replace(
        column,
        field=f"{giver.field.rpartition('_')[0]}_{mine}",
        unit=giver.unit,
        qualifier=giver.qualifier,
        qualifier_cells=giver.qualifier_cells,
        doubts=doubts,
    )
