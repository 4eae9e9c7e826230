"""A saved web page is read as it shows: spans, hidden and struck parts, captions, raised marks, prose."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from torquary_ingest.document import Document, Table
from torquary_ingest.openers.web_page import WebPageOpener
from torquary_ingest.plugins import OpenWish
from torquary_ingest.reader import read_sheet
from torquary_ingest.skeleton import make_skeleton
from torquary_schema.values import SheetReport

HEAD = "<tr><th>Terminal<th>Conductor mm²<th>Torque N·m</tr>"
Write = Callable[[str], Path]


@pytest.fixture
def write(tmp_path: Path) -> Write:
    def write_page(body: str) -> Path:
        path = tmp_path / "qx.html"
        head = '<!DOCTYPE html><html><head><meta charset="utf-8"></head>'
        path.write_text(f"{head}<body>{body}</body></html>", encoding="utf-8")
        return path

    return write_page


def open_page(path: Path) -> Document:
    return WebPageOpener().open(path, OpenWish())


def only_table(path: Path) -> Table:
    [table] = open_page(path).pages[0].tables or ()
    return table


def rows_of(table: Table) -> list[list[str]]:
    return [[cell.text for cell in table.cells if cell.row == row] for row in range(1, table.rows + 1)]


def torques(report: SheetReport) -> dict[str, tuple[str, str]]:
    return {s.terminal.printed: (s.torque.printed if s.torque else "", s.state) for s in report.settings}


def row(label: str, torque: str, attributes: str = "") -> str:
    return f"<tr {attributes}><td>{label}<td>1.5&ndash;16<td>{torque}</tr>"


def test_entities_and_closing_tags_left_out_are_read(write: Write) -> None:
    table = only_table(write(f"<table>{HEAD}{row('Line', '2&frac12;&nbsp;')}</table>"))
    assert rows_of(table) == [["Terminal", "Conductor mm²", "Torque N·m"], ["Line", "1.5–16", "2½"]]
    assert (table.page, table.number, table.means) == (1, 1, "given")


def test_spans_are_laid_out_as_a_browser_does(write: Write) -> None:
    """HTML Living Standard 4.9.12.1: a cell takes the next free place, 0 rows reach to the section's end."""
    table = only_table(
        write(
            "<table><tbody><tr><td rowspan=2>a<td colspan=2>b<td rowspan=0>c<tr><td>d<td>e<tr><td>f<td>g<td>h</table>"
        )
    )
    places = {cell.text: (cell.row, cell.column, cell.row_span, cell.column_span) for cell in table.cells}
    assert places == {
        "a": (1, 1, 2, 1), "b": (1, 2, 1, 2), "c": (1, 4, 3, 1), "d": (2, 2, 1, 1), "e": (2, 3, 1, 1),
        "f": (3, 1, 1, 1), "g": (3, 2, 1, 1), "h": (3, 3, 1, 1),
    }  # fmt: skip


def test_a_span_ends_with_its_section_and_the_foot_goes_last(write: Write) -> None:
    body = "<tfoot><tr><td>foot<td>x</tfoot><thead><tr><td rowspan=9>head<td>y</thead><tbody><tr><td>a<td>b</tbody>"
    assert rows_of(only_table(write(f"<table>{body}</table>"))) == [["head", "y"], ["a", "b"], ["foot", "x"]]


def test_cells_that_overlap_are_doubted(write: Write) -> None:
    table = only_table(write("<table><tr><td>a<td rowspan=2>b<tr><td colspan=2>c</table>"))
    assert [doubt.code for cell in table.cells if cell.text == "c" for doubt in cell.doubts] == ["table_shifted"]


@pytest.mark.parametrize(
    ("style", "attributes"),
    [
        ("", "hidden"),
        ("", 'style="display:none"'),
        ("", 'style="color: red; visibility : HIDDEN"'),
        (".old{display:none}", 'class="old"'),
        ("/* } */ table tr.old:nth-child(3) { display: none !important }", 'class="old"'),
        ("@media screen { .old {display:none} }", 'class="old"'),
        ("", 'style="position:absolute; left:-9999px"'),
        (".old{position:absolute;clip:rect(0 0 0 0);width:1px}", 'class="old"'),
        (".old{display:block;max-height:0;overflow:hidden}", 'class="old"'),
        ("", 'style="color:transparent"'),
        (".old{display:table-row} #gone{display:none} .old{display:table-row}", 'class="old" id="gone"'),
    ],
)
def test_what_does_not_show_is_not_read_and_is_named(write: Write, style: str, attributes: str) -> None:
    rows = row("Line", "2.5") + row("Load", "9.9", attributes)
    path = write(f"<style>{style}</style><table>{HEAD}{rows}</table>")
    report = read_sheet(path)
    assert torques(report) == {"Line": ("2.5", "released")}
    assert [f.code for f in report.findings] == ["page_hidden_text"]
    assert "9.9" in report.findings[0].message


@pytest.mark.parametrize(
    "style",
    [
        "@media print{.old{display:none}}",
        "@media (max-width: 40em){.old{display:none}}",
        ".old{display:none} tr.old{display:table-row}",
        ".older, p.old {display:none}",
        ".old{left:-1px;height:20px;overflow:hidden;opacity:0.9}",
        ".old::before{display:none} .old:unknown(){display:none}",
    ],
)
def test_rules_for_other_media_and_weaker_rules_hide_nothing(write: Write, style: str) -> None:
    rows = row("Line", "2.5") + row("Load", "2.0", 'class="old"')
    report = read_sheet(write(f"<style>{style}</style><table>{HEAD}{rows}</table>"))
    assert torques(report) == {"Line": ("2.5", "released"), "Load": ("2.0", "released")}


