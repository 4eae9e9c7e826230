"""Which decision is for which reading: bound to what was printed where, and what it was read as."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

PLACE = ("page", "table_number", "row_number", "column_number", "box", "place_text", "torque_printed")
"""Columns that say what is printed where."""

PARTS: dict[str, tuple[str, ...]] = {
    "torque": ("read_min_nm", "read_nominal_nm", "read_max_nm", "read_limit_nm"),
    "terminal": ("terminal_printed",),
    "conductor": (
        "conductor_printed", "system", "min_mm2", "max_mm2", "min_awg", "max_awg",
        "material", "stranding", "ferrule", "conductor_count",
    ),
    "device": ("device_printed",),
    "purpose": ("purpose",),
}  # fmt: skip
"""What a print was read as: part → columns of the table setting."""

COLUMNS = (*PLACE, *(column for columns in PARTS.values() for column in columns))


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintRead:
    """A print and what it was read as: `columns` holds COLUMNS, `doubts` the codes that hold the reading."""

    id: str
    columns: Mapping[str, Any]
    doubts: frozenset[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """A person's last word on a reading, and how that was read then. `given` is the torque typed, if any, `before` the
    state it was in.

    `number` is that of the decision: a later one has a greater number, whatever the clocks said.
    """

    about: PrintRead
    number: int
    decided_at: datetime
    verdict: str
    who: str
    why: str
    given: str | None
    before: str


@dataclass(frozen=True, slots=True)
class Bound:
    """What becomes of decisions: `holding` and `asking` by the id of a reading; `gone` have none any more."""

    holding: dict[str, Word] = field(default_factory=dict)
    asking: dict[str, Word] = field(default_factory=dict)
    gone: list[Word] = field(default_factory=list)


def bind(words: Iterable[Word], readings: Sequence[PrintRead]) -> Bound:
    """Carry each decision to the one reading that is the same print, read the same; else ask, or say it is gone.

    Where the print is read otherwise, each reading at it that nobody has decided asks for a confirmation; if all
    are decided, those decided before. So no decision is passed over by a reading that it may be about.
    """
    bound = Bound()
    loose = []
    for word in sorted(words, key=lambda word: word.number):
        one = find_same(word.about, readings)
        if one is None:
            loose.append(word)
        else:
            bound.holding[one.id] = word
    for word in loose:
        near = find_near(word.about, readings)
        if not near:
            bound.gone.append(word)
        for one in _choose_asking(word, near, bound.holding):
            bound.asking[one.id] = word
    for asked in bound.asking:
        bound.holding.pop(asked, None)
    return bound


def tell_differences(before: PrintRead, now: PrintRead) -> tuple[str, ...]:
    """Name what differs: a part of PARTS, "place", "printed figure" or "doubts"; empty for the same reading."""
    found = []
    # An id stands on page, row and print: its box may since be another cell's, that of the other unit.
    if before.id != now.id and not _same_place(before.columns, now.columns):
        found.append("place")
    if before.columns["torque_printed"] != now.columns["torque_printed"]:
        found.append("printed figure")
    found += [part for part in PARTS if not _same_part(part, before, now)]
    if now.doubts - before.doubts:
        found.append("doubts")
    return tuple(found)


def gives_other_figure(one: PrintRead, other: PrintRead) -> bool:
    """Tell whether two readings of one page are for one terminal and conductor, and their figures differ."""
    names = ("device_printed", "terminal_printed", "conductor_printed")
    labels = [[" ".join((each.columns[name] or "").lower().split()) for name in names] for each in (one, other)]
    return (
        one.columns["page"] == other.columns["page"]
        and all(a == b or not a or not b for a, b in zip(*labels, strict=True))
        and not _same_part("torque", one, other)
    )


def find_same(before: PrintRead, readings: Sequence[PrintRead]) -> PrintRead | None:
    """Return the one reading that is the same print, read the same; None where there is none, or several."""
    same = [one for one in readings if not tell_differences(before, one)]
    alike = next((one for one in same if one.id == before.id), None)
    return alike or (same[0] if len(same) == 1 else None)


def find_near(before: PrintRead, readings: Sequence[PrintRead]) -> list[PrintRead]:
    """Return what may be the same print: the same figure at the place or in the same row, else all at the place."""
    figure = before.columns["torque_printed"]
    placed = [one for one in readings if _same_place(before.columns, one.columns)]
    rows = [one for one in readings if one.id == before.id or _same_row(before.columns, one.columns)]
    near = {one.id: one for one in placed if one.columns["torque_printed"] == figure}
    near |= {one.id: one for one in rows}
    return list(near.values()) or placed


def _choose_asking(word: Word, near: Sequence[PrintRead], holding: Mapping[str, Word]) -> list[PrintRead]:
    free = [one for one in near if one.id not in holding]
    return free or [one for one in near if holding[one.id].number < word.number]


def _same_place(before: Mapping[str, Any], now: Mapping[str, Any]) -> bool:
    """Tell whether both stand at one place: boxes of which one holds the other's middle, or one cell."""
    if before["page"] != now["page"]:
        return False
    if before["box"] and now["box"]:
        return _holds_middle(before["box"], now["box"]) or _holds_middle(now["box"], before["box"])
    cells = [tuple(one[name] for name in ("table_number", "row_number", "column_number")) for one in (before, now)]
    return cells[0] == cells[1] and (before["row_number"] is not None or _same_row(before, now))


def _same_row(before: Mapping[str, Any], now: Mapping[str, Any]) -> bool:
    names = ("page", "place_text", "torque_printed")
    return bool(before["place_text"]) and all(before[name] == now[name] for name in names)


def _holds_middle(outer: Sequence[float], inner: Sequence[float]) -> bool:
    x, y = (inner[0] + inner[2]) / 2, (inner[1] + inner[3]) / 2
    return outer[0] <= x <= outer[2] and outer[1] <= y <= outer[3]


def _same_part(part: str, before: PrintRead, now: PrintRead) -> bool:
    if part == "conductor" and before.columns["material"] is None:
        # Not known any more how it was read; the id stands on it.
        return before.id == now.id
    return all(before.columns[name] == now.columns[name] for name in PARTS[part])
