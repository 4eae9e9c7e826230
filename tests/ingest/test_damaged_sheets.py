"""Damage inside a sheet is said, and what stands near is held: no row is released that the whole sheet lacks."""

from __future__ import annotations

import zlib
from pathlib import Path

import pytest
from assembled_pdf import assemble_pdf

from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_schema.values import SheetReport

HEADS = ("Terminal", "Conductor mm2", "Torque Nm")
ROWS = (("L1", "1.5-6", "2.5"), ("N", "1.5-10", "2.0"), ("PE", "2.5-16", "3.0"), ("PEN", "4-25", "3.5"))
FONT = b"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica %s>>"


def draw() -> bytes:
    """The content of a page: a ruled table."""
    made = b"q\nBT /F1 12 Tf 60 790 Td (Quillhaven QX1 load switch) Tj ET\n"
    for line, row in enumerate((HEADS, *ROWS)):
        for column, text in enumerate(row):
            x, y = 60 + 120 * column, 740 - 20 * line
            made += b"%d %d 120 20 re S\nBT /F1 9 Tf %d %d Td (%s) Tj ET\n" % (x, y, x + 6, y + 6, text.encode())
    return made + b"Q\n"


def stream(data: bytes, entries: bytes = b"") -> bytes:
    return b"<< /Length %d %s>>\nstream\n%s\nendstream" % (len(data), entries, data)


def packed(data: bytes, entries: bytes = b"") -> bytes:
    return stream(data, b"/Filter /FlateDecode " + entries)


def make_pdf(*contents: bytes, letters: bytes = b"", count: int | None = None, more: bytes = b"<< >>") -> bytes:
    """A file with a page for each content stream; `letters` is the Unicode map of their font."""
    first = 6
    kids = b" ".join(b"%d 0 R" % (first + 2 * at) for at in range(len(contents)))
    objects = [
        b"<< /Type /Catalog /Pages 2 0 R >>",
        b"<< /Type /Pages /Kids [%s] /Count %d >>" % (kids, len(contents) if count is None else count),
        FONT % (b"/ToUnicode 4 0 R " if letters else b""),
        letters or b"<< >>",
        more,
    ]
    for at, content in enumerate(contents):
        objects += [
            b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents %d 0 R "
            b"/Resources << /Font << /F1 3 0 R >> >> >>" % (first + 2 * at + 1),
            content,
        ]
    return assemble_pdf(dict(enumerate(objects, start=1)))


def read(folder: Path, name: str, content: bytes) -> SheetReport:
    path = folder / name
    path.write_bytes(content)
    return read_one(path, OpenWish(unwitnessed=True))


def released(report: SheetReport) -> list[str]:
    return [one.terminal.printed for one in report.settings if one.state == "released"]


def codes(report: SheetReport) -> set[str]:
    return {finding.code for finding in report.findings}


def flipped(data: bytes, at: int) -> bytes:
    return data[:at] + bytes([data[at] ^ 1]) + data[at + 1 :]


CONTENT = draw()
PACKED = zlib.compress(CONTENT)
LETTERS = b"/CIDInit /ProcSet findresource begin 1 begincodespacerange <00> <FF> endcodespacerange end"

