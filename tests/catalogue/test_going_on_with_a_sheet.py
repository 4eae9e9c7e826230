"""A sheet that was not read whole: its figures are held, `find` says so, and the next load reads it with more time."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from sheets_by_hand import report, setting

from torquary_catalogue.decide import Wish, decide
from torquary_catalogue.find import find, read_question
from torquary_catalogue.load import Summary, load_sheets
from torquary_catalogue.show.notice import write_notice
from torquary_catalogue.store import open_catalogue
from torquary_ingest.errors import SheetRefused
from torquary_ingest.limits import SECONDS, SECONDS_AGAIN
from torquary_ingest.reader import ReadSheet
from torquary_ingest.refusal import refuse_sheet, take_digest
from torquary_schema.values import Finding, SheetReport

UNREAD = Finding(
    code="pages_not_read", scope="sheet", message="pages 2–9: not read, for the time was over: load it again"
)
WHOLE = report(setting("one-1"), setting("two-2"))
PART = report(
    setting("one-1", state="held", findings=(replace(UNREAD, scope="setting"),)), findings=(UNREAD,)
)
TOO_SLOW = SheetRefused("sheet_too_slow", "reading took longer than 50 s and was stopped")


class Reader:
    """Reads a sheet in part at first, and whole where it has more time; keeps what time it was given."""

    def __init__(self, first: SheetReport | None) -> None:
        self.first = first
        self.given: list[float] = []

    def __call__(self, paths: Sequence[Path], *, seconds: float, **wishes: Any) -> Iterator[ReadSheet]:
        for path in paths:
            self.given.append(seconds)
            read = self.first or refuse_sheet(path, TOO_SLOW)
            read = WHOLE if seconds > SECONDS else read
            yield ReadSheet(report=replace(read, file=path.name, digest=take_digest(path)))


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    path = tmp_path / "harbour_breakers.pdf"
    path.write_bytes(b"%PDF-1.4 stands for a long one")
    return path


def load(sheet: Path, reader: Reader, monkeypatch: pytest.MonkeyPatch, **wishes: Any) -> Summary:
    monkeypatch.setattr("torquary_ingest.reader.read_pictured_sheets", reader)
    return load_sheets(sheet.with_name("quay.duckdb"), [sheet], **wishes)


def ask(sheet: Path, words: str) -> str:
    with open_catalogue(sheet.with_name("quay.duckdb")) as opened:
        notice = write_notice(find(opened, read_question(opened, words)))
    shown = [text for block in notice.blocks for line in block.lines for text in line]
    large = (block.large for block in notice.blocks)
    return "\n".join((notice.headline, *notice.said_first, *large, *shown, *notice.notes))


def test_what_was_read_of_it_is_held_and_find_says_what_was_not(sheet: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    summary = load(sheet, Reader(PART), monkeypatch)
    assert (summary.sheets[0].counts.released, summary.sheets[0].counts.held) == (0, 1)
    asked = ask(sheet, "BK-16 outgoing 10mm2")
    assert "Held" in asked
    assert "pages 2–9: not read" in asked
    for unknown in ("BK-16 neutral", "BX-99 outgoing"):
        assert "harbour_breakers.pdf was not read whole, and what else it prints is not known" in ask(sheet, unknown)


def test_the_next_load_gives_it_more_time_and_the_rows_of_a_whole_reading(
    sheet: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    reader = Reader(PART)
    counts = [load(sheet, reader, monkeypatch).sheets[0].counts for _ in range(3)]
    assert reader.given == [SECONDS, SECONDS_AGAIN]
    assert [(one.released, one.held) for one in counts] == [(0, 1), (2, 0), (0, 0)]
    assert "not read" not in ask(sheet, "BX-99 outgoing")


def test_a_sheet_refused_for_its_time_is_read_again_with_more(sheet: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    reader = Reader(None)
    outcomes = [load(sheet, reader, monkeypatch).sheets[0].outcome for _ in range(2)]
    assert (reader.given, outcomes) == ([SECONDS, SECONDS_AGAIN], ["refused", "loaded"])


def test_a_figure_that_a_person_took_from_it_still_says_that_it_is_not_whole(
    sheet: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    load(sheet, Reader(PART), monkeypatch)
    with open_catalogue(sheet.with_name("quay.duckdb"), writing=True) as opened:
        decide(opened, [Wish(setting="one-1", verdict="accept", who="Ines", why="seen on paper")])
    asked = ask(sheet, "BK-16 outgoing 10mm2")
    assert "2.5 N·m" in asked
    assert "pages 2–9: not read" in asked


def test_a_sheet_that_a_person_withdrew_is_not_gone_on_with(sheet: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from torquary_catalogue.decide.sheet_decision import withdraw_sheet

    reader = Reader(PART)
    load(sheet, reader, monkeypatch)
    with open_catalogue(sheet.with_name("quay.duckdb"), writing=True) as opened:
        withdraw_sheet(opened, "harbour_breakers.pdf", who="Ines", why="another one is used")
    load(sheet, reader, monkeypatch)
    assert reader.given == [SECONDS]
