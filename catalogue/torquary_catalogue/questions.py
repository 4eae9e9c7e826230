"""What held readings lack, asked once for the list or text that it is missing from; and how far an answer reaches."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from torquary_catalogue.find.named_size import say_once
from torquary_catalogue.store.answers import Reach
from torquary_catalogue.store.lacking import property_of, section_of
from torquary_schema.findings import WANTED, wanted

Row = Mapping[str, Any]
"""A row of `read_held`."""

AS_READ_HERE = frozenset(("blank", "condition"))
"""Fields of which a reading is right as it was read: only rows of which the same is said are asked about together."""
COLUMN = "column"
"""Field of a question whether the figures of a column are torques at all."""
_FIGURES = ("read_min_nm", "read_nominal_nm", "read_max_nm", "read_limit_nm", "conductor_printed")


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What the rows of one list lack: `field` is a key of `WANTED`. `alone` of the rows lack nothing else.

    `beside` are the headings under which each of the rows prints something that may be the answer, `unread` says what
    else is printed there, or which cell is blank: it is the same for all rows that are asked about together.
    """

    field: str
    rows: tuple[Row, ...]
    alone: int
    beside: tuple[str, ...]
    unread: tuple[str, ...] = ()

    def texts_under(self, heading: str) -> list[str]:
        """Return what the rows print under a heading, each text once."""
        beside = (one for row in self.rows for one in row["beside"])
        return say_once(heading, (one["text"] for one in beside if one["heading"] == heading))

    @property
    def first(self) -> Row:
        """The reading by which the question is named."""
        return self.rows[0]


def ask(rows: Sequence[Row]) -> tuple[Question, ...]:
    """Return the questions of held readings, those that settle most rows first."""
    found: dict[tuple[Any, ...], list[Row]] = {}
    for row in rows:
        for field in row["lacks"]:
            found.setdefault((field, row["sheet"], *_list_of(row), *_unread(row, {field})), []).append(row)
    asked = [_make(key[0], group) for key, group in found.items()]
    return tuple(sorted(asked, key=lambda one: (-one.alone, -len(one.rows), list(WANTED).index(one.field))))


def ask_columns(rows: Sequence[Row]) -> tuple[Question, ...]:
    """Return the columns of held readings that another torque of the sheet speaks against: they may be no torques."""
    found: dict[tuple[Any, ...], list[Row]] = {}
    for row in rows:
        against = any(reason["code"] == "contradicted" for reason in row["reasons"])
        if against and row["table_number"] is not None and row["column_number"] is not None:
            found.setdefault((row["sheet"], *_list_of(row), row["column_number"]), []).append(row)
    asked = (group for group in found.values() if len({row["row_number"] for row in group}) > 1)
    return tuple(Question(field=COLUMN, rows=tuple(group), alone=0, beside=()) for group in asked)


def _make(field: str, rows: Sequence[Row]) -> Question:
    alone = sum(row["lacks"] == [field] and row["settles"] for row in rows)
    headings = [{one["heading"] for one in row["beside"] or ()} for row in rows]
    shared = [one["heading"] for one in rows[0]["beside"] or () if all(one["heading"] in each for each in headings)]
    names = tuple(dict.fromkeys(shared)) if field in ("device", "terminal") else ()
    unread = _unread(rows[0], {field})
    return Question(field=field, rows=tuple(rows), alone=alone, beside=names, unread=unread)


def lacks_alike(row: Row, first: Row, fields: Collection[str]) -> bool:
    """Tell whether a reading lacks any of the fields, as the first does: what is said of it must be the same there."""
    return not set(fields).isdisjoint(row["lacks"]) and _unread(row, fields) == _unread(first, fields)


def _unread(row: Row, fields: Collection[str]) -> tuple[str, ...]:
    """Return what is said of the words beside a figure that were not understood, or of its blank cell, where asked."""
    asked = AS_READ_HERE.intersection(fields)
    return tuple(sorted({one["message"] for one in row["reasons"] if wanted(one["code"]) in asked}))


def reached(rows: Sequence[Row], row: Row, reach: Reach) -> Iterator[Row]:
    """Yield the held readings that an answer to the question about one of them is for; `row` is among them."""
    if reach == "section":
        yield from _in_section(rows, row)
        return
    for other in rows:
        if other["id"] == row["id"] or _is_reached(other, row, reach):
            yield other


def _is_reached(other: Row, row: Row, reach: Reach) -> bool:
    if reach == "maker":
        return bool(other["maker_key"]) and (other["maker_key"], _property(other)) == (row["maker_key"], _property(row))
    if other["sheet"] != row["sheet"] or reach == "reading":
        return False
    same = _list_of(other) == _list_of(row)
    alike = {
        "row": same and other["row_number"] == row["row_number"],
        "column": same and other["column_number"] == row["column_number"],
        "list": same,
        "sheet": True,
    }
    return alike[reach]


def _in_section(rows: Sequence[Row], row: Row) -> Iterator[Row]:
    """Yield the rows under the row's heading, and their like elsewhere on the sheet: the same figures and sizes."""
    own = [one for one in rows if one["sheet"] == row["sheet"]]
    here = [one for one in own if section_of(one["scope"]) == section_of(row["scope"])]
    figures = {_printed(one) for one in here}
    yield from here
    yield from (one for one in own if one not in here and _printed(one) in figures)


def _printed(row: Row) -> tuple[Any, ...]:
    return tuple(row[name] for name in _FIGURES)


def _property(row: Row) -> str:
    return property_of(row["scope"])


def _list_of(row: Row) -> tuple[Any, ...]:
    """Return what tells the list of a reading: its table, else the text that it stands in."""
    if row["table_number"] is not None:
        return row["page"], row["table_number"]
    return row["page"], row["place_text"]
