"""Workbooks that cannot be read are refused in one line that says what to do, and cost little."""

from __future__ import annotations

import tracemalloc
import zipfile
from pathlib import Path

import pytest
from sheet_files import ods_parts, ods_row, texts, write_parts, xlsx_parts

from torquary_ingest.errors import SheetRefused
from torquary_ingest.folders import sheets_in
from torquary_ingest.openers.workbook import WorkbookOpener, archive, sheet
from torquary_ingest.plugins import OpenWish
from torquary_ingest.reader import read_sheet

GOOD = f"<sheetData>{texts(1, 'Terminal', 'Torque N·m')}{texts(2, 'Line', '2.5')}</sheetData>"


def refused(path: Path) -> str:
    with pytest.raises(SheetRefused) as caught:
        WorkbookOpener().open(path, OpenWish())
    assert "\n" not in caught.value.message
    assert ":" in caught.value.message  # what, then what to do
    return caught.value.code


def attempt(path: Path) -> str:
    """Return "opened", or the code of the refusal."""
    try:
        WorkbookOpener().open(path, OpenWish())
    except SheetRefused as refusal:
        return refusal.code
    return "opened"


def test_a_part_that_expands_beyond_the_bound_is_refused_unread(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(archive, "LARGEST_PART", 1_000_000)
    parts = xlsx_parts(GOOD + " " * 20_000_000)
    path = write_parts(tmp_path / "bomb.xlsx", parts)
    assert path.stat().st_size < 50_000
    tracemalloc.start()
    assert refused(path) == "sheet_too_large"
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 5_000_000


def test_a_part_whose_header_understates_its_size_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(archive, "LARGEST_PART", 1_000_000)
    path = write_parts(tmp_path / "bomb.xlsx", xlsx_parts(GOOD + " " * 3_000_000))
    raw = path.read_bytes()
    size = len(xlsx_parts(GOOD + " " * 3_000_000)["xl/worksheets/sheet1.xml"].encode())
    assert raw.count(size.to_bytes(4, "little")) == 2
    path.write_bytes(raw.replace(size.to_bytes(4, "little"), (1000).to_bytes(4, "little")))
    assert refused(path) in ("sheet_too_large", "sheet_damaged")


def test_entities_that_multiply_are_not_expanded(tmp_path: Path) -> None:
    doctype = '<!DOCTYPE w [<!ENTITY a "ha">' + "".join(
        f'<!ENTITY {b} "{f"&{a};" * 10}">' for a, b in zip("abcdefgh", "bcdefghi", strict=True)
    )
    parts = xlsx_parts(GOOD)
    parts["xl/worksheets/sheet1.xml"] = (
        doctype + "]>" + parts["xl/worksheets/sheet1.xml"].replace("<t>Line</t>", "<t>&i;</t>")
    )
    path = write_parts(tmp_path / "laughs.xlsx", parts)
    tracemalloc.start()
    outcome = attempt(path)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert outcome in ("opened", "sheet_damaged")
    assert peak < 5_000_000


@pytest.mark.parametrize("place", [("XFD", 1048576), ("ZZ", 90000), ("A", 2_000_001)])
def test_a_cell_far_out_is_refused(tmp_path: Path, place: tuple[str, int]) -> None:
    column, row = place
    far = f'<row r="{row}"><c r="{column}{row}" t="inlineStr"><is><t>x</t></is></c></row>'
    path = write_parts(tmp_path / "far.xlsx", xlsx_parts(f"<sheetData>{texts(1, 'a')}{far}</sheetData>"))
    assert refused(path) == "sheet_too_large"


def test_blank_cells_far_out_cost_nothing(tmp_path: Path) -> None:
    """Formats set far below the table leave blank cells behind."""
    far = '<row r="1048576"><c r="XFD1048576" s="0"/><c r="XFD1048576"><v></v></c></row>'
    path = write_parts(tmp_path / "far.xlsx", xlsx_parts(GOOD.replace("</sheetData>", far + "</sheetData>")))
    assert WorkbookOpener().open(path, OpenWish()).pages


def test_a_cell_that_contradicts_its_row_is_refused(tmp_path: Path) -> None:
    far = '<row r="3"><c r="XFD1048576"><v>1</v></c></row>'
    path = write_parts(tmp_path / "far.xlsx", xlsx_parts(GOOD.replace("</sheetData>", far + "</sheetData>")))
    assert refused(path) == "sheet_damaged"


def test_repeated_cells_of_a_small_ods_are_counted(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sheet, "MOST_CELLS", 5000)
    row = ods_row("x", attributes='table:number-rows-repeated="1000000"')
    path = write_parts(tmp_path / "many.ods", ods_parts(f'<table:table table:name="a">{row}</table:table>'))
    assert refused(path) == "sheet_too_large"


def test_a_merged_cell_over_the_whole_sheet_is_refused(tmp_path: Path) -> None:
    merged = GOOD + '<mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>'
    assert refused(write_parts(tmp_path / "merged.xlsx", xlsx_parts(merged))) == "sheet_too_large"


def test_locked_workbooks_are_named(tmp_path: Path) -> None:
    """A locked .xlsx is an OLE compound file ([MS-OFFCRYPTO] 2.3); a locked .ods says so in its manifest."""
    locked = tmp_path / "locked.xlsx"
    locked.write_bytes(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(2000))
    assert refused(locked) == "sheet_encrypted"
    entry = '<m:file-entry m:full-path="content.xml"><m:encryption-data/></m:file-entry>'
    assert refused(write_parts(tmp_path / "locked.ods", ods_parts("", manifest=entry))) == "sheet_encrypted"
    flagged = write_parts(tmp_path / "flagged.xlsx", xlsx_parts(GOOD))
    raw = flagged.read_bytes().replace(b"PK\x01\x02\x14\x03\x14\x00\x00\x00", b"PK\x01\x02\x14\x03\x14\x00\x01\x00")
    assert raw != flagged.read_bytes()
    flagged.write_bytes(raw)
    assert refused(flagged) == "sheet_encrypted"


def test_damaged_and_foreign_files_are_named(tmp_path: Path) -> None:
    whole = write_parts(tmp_path / "whole.xlsx", xlsx_parts(GOOD)).read_bytes()
    cut = tmp_path / "cut.xlsx"
    cut.write_bytes(whole[: len(whole) // 2])
    assert refused(cut) == "sheet_damaged"
    assert refused(write_parts(tmp_path / "photos.xlsx", {"a.txt": "no workbook"})) == "sheet_unknown_kind"
    missing = xlsx_parts(GOOD)
    del missing["xl/worksheets/sheet1.xml"]
    assert refused(write_parts(tmp_path / "missing.xlsx", missing)) == "sheet_damaged"
    lost = xlsx_parts(GOOD.replace("</row></sheetData>", '<c r="C2" t="s"><v>7</v></c></row></sheetData>'))
    assert refused(write_parts(tmp_path / "lost.xlsx", lost)) == "sheet_damaged"
    bent = xlsx_parts("<sheetData><row>")
    assert refused(write_parts(tmp_path / "bent.xlsx", bent)) == "sheet_damaged"
    assert refused(write_parts(tmp_path / "hidden.xlsx", xlsx_parts(GOOD, state="hidden"))) == "sheet_no_pages"
    assert refused(write_parts(tmp_path / "blank.xlsx", xlsx_parts("<sheetData/>"))) == "sheet_not_a_table"


def test_every_cut_of_a_workbook_opens_or_is_refused(tmp_path: Path) -> None:
    whole = write_parts(tmp_path / "whole.xlsx", xlsx_parts(GOOD)).read_bytes()
    path = tmp_path / "bent.xlsx"
    for at in range(0, len(whole), 37):
        path.write_bytes(whole[:at] + bytes([whole[at] ^ 0x55]) + whole[at + 1 :])
        assert attempt(path) in ("opened", "sheet_damaged", "sheet_encrypted", "sheet_too_large", "sheet_unknown_kind")


def test_a_folder_counts_workbooks_as_sheets(tmp_path: Path) -> None:
    for name in ("a.xlsx", "b.ods", "c.docx"):
        (tmp_path / name).write_bytes(b"")
    assert [path.name for path in sheets_in([tmp_path])] == ["a.xlsx", "b.ods", "c.docx"]


@pytest.mark.filterwarnings("ignore:Duplicate name")
@pytest.mark.parametrize("part", ["xl/worksheets/sheet1.xml", "xl/styles.xml"])
def test_what_is_read_of_a_workbook_with_a_part_twice_is_held(tmp_path: Path, part: str) -> None:
    """One program shows the first of the two, another the last."""
    rows = (
        texts(1, "Main switch QS 63"),
        texts(2, "Terminal", "Conductor mm²", "Tightening torque N·m"),
        texts(3, "L1", "4", "2.5"),
    )
    parts = xlsx_parts(f"<sheetData>{''.join(rows)}</sheetData>")
    path = write_parts(tmp_path / "twice.xlsx", parts)
    assert [setting.state for setting in read_sheet(path).settings] == ["released"]
    with zipfile.ZipFile(path, "a") as packed:
        packed.writestr(part, parts[part].replace("2.5", "9.5"))
    report = read_sheet(path)
    assert [setting.state for setting in report.settings] == ["held"]
    assert any(part in finding.message for finding in report.findings if finding.code == "sheet_damaged")
