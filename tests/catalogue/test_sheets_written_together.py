"""Sheets that are written together leave the catalogue as it is when each is written by itself."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import ExitStack
from pathlib import Path
from random import Random
from typing import Any

import pytest
from sheets_by_hand import held, report, setting, torque

from torquary_catalogue.decide import Wish, decide
from torquary_catalogue.store import Catalogue, follow, open_catalogue, sheet_words
from torquary_catalogue.store.follow import together
from torquary_catalogue.store.insert import insert_read, load_report
from torquary_catalogue.store.insert_new import NewSheet, load_new
from torquary_catalogue.store.words import refresh_words
from torquary_schema.values import Device, SheetReport

TIMES = ("loaded_at", "decided_at")
TABLES = ("sheet", "setting", "sheet_word", "sheet_count", "decision_record", "finding")


def sheet(number: int, *settings: Any, **parts: Any) -> SheetReport:
    return report(*settings, digest=f"{number:064}", **{"file": f"sheet_{number}.pdf", "title": f"T {number}"} | parts)


def device(name: str) -> dict[str, Any]:
    return {"device": Device(printed=f"Breaker {name}", family="mcb", series="BK", model=name)}


def make_sheets() -> list[SheetReport]:
    """Editions of one title, two sheets of one name, two that disagree, one refused, one alone, one with a held row."""
    editions = [
        sheet(at, setting(f"ed-{at}"), title="Breakers BK 16", edition=f"202{at}-01", document_number="D 1")
        for at in range(1, 4)
    ]
    named = [sheet(at, setting(f"name-{at}", **device(f"N{at}")), file="datasheet.pdf") for at in (4, 5)]
    other = [
        sheet(6, setting("dis-6", **device("X 9"))),
        sheet(7, setting("dis-7", **device("X 9"), torque=torque("3.5", "3.5", "3.5"))),
        sheet(8, state="refused"),
        sheet(9, setting("one-9", **device("Y 9")), held("held-9")),
    ]
    return [*editions, *named, *other]


def write(path: Path, batches: list[list[SheetReport]], *, at_once: bool) -> dict[str, list[Any]]:
    """Write the sheets and return what the catalogue then holds, and what was told of each."""
    told = []
    for batch in batches:
        with open_catalogue(path, writing=True) as opened, ExitStack() as stack:
            refresh_words(opened)
            if at_once:
                stack.enter_context(together(opened))
                new = [NewSheet(report=one) for one in batch]
                written = load_new(opened, new, 1, lambda new: load_report(opened, new.report, reader=1))
            else:
                written = [load_report(opened, one, reader=1) for one in batch]
            for one in written:
                told.append((one.outcome, one.replaced, one.counts, [each.message for each in one.findings]))
        decide_held(path)
    with open_catalogue(path) as opened:
        return {"told": told, **{table: read(opened, table) for table in TABLES}}


def decide_held(path: Path) -> None:
    with open_catalogue(path, writing=True) as opened:
        if opened.rows("SELECT 1 FROM setting WHERE id = 'held-9' AND state = 'held'"):
            decide(opened, [Wish(setting="held-9", verdict="correct", who="Ines", why="seen", torque="2.5 Nm")])


def read(catalogue: Catalogue, table: str) -> list[str]:
    rows = catalogue.rows(f"FROM {table}")
    return sorted(str({name: value for name, value in row.items() if name not in TIMES}) for row in rows)


@pytest.mark.parametrize("seed", range(6))
def test_together_is_as_one_by_one(tmp_path: Path, seed: int) -> None:
    dice = Random(seed)
    sheets = make_sheets()
    dice.shuffle(sheets)
    cut = dice.randrange(1, len(sheets))
    batches = [sheets[:cut], [*sheets[cut:], *dice.sample(sheets, 2)]]
    alone, both = (write(tmp_path / f"{way}.duckdb", batches, at_once=way) for way in (False, True))
    assert alone["setting"]
    for table, rows in alone.items():
        assert both[table] == rows, table


def test_what_one_change_brings_about_is_noted_once(catalogue: Catalogue, monkeypatch: pytest.MonkeyPatch) -> None:
    """A later edition puts the earlier one out of force: the words of both are told in one statement, not in three."""
    noted: list[list[str]] = []
    tell = sheet_words.note_words_of

    def count(opened: Catalogue, sheets: Sequence[str]) -> None:
        noted.append(sorted(sheets))
        tell(opened, sheets)

    first, second, *_ = make_sheets()
    load_report(catalogue, first, reader=1)
    for module in (sheet_words, follow):
        monkeypatch.setattr(module, "note_words_of", count)
    load_report(catalogue, second, reader=1)
    assert noted == [sorted([first.digest, second.digest])]
    assert {row["state"] for row in catalogue.rows("SELECT state FROM sheet")} == {"read", "superseded"}


def test_what_fails_in_the_midst_leaves_nothing_and_the_next_is_noted(catalogue: Catalogue) -> None:
    first = make_sheets()[0]
    with pytest.raises(LookupError):
        load_and_fail(catalogue, first)
    assert catalogue.batch is None
    assert not catalogue.rows("SELECT digest FROM sheet UNION SELECT word FROM sheet_word")
    load_report(catalogue, first, reader=1)
    assert catalogue.rows("SELECT 1 FROM sheet_word WHERE word = 'breaker'")


def load_and_fail(catalogue: Catalogue, one: SheetReport) -> None:
    with follow.at_once(catalogue):
        insert_read(catalogue, [one], 1)
        follow.follow_new(catalogue, one.digest)
        raise LookupError
