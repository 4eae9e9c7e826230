"""Answers for many readings at once: what people gave that no print proves, with the prints they were given for."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import datetime
from typing import Any, Literal, get_args

from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.record import Entry, keep
from torquary_catalogue.store.same_print import COLUMNS, PrintRead
from torquary_schema.words import fold

Reach = Literal["reading", "row", "column", "list", "section", "sheet", "maker"]
REACHES: tuple[Reach, ...] = get_args(Reach)
COLUMN_REACHES: tuple[Reach, ...] = ("column", "row", "reading")
"""What may be no torque as one: in a turned table a column is a row."""
AS_READ = ("device", "terminal", "blank", "condition")
"""What may be right as it was read."""
KIND = "answer"
"""Kind of the decision (decision_record.kind)."""

_NAMES = ", ".join(COLUMNS)
_INSERT = """
INSERT INTO answer BY NAME SELECT $number AS number, $sheet AS sheet, $reach AS reach, $property AS property,
    $maker AS maker, {given}"""
_INSERT_PRINTS = f"""
INSERT INTO answer_print BY NAME SELECT $number AS number, sheet, id AS setting, {_NAMES}, $doubts AS doubts
FROM setting WHERE sheet = $sheet AND id = $setting"""
_STANDING = """
SELECT a.*, r.who, r.why, r.decided_at, r.carried_from FROM answer AS a JOIN decision_record AS r ON r.number = a.number
WHERE r.undone_by IS NULL AND (a.sheet = $sheet OR (a.reach = 'maker' AND a.maker = $maker AND a.maker <> ''))
ORDER BY a.number"""
_MAKER = "SELECT maker FROM sheet WHERE digest = ?"
_OF_MAKER = "SELECT digest, maker FROM sheet WHERE state = 'read'"


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """What a person gives: "" and False for what is not given.

    `device_from` and `terminal_from` are headings under which each row prints its own (`setting.beside`); `as_read`
    says of "device", "terminal", "blank" cells and figures beside words that were not understood ("condition") that
    they are right as they were read; `rejects` that no figure is to be used, `no_torque` that none is a torque at all,
    so that it speaks against no other one.
    """

    device: str = ""
    device_from: str = ""
    terminal: str = ""
    terminal_from: str = ""
    unit: str = ""
    size_unit: str = ""
    purpose: str = ""
    tightening: bool = False
    as_read: tuple[str, ...] = ()
    rejects: bool = False
    no_torque: bool = False

    @property
    def refuses(self) -> bool:
        """Whether it lets no figure be used."""
        return self.rejects or self.no_torque

    @property
    def fields(self) -> frozenset[str]:
        """What it settles, keys of `torquary_schema.findings.WANTED`; what is rejected lacks nothing more."""
        named = {
            "device": self.device or self.device_from or "device" in self.as_read,
            "terminal": self.terminal or self.terminal_from or "terminal" in self.as_read,
            "blank": "blank" in self.as_read,
            "condition": "condition" in self.as_read,
            "screw": self.purpose,
            "quantity": self.tightening,
            "unit": self.unit,
            "size": self.size_unit,
        }
        return frozenset(name for name, given in named.items() if given or self.refuses)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """An answer that stands: `prints` are the readings that it was given for, of its own sheet."""

    number: int
    sheet: str
    reach: Reach
    property: str
    maker: str
    given: Given
    who: str
    why: str
    decided_at: datetime
    carried_from: int | None
    prints: tuple[PrintRead, ...]


def keep_answer(catalogue: Catalogue, answer: Answer, before: str, after: str) -> int:
    """Keep an answer, with the readings it is for as they were read; return the number of the decision.

    The number, time and prints of `answer` do not count but for the ids of the prints and their doubts.
    """
    entry = Entry(
        kind=KIND, sheet=answer.sheet, who=answer.who, why=answer.why, before=before, after=after,
        carried_from=answer.carried_from,
    )  # fmt: skip
    number = keep(catalogue, entry)
    given = {name: value or None for name, value in asdict(answer.given).items()}
    given["as_read"] = list(answer.given.as_read) or None
    columns = ", ".join(f"${name} AS {name}" for name in given)
    about = {"reach": answer.reach, "property": answer.property, "maker": answer.maker}
    run = catalogue.connection.execute
    run(_INSERT.format(given=columns), {"number": number, "sheet": answer.sheet, **about, **given})
    for one in answer.prints:
        values = {"number": number, "sheet": answer.sheet, "setting": one.id, "doubts": sorted(one.doubts)}
        run(_INSERT_PRINTS, values)
    return number


def read_answers(catalogue: Catalogue, sheet: str) -> tuple[Answer, ...]:
    """Return the answers that stand for a sheet: its own, and those for all lists of its maker."""
    rows = catalogue.rows(_STANDING, {"sheet": sheet, "maker": maker_of(catalogue, sheet)})
    return tuple(_read(row, _read_prints(catalogue, row["number"])) for row in rows)


def read_own_answers(catalogue: Catalogue, sheet: str) -> tuple[Answer, ...]:
    """Return the answers that stand for readings of a sheet alone."""
    return tuple(one for one in read_answers(catalogue, sheet) if one.sheet == sheet and one.reach != "maker")


def maker_of(catalogue: Catalogue, sheet: str) -> str:
    """Return the maker of a sheet as answers are bound to it; "" where none is known."""
    found = catalogue.rows(_MAKER, [sheet])
    return fold(found[0]["maker"]) if found else ""


def sheets_of_maker(catalogue: Catalogue, maker: str) -> list[str]:
    """Return the sheets in force of a maker (`maker_of`)."""
    return [row["digest"] for row in catalogue.rows(_OF_MAKER) if maker and fold(row["maker"]) == maker]


def sheets_reached(catalogue: Catalogue, number: int) -> list[str]:
    """Return the sheets in force that an answer reaches beside its own; none for another decision."""
    rows = catalogue.rows("SELECT maker FROM answer WHERE number = ? AND reach = 'maker'", [number])
    return [sheet for row in rows for sheet in sheets_of_maker(catalogue, row["maker"])]


def _read(row: dict[str, Any], prints: Iterable[PrintRead]) -> Answer:
    given = {name: row[name] for name in Given.__slots__ if row[name] is not None}
    given["as_read"] = tuple(row["as_read"] or ())
    names = ("number", "sheet", "reach", "property", "maker", "who", "why", "decided_at", "carried_from")
    return Answer(given=Given(**given), prints=tuple(prints), **{name: row[name] for name in names})


def _read_prints(catalogue: Catalogue, number: int) -> list[PrintRead]:
    rows = catalogue.rows(f"SELECT setting, doubts, {_NAMES} FROM answer_print WHERE number = ?", [number])
    return [
        PrintRead(
            id=row["setting"], columns={name: row[name] for name in COLUMNS}, doubts=frozenset(row["doubts"])
        )
        for row in rows
    ]
