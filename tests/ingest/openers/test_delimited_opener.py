"""Delimited files become tables: rows kept, lines about them kept apart, doubts where rows may be wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from torquary_ingest.document import Document, Table
from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.delimited import DelimitedOpener, reading
from torquary_ingest.plugins import Opener, OpenWish


@pytest.fixture
def read(tmp_path: Path):  # type: ignore[no-untyped-def]
    def read_text(text: str | bytes, name: str = "sheet.csv") -> Document:
        path = tmp_path / name
        path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
        return DelimitedOpener().open(path, OpenWish())

    return read_text


def rows(table: Table) -> list[list[str]]:
    grid = [["" for _ in range(table.columns)] for _ in range(table.rows)]
    for cell in table.cells:
        grid[cell.row - 1][cell.column - 1] = cell.text
    return grid


def doubts(table: Table) -> dict[int, set[str]]:
    found: dict[int, set[str]] = {}
    for cell in table.cells:
        if cell.doubts:
            found.setdefault(cell.row, set()).update(doubt.code for doubt in cell.doubts)
    return found


def only_table(document: Document) -> Table:
    tables = document.pages[0].tables
    assert tables is not None
    assert len(tables) == 1
    return tables[0]


def test_the_opener_fits_the_seam(tmp_path: Path) -> None:
    assert isinstance(DelimitedOpener(), Opener)
    assert DelimitedOpener().recognises(tmp_path / "a.CSV", b"A;B\n")
    assert not DelimitedOpener().recognises(tmp_path / "a.csv", b"%PDF-1.7")
    assert not DelimitedOpener().recognises(tmp_path / "a.pdf", b"A;B\n")


@pytest.mark.parametrize("delimiter", ["\t", ";", "|"])
def test_decimal_commas_are_not_delimiters(read, delimiter: str) -> None:
    lines = [
        ["Klemme", "von mm²", "bis mm²", "Nm"],
        ["X1", "0,5", "2,5", "0,6"],
        ["X2", "0,75", "10", "1,25"],
    ]
    table = only_table(read("\r\n".join(delimiter.join(line) for line in lines)))
    assert rows(table) == lines


def test_commas_between_whole_numbers_are_delimiters(read) -> None:
    table = only_table(read("Terminal,mm2,Nm\n1,4,1\n2,10,3\n3,16,4\n"))
    assert rows(table)[2] == ["2", "10", "3"]


def test_a_stated_separator_is_obeyed(read) -> None:
    table = only_table(read("sep=^\r\nTerminal^Torque Nm\r\nL1^2,5\r\n"))
    assert rows(table) == [["Terminal", "Torque Nm"], ["L1", "2,5"]]


def test_columns_parted_by_blanks_are_told(read) -> None:
    table = only_table(
        read("Terminal      Conductor mm2   Torque Nm\nLine in       6               2.0\nN  4  1.2\n", "a.txt")
    )
    assert rows(table) == [
        ["Terminal", "Conductor mm2", "Torque Nm"],
        ["Line in", "6", "2.0"],
        ["N", "4", "1.2"],
    ]


def test_a_table_drawn_with_pipes_and_dashes_is_told(read) -> None:
    text = "| Terminal | Torque Nm |\n|-------|-------:|\n| L1    | 2.0 |\n| N | 1.2 |\n"
    table = only_table(read(text))
    assert rows(table) == [["Terminal", "Torque Nm"], ["L1", "2.0"], ["N", "1.2"]]


def test_quoted_line_breaks_delimiters_and_doubled_quotes_stay_in_their_cell(read) -> None:
    text = 'Terminal;Torque Nm;Remark\r\n"T1;\r\nT2";"1,2";"use ""long"" bit;\r\ntwice"\r\nN;1,2;\r\n'
    assert rows(only_table(read(text)))[1:] == [
        ["T1;\nT2", "1,2", 'use "long" bit;\ntwice'],
        ["N", "1,2", ""],
    ]


def test_lines_quoted_whole_are_unwrapped(read) -> None:
    table = only_table(read('"Terminal,mm2,Torque Nm"\n"L1,6,2.0"\n"N,4,1.2"\n'))
    assert rows(table)[1] == ["L1", "6", "2.0"]


@pytest.mark.parametrize(
    "text",
    [
        'Terminal;Tool;Torque lb-in\nA;1/4" slot;20\nB;"3/16 slot;12\nC;hex;35\nD;slot;7\n',
        'Terminal;Tool;Torque lb-in\nA;1/4" slot;20\nB;"3/16 slot;12\nC;5/16" hex;35\nD;slot;7\n',
        'Terminal;Tool;Torque lb-in\nA;1/4" slot;20\nB;"3/16 slot;12\nC;5/16";35\nD;slot;7\n',
    ],
    ids=["never closed", "closed amid text", "closed before a delimiter"],
)
def test_a_stray_quote_swallows_no_row(read, text: str) -> None:
    document = read(text)
    table = only_table(document)
    assert [row[0] for row in rows(table)] == ["Terminal", "A", "B", "C", "D"]
    assert [row[2] for row in rows(table)][1:] == ["20", "12", "35", "7"]
    found = doubts(table)
    assert 2 not in found
    assert all("quote_unbalanced" in found[row] for row in (3, 4, 5))
    assert [f.code for f in document.pages[0].findings] == ["quote_unbalanced"]


def test_preamble_comments_and_footer_are_no_rows(read) -> None:
    text = (
        "Vintrel Switchgear;;\nprinted;2031-02-03;\n# driver 4 mm;;\n;;\n"
        "Terminal;mm²;Torque cN·m\nK1;4;120\n;;\n# coil terminals;;\nTerminal;mm²;Torque N·m\nA1;1,5;0,8\n;;\n"
        "Values hold for copper conductors of classes 1,5 to 10;;\n"
    )
    first, second = read(text).pages[0].tables
    assert rows(first) == [["Terminal", "mm²", "Torque cN·m"], ["K1", "4", "120"]]
    assert rows(second) == [["Terminal", "mm²", "Torque N·m"], ["A1", "1,5", "0,8"]]
    assert first.caption == ("Vintrel Switchgear", "printed: 2031-02-03", "driver 4 mm")
    assert second.caption[-1] == "coil terminals"
    assert second.below == ("Values hold for copper conductors of classes 1,5 to 10",)


def test_a_second_heading_without_a_gap_begins_a_table_of_its_own(read) -> None:
    first, second = read("Terminal,mm2,Torque Nm\nL,6,2.0\nTerminal,mm2,Torque lb-in\nM,6,18\n").pages[0].tables
    assert rows(first)[1] == ["L", "6", "2.0"]
    assert rows(second) == [["Terminal", "mm2", "Torque lb-in"], ["M", "6", "18"]]


def test_blank_rows_and_columns_between_rows_are_spacers(read) -> None:
    table = only_table(read("Terminal;;mm2;;Torque Nm\nL;;6;;2,0\n;;;;\nN;;4;;1,2\n"))
    assert rows(table) == [["Terminal", "mm2", "Torque Nm"], ["L", "6", "2,0"], ["N", "4", "1,2"]]
    assert doubts(table) == {}


def test_a_section_line_amid_the_rows_stays_in_its_place(read) -> None:
    table = only_table(read("Terminal;mm2;Torque\nL;6;2,0\nTorque in lb-in;;\nN;4;12\n"))
    assert [row[0] for row in rows(table)] == ["Terminal", "L", "Torque in lb-in", "N"]


def test_units_row_and_twofold_headings_stay_rows(read) -> None:
    text = "Terminal,Conductor,Torque,Torque\n,mm²,N·m,lb·in\n1-3,6,1.2,10.6\nA1,1.5,,7\n"
    assert rows(only_table(read(text))) == [line.split(",") for line in text.splitlines()]


def test_trailing_delimiters_make_no_column(read) -> None:
    table = only_table(read("Terminal,mm2,Torque Nm\nL,6,2.0,\nN,4,1.2,,\n"))
    assert table.columns == 3
    assert doubts(table) == {}


def test_a_row_with_a_cell_too_many_is_doubted_and_its_cells_kept(read) -> None:
    table = only_table(read("Terminal,mm2,Torque Nm\nL,6,2.0\nN,1,5,1.2\nPE,10,2.5\n"))
    assert rows(table)[2] == ["N", "1", "5", "1.2"]
    assert doubts(table) == {3: {"table_shifted"}}


def test_a_row_with_a_cell_too_few_is_doubted(read) -> None:
    table = only_table(read("Terminal,mm2,Torque Nm\nL,6,2.0\nN,1.2\nPE,10,2.5\n"))
    assert doubts(table) == {3: {"table_shifted"}}


@pytest.mark.parametrize(
    "text",
    [
        "Terminal,mm2,Torque Nm\n,L,6,2.0\n,PE,10,2.5\n",
        "Terminal,mm2,Torque Nm,Remark\n,L,6,2.0,\n,PE,10,2.5,top\n",
        "Terminal,mm2,Torque Nm\n0,L,6,2.0\n1,PE,10,2.5\n",
    ],
)
def test_rows_that_all_begin_with_a_cell_too_many_are_moved_back_and_doubted(read, text: str) -> None:
    table = only_table(read(text))
    assert [row[:3] for row in rows(table)[1:]] == [["L", "6", "2.0"], ["PE", "10", "2.5"]]
    assert doubts(table) == {2: {"table_shifted"}, 3: {"table_shifted"}}


def test_numbers_of_terminals_are_no_numbers_of_rows(read) -> None:
    table = only_table(read("Terminal,mm2,Torque Nm\n1,6,2.0,9\n2,10,2.5,9\n"))
    assert [row[:3] for row in rows(table)[1:]] == [["1", "6", "2.0"], ["2", "10", "2.5"]]


def test_a_row_that_only_lacks_its_remark_is_not_doubted(read) -> None:
    table = only_table(read("Terminal,mm2,Torque Nm,Remark\nL,6,2.0,top\nN,4,1.2\nPE,10,2.5,left\n"))
    assert doubts(table) == {}


def test_an_unquoted_decimal_comma_in_a_comma_file_shifts_every_row(read) -> None:
    table = only_table(read("Terminal,Size mm2,Torque Nm\nL,2,5,1,2\nN,1,5,0,8\n"))
    assert doubts(table) == {2: {"table_shifted"}, 3: {"table_shifted"}}


def test_nul_bytes_show_and_cast_doubt_on_their_row_only(read) -> None:
    table = only_table(read(b"Terminal,mm2,Nm\nM8,35,12\x00.5\nX1,4,1.2\n"))
    assert rows(table)[1] == ["M8", "35", "12\\0.5"]
    assert [(c.text, [d.code for d in c.doubts]) for c in table.cells if c.doubts] == [
        ("M8", ["sheet_damaged"]), ("35", ["sheet_damaged"]), ("12\\0.5", ["sheet_damaged", "nul_byte"])
    ]  # fmt: skip


def test_text_a_spreadsheet_would_run_and_leading_noughts_stay_as_they_are(read) -> None:
    text = "Terminal,Article,Torque Nm\n=1+1,007,1.2\n+24V,07,0.6\n-24V,7,0.6\n@X1,0,0.8\n"
    assert rows(only_table(read(text))) == [line.split(",") for line in text.splitlines()]


def test_dates_stay_text(read) -> None:
    assert rows(only_table(read("Terminal,mm2,Nm\n1,2.5,2-Mar\n2,10-Apr,1.2\n")))[1:] == [
        ["1", "2.5", "2-Mar"],
        ["2", "10-Apr", "1.2"],
    ]


def test_raised_marks_part_from_figures_but_not_from_units(read) -> None:
    table = only_table(read("Terminal;mm²;N·m\nL¹;6;2,5²\n1) top;;\n"))
    texts = {(c.row, c.column): (c.text, [m.text for m in c.marks]) for c in table.cells}
    assert texts[1, 2] == ("mm²", [])
    assert texts[2, 1] == ("L", ["1"])
    assert texts[2, 3] == ("2,5", ["2"])
    assert table.below == ("1) top",)


def test_a_key_and_value_list_is_one_table(read) -> None:
    table = only_table(read("Device;Main switch\nRated current;63 A\nConductor;6-25 mm²\nTorque;2,5 N·m\n"))
    assert rows(table)[-1] == ["Torque", "2,5 N·m"]
    assert table.rows == 4


def test_measures_above_the_first_heading_are_not_lost(read) -> None:
    tables = read("Torque;2,5 N·m\nConductor;6 mm²\n\nTerminal;mm²;Torque N·m\nA;4;1,2\n").pages[0].tables
    assert any("2,5 N·m" in row for table in tables for row in rows(table))


@pytest.mark.parametrize(
    ("content", "code"),
    [(b"", "sheet_empty"), (b"\r\n \r\n", "sheet_empty"), (b"one line of prose\n", "sheet_not_a_table")],
)
def test_files_without_a_table_are_refused_by_name(read, content: bytes, code: str) -> None:
    with pytest.raises(SheetRefused) as refused:
        read(content)
    assert refused.value.code == code


def test_a_file_too_large_is_refused(read, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reading, "LARGEST_BYTES", 1000)
    with pytest.raises(SheetRefused) as refused:
        read("a;b\n" * 300)
    assert refused.value.code == "sheet_too_large"


def test_tables_side_by_side_are_parted(read) -> None:
    text = "Terminal;Torque Nm;;Terminal;Torque lb-in\nL;2,0;;A1;7\nN;1,2;;A2;7\nPE;2,5;;;\n"
    left, right = read(text).pages[0].tables
    assert rows(left) == [["Terminal", "Torque Nm"], ["L", "2,0"], ["N", "1,2"], ["PE", "2,5"]]
    assert rows(right) == [["Terminal", "Torque lb-in"], ["A1", "7"], ["A2", "7"]]


def test_a_note_cut_by_commas_is_no_row(read) -> None:
    table = only_table(read("Terminal,mm2,Nm\nL,6,2.0\nN,4,1.2 1)\n\n1) for fine strands, 1.0 Nm only\n"))
    assert table.rows == 3
    assert table.below == ("1) for fine strands; 1.0 Nm only",)


def test_a_last_row_that_begins_with_a_range_is_no_note(read) -> None:
    document = read("mm²;Terminal;Torque N·m\n2.5 - 16;L1;20\n0.75 - 4;protective earth;\n")
    [only] = document.pages[0].tables
    assert (only.rows, only.below) == (3, ())


def test_last_rows_that_are_left_with_their_terminal_are_rows(read) -> None:
    text = "Terminal;mm²;Torque N·m\nL1;2.5;2\nL2;;\nneutral;;\n"
    [only] = read(text).pages[0].tables
    assert (only.rows, only.below) == (4, ())
    [only] = read(text + "\nL1;;\n").pages[0].tables
    assert (only.rows, only.below) == (4, ("L1",))
