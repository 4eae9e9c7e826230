"""One sheet's way, and many sheets each in a process of its own."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from torquary_ingest import one_sheet
from torquary_ingest.document import Document, Reading, Table
from torquary_ingest.errors import NoSheets, SheetRefused
from torquary_ingest.folders import sheets_in
from torquary_ingest.reader import read_sheet, read_sheets, read_tables
from torquary_schema.report import report_to_dict
from torquary_schema.validation import check_report
from torquary_schema.values import Conductor, SheetReport

PLAIN = "Terminal;Conductor (mm²);Torque (N·m)\nL1;1,5–6;2,5\nPE;10;3,0\n"


def write(folder: Path, name: str, text: str | bytes = PLAIN) -> Path:
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    return path


def figures(report: SheetReport) -> list[tuple[str, str, str]]:
    """Return terminal, printed torque and state of each setting, in order."""
    return [(one.terminal.printed, one.torque.printed if one.torque else "", one.state) for one in report.settings]


def codes(report: SheetReport) -> list[str]:
    return [finding.code for finding in report.findings]


def test_a_plain_sheet_gives_its_settings(tmp_path: Path) -> None:
    report = read_sheet(write(tmp_path, "plain.csv"))
    assert (report.file, report.state, report.pages) == ("plain.csv", "read", 1)
    assert figures(report) == [("L1", "2,5", "released"), ("PE", "3,0", "released")]
    assert check_report({"sheets": [report_to_dict(report)]}) == ()


def test_the_digest_is_that_of_the_bytes(tmp_path: Path) -> None:
    # The SHA-256 of "abc" is the example of FIPS 180-2, appendix B.1.
    report = read_sheet(write(tmp_path, "abc.csv", "abc"))
    assert report.digest == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_a_sheet_read_twice_gives_the_same_report(tmp_path: Path) -> None:
    path = write(tmp_path, "plain.csv")
    assert read_sheet(path) == read_sheet(path)


def test_sheets_read_apart_are_what_they_are_read_here(tmp_path: Path) -> None:
    paths = [write(tmp_path, "a.csv"), write(tmp_path, "b.csv", PLAIN.replace("2,5", "2,8"))]
    assert list(read_sheets(paths)) == [read_sheet(path) for path in paths]


def test_the_other_sheets_go_on_when_one_is_refused(tmp_path: Path) -> None:
    paths = [write(tmp_path, "empty.pdf", b""), write(tmp_path, "plain.csv"), tmp_path / "missing.pdf"]
    reports = list(read_sheets(paths, jobs=2))
    assert [(one.file, one.state) for one in reports] == [
        ("empty.pdf", "refused"),
        ("plain.csv", "read"),
        ("missing.pdf", "refused"),
    ]
    assert codes(reports[0]) == ["sheet_empty"]
    assert codes(reports[2]) == ["sheet_unreachable"]
    assert reports[2].digest == ""


def test_a_sheet_that_takes_too_long_is_refused_by_name(tmp_path: Path) -> None:
    [report] = read_sheets([write(tmp_path, "plain.csv")], seconds=0.0)
    assert (report.file, report.state, codes(report)) == ("plain.csv", "refused", ["sheet_too_slow"])
    assert len(report.digest) == 64


def test_a_sheet_without_a_torque_says_so(tmp_path: Path) -> None:
    report = read_sheet(write(tmp_path, "parts.csv", "Article;Colour;Weight (g)\nA1;grey;120\nA2;white;130\n"))
    assert report.settings == ()
    assert {"sheet_no_settings", "sheet_not_a_table"} & set(codes(report))


class Fake:
    """An extractor for one test."""

    def __init__(self, name: str, readings: Any = (), *, specific: bool = True) -> None:
        self.name = name
        self.specific = specific
        self.given = readings

    def recognises(self, document: Document) -> bool:
        return True

    def readings(self, document: Document, tables: tuple[Table, ...]) -> Iterable[Reading]:
        yield from self.given
        if self.name == "crash":
            raise RuntimeError("half way")


def install(monkeypatch: pytest.MonkeyPatch, *extra: Fake) -> None:
    real = one_sheet.choose_extractors

    def choose(document: Document) -> Any:
        ours, findings = real(document)
        return (*extra, *ours), findings

    monkeypatch.setattr(one_sheet, "choose_extractors", choose)


def test_a_layout_of_its_own_answers_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    install(monkeypatch, Fake("silent"))
    assert read_sheet(write(tmp_path, "plain.csv")).settings == ()


def test_an_extractor_that_stops_half_way_gives_nothing_and_the_others_go_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = write(tmp_path, "plain.csv")
    plain = read_sheet(path)
    install(monkeypatch, Fake("crash", specific=True))
    report = read_sheet(path)
    assert report.settings == plain.settings
    assert codes(report) == ["extractor_crashed"]
    assert "crash stopped (RuntimeError: half way)" in report.findings[0].message


def test_an_extractor_that_gives_something_else_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    install(monkeypatch, Fake("odd", ["2.5 N·m"]))
    [finding] = read_sheet(write(tmp_path, "plain.csv")).findings
    assert (finding.code, "a str where a Reading belongs" in finding.message) == ("extractor_crashed", True)


def test_a_record_that_does_not_fit_the_schema_is_held(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = one_sheet.settle

    def settle(*arguments: Any) -> Any:
        settings, findings = real(*arguments)
        return tuple(replace(one, conductor=Conductor(count=-1)) for one in settings), findings

    monkeypatch.setattr(one_sheet, "settle", settle)
    report = read_sheet(write(tmp_path, "plain.csv"))
    assert {one.state for one in report.settings} == {"held"}
    assert all("record_invalid" in [finding.code for finding in one.findings] for one in report.settings)


def test_the_tables_of_a_file_are_given_as_they_stand(tmp_path: Path) -> None:
    findings, [table] = read_tables(write(tmp_path, "plain.csv"))
    assert findings == ()
    assert (table.page, table.number, table.rows, table.columns) == (1, 1, 3, 3)
    assert [cell.text for cell in table.cells if cell.row == 2] == ["L1", "1,5–6", "2,5"]


def test_a_file_whose_tables_cannot_be_read_is_a_finding(tmp_path: Path) -> None:
    [finding], tables = read_tables(write(tmp_path, "empty.pdf", b""))
    assert (finding.code, tables) == ("sheet_empty", ())


def test_a_folder_is_searched_through_and_through(tmp_path: Path) -> None:
    wanted = [
        write(tmp_path, "a.csv"),
        write(tmp_path, "b.pdf", b""),
        write(tmp_path, "manual.docx", bytes(range(256))),
        write(tmp_path, "below/deeper/c.csv"),
    ]
    write(tmp_path, "notes.md", bytes(range(256)))
    write(tmp_path, ".hidden.csv")
    write(tmp_path, ".git/d.csv")
    assert list(sheets_in([tmp_path])) == wanted


def test_a_file_named_twice_is_read_once(tmp_path: Path) -> None:
    path = write(tmp_path, "a.csv")
    assert sheets_in([path, tmp_path, str(path)]) == (path,)


def test_a_folder_without_sheets_is_named(tmp_path: Path) -> None:
    write(tmp_path, "notes.md", bytes(range(256)))
    with pytest.raises(NoSheets, match="no datasheet in this folder") as error:
        sheets_in([tmp_path])
    assert str(tmp_path) in error.value.message


def test_a_path_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(NoSheets, match=r"nowhere.*no such file"):
        sheets_in([tmp_path / "nowhere"])


def test_a_refusal_says_what_and_what_to_do() -> None:
    refused = SheetRefused("sheet_empty", "the file has no bytes: get it again")
    assert (str(refused), refused.code) == ("the file has no bytes: get it again", "sheet_empty")
