"""Histories of an office for tests: sheets in editions, readers that read them otherwise, and what people do."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from sheets_by_hand import mm2, report, setting, torque

from torquary_catalogue.decide import AnswerWish, Wish, decide
from torquary_catalogue.decide.added import Missed, add_row
from torquary_catalogue.decide.sheet_decision import (
    correct_sheet,
    keep_beside,
    replace_sheet,
    restore_sheet,
    withdraw_sheet,
)
from torquary_catalogue.decide.undo import undo
from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.answers import Given, Reach
from torquary_catalogue.store.insert import load_report
from torquary_catalogue.store.record import PROGRAM, Made, read_made
from torquary_schema.values import Device, Finding, Missing, Place, ScopeText, Setting, SheetReport, Terminal

WHO = {"who": "Ines", "why": "seen"}
DOUBT = Finding(code="units_disagree", message="Two units disagree.")
NAMELESS = (
    Finding(code="terminal_missing", message="nothing printed says which terminal this is for"),
    Finding(code="witnessed", message="the picture of the page agrees"),
)
TERMINALS = ("L1", "N", "PE", "")
"""The last is one whose name nothing printed says."""
GIVEN, ADDED = "A1", "A2"
"""Terminals that an answer names, and that a person adds."""
SHEETS = tuple((document, edition) for document in "ab" for edition in (3, 4, 5))
READERS = (1, 2, 3)


def digest_of(sheet: tuple[str, int]) -> str:
    return f"{sheet[0]}{sheet[1]}" * 32


def read(sheet: tuple[str, int], reader: int) -> SheetReport:
    """What a reader reads of a sheet. Editions differ for L1; PE is doubtful, and a figure lacks its terminal.

    Reader 2 gives other ids; reader 3 reads N otherwise, doubts it, and does not see PE.
    """
    document, edition = sheet
    rows = [_read_row(sheet, reader, at, name) for at, name in enumerate(TERMINALS, 1)]
    return report(
        *(row for row in rows if row is not None),
        digest=digest_of(sheet), file=f"{document}_{edition}.pdf", title=f"Breaker {document.upper()} 16",
        maker="Quillhaven", document_number=f"QH-1064{document}", edition=f"Edition {edition}",
    )  # fmt: skip


def _read_row(sheet: tuple[str, int], reader: int, at: int, name: str) -> Setting | None:
    document, edition = sheet
    if reader == 3 and name == "PE":
        return None
    printed = f"{edition}.5" if name == "L1" else f"{at}.2"
    one = setting(
        f"{document}{edition}-{name}-{1 if reader == 1 else reader}",
        device=Device(printed=f"Breaker {document.upper()} 16"),
        terminal=Terminal(printed=name), torque=torque(printed, printed, printed),
        place=Place(page=1, table=1, row=at, column=3, text=f"{name} {printed}"), conductor=mm2("1.5", "6"),
    )  # fmt: skip
    if name == "PE":
        return replace(one, state="held", findings=(DOUBT,))
    if not name:
        return replace(
            one, state="held", findings=NAMELESS, missing=(Missing(field="terminal", looked="Mz."),),
            scope=(ScopeText(kind="heading", text="Tightening torque N·m"),),
        )  # fmt: skip
    if reader == 3 and name == "N":
        return replace(one, conductor=mm2("1.5", "4"), state="held", findings=(DOUBT,))
    return one


@dataclass(frozen=True)
class Step:
    """One thing that is done: `deed` names a function of DEEDS, `at` chooses what to do it with."""

    deed: str
    at: int
    more: int = 0


class History:
    """A catalogue with what happens to it; the reader of today is part of it."""

    def __init__(self, catalogue: Catalogue) -> None:
        self.catalogue = catalogue
        self.reader = 1
        self.loaded: list[tuple[str, int]] = []

    def do(self, step: Step) -> None:
        """Do a step; what cannot be done changes nothing."""
        before = everything(self.catalogue)
        try:
            DEEDS[step.deed](self, step)
        except TorquaryError:
            assert everything(self.catalogue) == before

    def load(self, step: Step) -> None:
        sheet = SHEETS[step.at % len(SHEETS)]
        if sheet not in self.loaded:
            self.loaded.append(sheet)
        load_report(self.catalogue, read(sheet, self.reader), again=True, reader=self.reader)

    def better_reader(self, step: Step) -> None:
        self.reader = READERS[step.at % len(READERS)]

    def decide(self, step: Step) -> None:
        rows = self.catalogue.rows("SELECT id FROM current_setting ORDER BY sheet, number")
        if rows:
            wishes: tuple[dict[str, Any], ...] = (
                {"verdict": "accept"}, {"verdict": "reject"}, {"verdict": "reopen"},
                {"verdict": "correct", "torque": "1.1 Nm"}, {"verdict": "correct", "terminal": "L7"},
                {"verdict": "correct", "conductor": "10 mm²", "torque": "0.9 Nm"},
            )  # fmt: skip
            wish = wishes[step.more % len(wishes)]
            decide(self.catalogue, [Wish(setting=rows[step.at % len(rows)]["id"], **WHO, **wish)])

    def answer(self, step: Step) -> None:
        """Say of which terminal the figure without one is, or that none of the list is to be used."""
        rows = self.catalogue.rows("SELECT id FROM current_setting WHERE state = 'held' ORDER BY sheet, number")
        reaches: tuple[Reach, ...] = ("list", "maker", "sheet", "reading")
        given = Given(rejects=True) if step.more % 5 == 4 else Given(terminal=GIVEN)
        if rows:
            wish = {"setting": rows[step.at % len(rows)]["id"], "given": given, "reach": reaches[step.more % 4]}
            decide(self.catalogue, [AnswerWish(**WHO, **wish)])

    def add(self, step: Step) -> None:
        row = {"page": 1, "device": "Breaker", "terminal": ADDED, "torque": "0.7 Nm", "conductor": None}
        add_row(self.catalogue, Missed(sheet=digest_of(SHEETS[step.at % len(SHEETS)]), **row, **WHO))

    def undo(self, step: Step) -> None:
        made = [one for one in read_made(self.catalogue) if one.stands]
        if made:
            undo(self.catalogue, made[step.at % len(made)].number, **WHO)

    def withdraw(self, step: Step) -> None:
        withdraw_sheet(self.catalogue, digest_of(SHEETS[step.at % len(SHEETS)]), **WHO)

    def restore(self, step: Step) -> None:
        restore_sheet(self.catalogue, digest_of(SHEETS[step.at % len(SHEETS)]), **WHO)

    def correct(self, step: Step) -> None:
        given = ({"edition": "Edition 9"}, {"document_number": "X-99999"}, {"maker": "Grobnickel"}, {"edition": ""})
        sheet = digest_of(SHEETS[step.at % len(SHEETS)])
        correct_sheet(self.catalogue, sheet, given[step.more % len(given)], **WHO)

    def take_place(self, step: Step) -> None:
        replace_sheet(self.catalogue, *self._two(step), **WHO)

    def stay_beside(self, step: Step) -> None:
        keep_beside(self.catalogue, *self._two(step), **WHO)

    def _two(self, step: Step) -> tuple[str, str]:
        return digest_of(SHEETS[step.at % len(SHEETS)]), digest_of(SHEETS[step.more % len(SHEETS)])


DEEDS: dict[str, Callable[[History, Step], None]] = {
    "load": History.load, "better reader": History.better_reader, "decide": History.decide, "undo": History.undo,
    "answer": History.answer, "add": History.add,
    "withdraw": History.withdraw, "restore": History.restore, "correct": History.correct,
    "take the place": History.take_place, "stay beside": History.stay_beside,
}  # fmt: skip


def figures(catalogue: Catalogue) -> dict[tuple[str, str], list[tuple[str, str, str | None]]]:
    """(Sheet, terminal) → state, conductor and figure of what is in force, whatever ids and times are."""
    found: dict[tuple[str, str], list[tuple[str, str, str | None]]] = {}
    rows = catalogue.rows("SELECT sheet, terminal_printed, state, conductor_printed, max_nm FROM current_setting")
    for row in rows:
        figure = None if row["max_nm"] is None else f"{row['max_nm'].normalize():f}"
        key = (row["sheet"][:2], row["terminal_printed"])
        found.setdefault(key, []).append((row["state"], row["conductor_printed"], figure))
    return {key: sorted(values, key=str) for key, values in found.items()}


def everything(catalogue: Catalogue) -> tuple[object, ...]:
    """All that a step that fails must leave alone."""
    tables = (
        "sheet", "setting", "finding", "decision", "decision_record", "name_given", "name_read", "row_added", "answer",
        "answer_print",
    )  # fmt: skip
    return tuple(sorted(map(str, catalogue.rows(f"FROM {table}"))) for table in tables)


def standing_by(catalogue: Catalogue, who: str) -> list[Made]:
    return [one for one in read_made(catalogue) if one.stands and one.who == who and one.who != PROGRAM]
