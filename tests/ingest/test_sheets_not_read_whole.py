"""A sheet that its time does not suffice for keeps what was read, held, and says which pages were not."""

from __future__ import annotations

import sys
import time
from pathlib import Path
from typing import Any
from unittest.mock import patch

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest import limits, one_sheet
from torquary_ingest.openers.pdf import reading
from torquary_ingest.reader import read_sheet
from torquary_schema import findings
from torquary_schema.values import SheetReport

sys.path.insert(0, str(Path(__file__).parent))
from drawn_sheets import HEADS, draw_table

PAGES = 8
pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="there nothing interrupts a worker with care")


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    """Eight pages, the third without a torque, each other with a terminal of its own."""
    path = tmp_path / "quillhaven.pdf"
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    for page in range(1, PAGES + 1):
        canvas.setFont("Helvetica", 11)
        canvas.drawString(50, 780, "Main switch QS 63")
        if page == 3:
            canvas.drawString(50, 700, "Keep this leaflet with the board, and hand it on with it.")
        else:
            draw_table(canvas, [HEADS, (f"Terminal X{page}", "10", f"{page}.5")])
        canvas.showPage()
    canvas.save()
    return path


@pytest.fixture(autouse=True)
def _system_ends_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(limits, "_kill_at", lambda seconds: None)


def read_within(path: Path, *, left: float, given: float = 40) -> SheetReport:
    """Read a sheet here as a worker would that was given so many seconds, and has so many left."""
    with patch.object(limits, "_time", limits._Time(given=given, end=time.process_time() + left)):
        return read_sheet(path)


def stay_at(page: int) -> Any:
    """Let a page not end by itself."""
    real = reading.read_page

    def read(file: Any, content: Any, number: int, **wishes: Any) -> Any:
        return spin() if number == page else real(file, content, number, **wishes)

    return patch.object(reading, "read_page", read)


def stay_beyond(pages: int) -> Any:
    """Let what is made of more pages than so many not end by itself."""
    real = one_sheet.settle

    def settle(document: Any, *others: Any) -> Any:
        return spin() if len(document.pages) > pages else real(document, *others)

    return patch.object(one_sheet, "settle", settle)


def spin() -> None:
    end = time.monotonic() + 100
    while time.monotonic() < end:
        pass
    raise AssertionError("it was not interrupted")


def told(report: SheetReport) -> list[str]:
    return [finding.message for finding in report.findings if finding.code == "pages_not_read"]


def states(report: SheetReport) -> dict[str, str]:
    return {setting.terminal.printed.split()[-1]: setting.state for setting in report.settings}


def test_a_sheet_that_has_its_time_is_whole(sheet: Path) -> None:
    report = read_within(sheet, left=30)
    assert states(report) == {f"X{page}": "released" for page in range(1, PAGES + 1) if page != 3}
    assert told(report) == []


def test_what_was_read_before_the_time_was_over_is_kept_and_held(sheet: Path) -> None:
    with stay_at(5):
        report = read_within(sheet, left=1)
    assert states(report) == {"X1": "held", "X2": "held", "X4": "held"}
    assert all("pages_not_read" in {finding.code for finding in one.findings} for one in report.settings)
    [message] = told(report)
    assert message == (
        "pages 5–8: not read, for the time for one sheet (40 s) was over; what was read is held until all is read: "
        "load it again, for which it has 600 s, or split the file into smaller ones"
    )


def test_a_page_passed_over_is_not_among_those_not_read(sheet: Path) -> None:
    with stay_at(2):
        report = read_within(sheet, left=1)
    assert "pages 2, 4–8: not read" in told(report)[0]
    assert [f.message.split(":")[0] for f in report.findings if f.code == "pages_passed_over"] == ["page 3"]


def test_fewer_pages_are_made_sense_of_where_the_time_does_not_suffice_for_all(sheet: Path) -> None:
    """Seven pages are parsed; a quarter of them is one."""
    read_within(sheet, left=30)
    with stay_beyond(3):
        report = read_within(sheet, left=2, given=4)
    assert states(report) == {"X1": "held"}
    assert "pages 2, 4–8: not read" in told(report)[0]


def test_a_sheet_of_which_not_even_one_page_is_read_in_time_is_refused_by_name(sheet: Path) -> None:
    for stay in (stay_at(1), stay_beyond(0)):
        with stay:
            report = read_within(sheet, left=0.5, given=0.5)
        assert (report.state, [finding.code for finding in report.findings]) == ("refused", ["sheet_too_slow"])


def test_a_sheet_that_had_the_longer_time_is_not_to_be_loaded_again(sheet: Path) -> None:
    with stay_at(5):
        report = read_within(sheet, left=1, given=limits.SECONDS_AGAIN)
    [message] = told(report)
    assert message.endswith("held until all is read: split the file into smaller ones")


def test_without_the_rule_half_a_sheet_would_give_figures(sheet: Path) -> None:
    def holds(code: str) -> bool:
        return code != "pages_not_read" and findings.holds(code)

    with stay_at(5), patch("torquary_ingest.checks.holds", holds):
        report = read_within(sheet, left=1)
    assert set(states(report).values()) == {"released"}


def test_nothing_is_cut_short_where_nothing_limits_the_time(sheet: Path) -> None:
    with limits.stop_after(0.0):
        assert states(read_sheet(sheet))["X8"] == "released"