@pytest.mark.parametrize(
    ("cell", "printed", "state"),
    [
        ("<del>2.5</del> <ins>3.0</ins>", "3.0", "released"),
        ("<s>2.5</s><br>3.0", "3.0", "released"),
        ('<span style="text-decoration: line-through">2.5</span> 3.0', "3.0", "released"),
        ("<s>2.</s>5", "5", "held"),
        ('<del style="text-decoration:none">2.5</del>', "2.5", "released"),
    ],
)
def test_struck_text_is_not_live(write: Write, cell: str, printed: str, state: str) -> None:
    assert torques(read_sheet(write(f"<table>{HEAD}{row('Line', cell)}</table>"))) == {"Line": (printed, state)}


@pytest.mark.parametrize("note", ["<p><sup>1</sup> with ferrules", "<p>1) with ferrules"])
def test_raised_marks_stand_apart_and_find_their_note(write: Write, note: str) -> None:
    head = HEAD.replace("mm²", "mm<sup>2</sup>")
    path = write(
        f"<table>{head}{row('Line', '2.5<sup>1)</sup>')}{row('Load', '2<sup>1</sup>&frasl;<sub>2</sub>')}</table>{note}"
    )
    cells = {cell.text: [mark.text for mark in cell.marks] for cell in only_table(path).cells}
    assert cells["2.5"] == ["1)"]
    assert cells["Conductor mm²"] == []
    assert cells["2 1⁄2"] == []
    report = read_sheet(path)
    assert torques(report) == {"Line": ("2.5", "released"), "Load": ("2 1⁄2", "released")}
    assert any("with ferrules" in finding.message for finding in report.settings[0].findings)


def test_notes_in_the_foot_of_a_table_are_notes(write: Write) -> None:
    foot = "<tfoot><tr><td colspan=3><sup>1</sup> up to 1.8 N·m with ferrules</tfoot>"
    path = write(f"<table>{HEAD}{row('Line', '2.5<sup>1</sup>')}{foot}</table>")
    assert only_table(path).below == ("1) up to 1.8 N·m with ferrules",)
    [setting] = read_sheet(path).settings
    assert setting.state == "held"
    assert "note_changes_value" in {finding.code for finding in setting.findings}


def test_headings_and_the_line_above_are_the_caption(write: Write) -> None:
    table = f"<table><caption>Screws</caption>{HEAD}{row('Line', '2.5')}</table>"
    path = write(
        f"<h1>Quelmoor</h1><h2>Old</h2><p>x</p><h2>QX breakers</h2><h3>Main</h3><p>Values hold at 20 °C{table}"
    )
    assert only_table(path).caption == ("Quelmoor", "QX breakers", "Main", "Values hold at 20 °C", "Screws")
    assert make_skeleton(open_page(path), ()).title == "QX breakers"


def test_a_table_inside_a_cell_speaks_for_itself(write: Write) -> None:
    inner = f"<table>{HEAD}{row('Line', '2.5')}</table>"
    path = write(f"<table><tr><td>menu<td>{inner}</table>")
    outer, found = open_page(path).pages[0].tables or ()
    assert rows_of(outer) == [["menu", ""]]
    assert len(found.cells) == 6
    assert torques(read_sheet(path)) == {"Line": ("2.5", "released")}


def test_prose_is_read_and_nothing_in_it_is_lost(write: Write) -> None:
    report = read_sheet(
        write("<p>Tighten the earth terminal PE to 4.5 N·m.</p><div>Torque 9 N·m applies to lids</div>")
    )
    said = [(s.torque.printed, s.state) for s in report.settings if s.torque]
    assert said == [("4.5 N·m", "released"), ("9 N·m", "held")]


def test_a_drawn_formula_holds_its_cell(write: Write) -> None:
    cell = "<math><mfrac><mn>1</mn><mn>2</mn></mfrac></math>"
    assert torques(read_sheet(write(f"<table>{HEAD}{row('Line', cell)}</table>")))["Line"][1] == "held"


@pytest.mark.parametrize(
    ("declared", "encoding"),
    [("windows-1252", "cp1252"), ("ISO-8859-1", "cp1252"), ("shift_jis", "cp932"), ("utf-8", "utf-8"), ("", "utf-16")],
)
def test_the_encoding_is_taken_as_declared(tmp_path: Path, declared: str, encoding: str) -> None:
    meta = f"<meta http-equiv='Content-Type' content='text/html; charset={declared}'>" if declared else ""
    text = "締付トルク" if encoding == "cp932" else "Größe 2–3 N·m"
    path = tmp_path / "qx.htm"
    path.write_bytes(f"<html><head>{meta}</head><table><tr><td>{text}</table></html>".encode(encoding))
    assert only_table(path).cells[0].text == text


def test_a_declaration_that_the_bytes_contradict_does_not_count(tmp_path: Path) -> None:
    path = tmp_path / "qx.html"
    path.write_bytes("<meta charset=windows-1252><table><tr><td>2–3 N·m</table>".encode())
    document = open_page(path)
    assert (document.pages[0].tables or ())[0].cells[0].text == "2–3 N·m"
    assert [finding.code for finding in document.findings] == ["sheet_encoding_inferred"]