CONTENTS = {
    "a name that is no operator": CONTENT.replace(b"(1.5-10) Tj", b"(1.5-10) Tx"),
    "NUL bytes for an operator": CONTENT.replace(b"(1.5-10) Tj", b"(1.5-10) \0\0"),
    "NUL bytes for a row": CONTENT.replace(b"(N) Tj ET\n180 700 120 20 re", bytes(27)),
    "NUL bytes for whole operators": CONTENT.replace(b"BT /F1 9 Tf 306 706 Td (2.0) Tj ET", bytes(34)),
    "an operand too few": CONTENT.replace(b"180 700 120 20 re", b"180 700 120 re"),
    "an operand too many": CONTENT.replace(b"66 706 Td", b"66 7 06 Td"),
    "an operand of another type": CONTENT.replace(b"(N) Tj", b"123 Tj"),
    "an operator lost": CONTENT.replace(b"(N) Tj ET", b"(N) ET"),
    "Q without q": CONTENT.replace(b"BT /F1 9 Tf 66 706", b"Q Q BT /F1 9 Tf 66 706"),
    "q without Q": CONTENT.removesuffix(b"Q\n"),
    "BT without ET": CONTENT.replace(b"(1.5-10) Tj ET", b"(1.5-10) Tj"),
    "ET without BT": CONTENT.replace(b"BT /F1 9 Tf 66 706 Td", b"/F1 9 Tf 66 706 Td"),
    "cut off": CONTENT[: CONTENT.index(b"PE) Tj") + 1],
    "cut off behind a row": CONTENT[: CONTENT.index(b"60 660 120")],
    "a font that is missing": CONTENT.replace(b"/F1 9 Tf 66 706", b"/F2 9 Tf 66 706"),
    "a form that is missing": CONTENT.replace(b"BT /F1 9 Tf 66 706", b"/Fm1 Do BT /F1 9 Tf 66 706"),
    "a graphics state that is missing": CONTENT.replace(b"BT /F1 9 Tf 66 706", b"/GS1 gs BT /F1 9 Tf 66 706"),
}
PAGES = {
    **{name: make_pdf(packed(zlib.compress(content))) for name, content in CONTENTS.items()},
    "a filter that breaks off": make_pdf(packed(PACKED[: len(PACKED) // 2])),
    "a filter without its checksum": make_pdf(packed(PACKED[:-4])),
    "a byte that was changed": make_pdf(packed(flipped(PACKED, len(PACKED) - 1))),
    "text for a filter that breaks off": make_pdf(stream(b"42", b"/Filter /ASCIIHexDecode "), packed(PACKED)),
    "a content that is missing": make_pdf(packed(PACKED), packed(PACKED)).replace(b"/Contents 7 0", b"/Contents 1 0"),
    "a content that is not named": make_pdf(packed(PACKED), packed(PACKED)).replace(b"/Contents 7", b"/Contnets 7"),
    "a Unicode map that breaks off": make_pdf(packed(PACKED), letters=packed(zlib.compress(LETTERS)[:-6])),
    "a Unicode map that is missing": make_pdf(packed(PACKED), letters=b"null"),
}
FILES = {
    "a page that is lost": make_pdf(packed(PACKED), count=2),
    "packed objects that are damaged": make_pdf(packed(PACKED), more=packed(PACKED[:-9], b"/Type /ObjStm /N 1 ")),
}


def test_the_whole_sheet_gives_all_rows(tmp_path: Path) -> None:
    for content in (packed(PACKED), stream(CONTENT)):
        report = read(tmp_path, "sheet.pdf", make_pdf(content, letters=packed(zlib.compress(LETTERS))))
        assert released(report) == [row[0] for row in ROWS]
        assert not codes(report)


@pytest.mark.parametrize("damage", PAGES)
def test_damage_to_a_page_is_said_and_its_figures_held(tmp_path: Path, damage: str) -> None:
    report = read(tmp_path, "sheet.pdf", PAGES[damage])
    assert released(report) == []
    assert "page_damaged" in codes(report)


@pytest.mark.parametrize("damage", FILES)
def test_damage_to_the_file_is_said_and_all_figures_held(tmp_path: Path, damage: str) -> None:
    report = read(tmp_path, "sheet.pdf", FILES[damage])
    assert released(report) == []
    assert "sheet_damaged" in codes(report)


def test_pages_before_a_damaged_one_stay_and_those_behind_are_held(tmp_path: Path) -> None:
    """Headings, units and names are carried forward, never back."""
    whole, cut = packed(PACKED), packed(zlib.compress(CONTENTS["cut off"]))
    report = read(tmp_path, "sheet.pdf", make_pdf(whole, cut, whole))
    assert {one.place.page for one in report.settings if one.state == "released"} == {1}
    assert {one.place.page for one in report.settings if one.state == "held"} == {2, 3}


def test_nul_bytes_that_take_a_page_s_text_away_are_said(tmp_path: Path) -> None:
    """The string that they leave open takes all operators behind it: the page shows nothing and looks unimportant."""
    opened = CONTENT.replace(b"load switch)", b"load switch" + bytes(9)).replace(b")", b"")
    report = read(tmp_path, "sheet.pdf", make_pdf(packed(PACKED), packed(zlib.compress(opened))))
    assert {one.place.page for one in report.settings} == {1}
    assert [finding.place.page for finding in report.findings if finding.place] == [2]


def test_names_between_bx_and_ex_need_be_no_operators(tmp_path: Path) -> None:
    """A reader passes over them (ISO 32000-1, 7.8.2)."""
    content = CONTENT.replace(b"BT /F1 9 Tf 66 706", b"BX 1 2 later EX BT /F1 9 Tf 66 706")
    assert len(released(read(tmp_path, "sheet.pdf", make_pdf(stream(content))))) == len(ROWS)


CSV = "\n".join(";".join(row) for row in (HEADS, *ROWS))
CUT_ROWS = ("PEN;4-25;3-", "PEN;4-25;3.", "PEN;4-25;3", "PEN;4-25;", "PEN;4-25", "PEN;4-", "PEN;4", "PEN;", "PEN", "P")
DAMAGED_ROWS = {
    "NUL bytes in a figure": CSV.replace("10;2.0", "10;2\0\0"),
    "NUL bytes for a line end": CSV.replace("2.0\nPE", "2.0\0PE"),
    "NUL bytes for a cell": CSV.replace(";1.5-10;", "\0" * 8),
    "a bit changed to a control character": CSV.replace("2.0\nPE", "2.0\x0bPE"),
}


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("last", CUT_ROWS)
def test_a_text_file_that_breaks_off_is_held_since_notes_below_are_lost(tmp_path: Path, last: str, end: str) -> None:
    report = read(tmp_path, "sheet.csv", CSV.replace("PEN;4-25;3.5", last).replace("\n", end).encode())
    assert released(report) == []
    assert {setting.terminal.printed for setting in report.settings} >= {"L1", "N", "PE"}
    assert "sheet_damaged" in codes(report)


@pytest.mark.parametrize("end", ["", "\n", "\r\n", "\r\n\r\n", "\r\n\x1a"])
@pytest.mark.parametrize("notes", ["", "\nAll figures for copper only"])
def test_a_whole_last_row_needs_no_line_end(tmp_path: Path, end: str, notes: str) -> None:
    """RFC 4180, 2.2: the last record may or may not end so."""
    report = read(tmp_path, "sheet.csv", (CSV + notes + end).encode())
    assert len(report.settings) == len(ROWS)
    assert "sheet_damaged" not in codes(report)
    assert released(report) == [row[0] for row in ROWS]


@pytest.mark.parametrize("damage", DAMAGED_ROWS)
def test_rows_with_bytes_that_no_text_has_are_said_and_held(tmp_path: Path, damage: str) -> None:
    report = read(tmp_path, "sheet.csv", (DAMAGED_ROWS[damage] + "\n").encode())
    assert set(released(report)) <= {"L1", "PE", "PEN"}
    assert "sheet_damaged" in codes(report)


def test_a_text_file_that_ends_in_nul_bytes_is_said(tmp_path: Path) -> None:
    report = read(tmp_path, "sheet.csv", (CSV.removesuffix(".5") + "\0" * 8).encode())
    assert released(report) == []
    assert "sheet_damaged" in codes(report)


CELLS = "".join("<tr>" + "".join(f"<td>{cell}</td>" for cell in row) + "</tr>\n" for row in (HEADS, *ROWS))
PAGE = f"<!DOCTYPE html>\n<html><body><h1>QX1</h1>\n<table>\n{CELLS}</table>\n</body></html>\n"
ENDS_IN_THE_TABLE = ("3.5</td></tr>\n</tab", "3.5</td></tr>", "3.5</td></tr", "3.5", "3.", "3", "<td>", "<td", "</td>")
ENDS_BEHIND_IT = ("</table>", "</table>\n</body", "</table>\n</body>", "</body></html")


@pytest.mark.parametrize("end", ENDS_IN_THE_TABLE)
def test_a_page_that_breaks_off_in_a_table_is_said_and_the_last_row_held(tmp_path: Path, end: str) -> None:
    report = read(tmp_path, "sheet.html", PAGE[: PAGE.rindex(end) + len(end)].encode())
    assert released(report) == ["L1", "N", "PE"]
    assert "sheet_damaged" in codes(report)


@pytest.mark.parametrize("end", ENDS_BEHIND_IT)
def test_a_page_that_breaks_off_behind_its_table_is_said(tmp_path: Path, end: str) -> None:
    report = read(tmp_path, "sheet.html", PAGE[: PAGE.rindex(end) + len(end)].encode())
    assert released(report) == [row[0] for row in ROWS]
    assert "sheet_damaged" in codes(report)


BROKEN_TAGS = {
    "a cell's tag": PAGE.replace("<td>N<", "<te>N<"),
    "a cell's tag, no longer one": PAGE.replace("<td>N<", "=td>N<"),
    "a cell's tag that goes on": PAGE.replace("<td>1.5-10<", "<td~1.5-10<"),
    "a cell's end": PAGE.replace("N</td>", "N<otd>"),
    "a cell's end, no longer a tag": PAGE.replace("N</td>", "N8/td>"),
    "a cell's end that goes on": PAGE.replace("N</td>", "N</td."),
    "a row's tag": PAGE.replace("<tr><td>N<", "<ur><td>N<"),
    "a row's end that goes on": PAGE.replace("2.5</td></tr>", "2.5</td></tr."),
    "a control character": PAGE.replace("Torque", "T\x7frque"),
    "NUL bytes over the tag of a style": PAGE.replace("<h1>", "<st\0\0\0{}.old{display:none}</style><h1>"),
    "NUL bytes over a statement below": PAGE.replace("</body>", "<p>Copp\0\0\0\0only</p></body>"),
}


@pytest.mark.parametrize("damage", BROKEN_TAGS)
def test_a_damaged_tag_is_said_and_its_table_held(tmp_path: Path, damage: str) -> None:
    """A lost tag moves cells or drops them, and no parser says so."""
    report = read(tmp_path, "sheet.html", BROKEN_TAGS[damage].encode())
    assert released(report) == []
    assert "sheet_damaged" in codes(report)


def test_tables_before_a_damaged_one_stay(tmp_path: Path) -> None:
    page = PAGE.replace("<table>", f"<table>{CELLS}</table><h2>QX2</h2><table>").encode()
    at = page.rindex(b"<td>N<")
    report = read(tmp_path, "sheet.html", page[:at] + b"<te>" + page[at + 4 :])
    assert {one.place.table for one in report.settings if one.state == "released"} == {1}


SOUND = [
    PAGE.replace("<td>N<", "<td><my-mark>N</my-mark><"),
    PAGE.replace("<td>N<", '<td title="a > b < c">N<'),
    PAGE.replace("<td>N<", "<td><svg><path d='M0 0'/></svg>N<"),
    PAGE.replace("<tr>", "<script>if (1 < 2) {}</script><!-- <td> --><tr>"),
    PAGE.replace("<td>N<", "<td><table><tr><td>N</td></tr></table><"),
]


@pytest.mark.parametrize("page", SOUND)
def test_what_may_stand_in_a_table_is_no_damage(tmp_path: Path, page: str) -> None:
    assert "sheet_damaged" not in codes(read(tmp_path, "sheet.html", page.encode()))


@pytest.mark.parametrize("page", [PAGE, f"<table>{CELLS}</table>", PAGE.replace("</tr>", "").replace("</td>", "")])
def test_tags_that_may_be_left_out_are_no_damage(tmp_path: Path, page: str) -> None:
    """HTML Living Standard, 13.1.2.4."""
    report = read(tmp_path, "sheet.html", page.encode())
    assert released(report) == [row[0] for row in ROWS]
    assert not codes(report)


def test_a_last_note_is_cut_where_the_file_pads_its_other_lines(tmp_path: Path) -> None:
    report = read(tmp_path, "sheet.csv", (CSV.rstrip() + "\n;;\nOnly copp").encode())
    assert released(report) == []
