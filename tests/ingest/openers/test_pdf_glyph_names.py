"""Ligatures and figures without a Unicode map are read by the names of their glyphs, mended by the picture, or held.

Names: Adobe Glyph List Specification for New Fonts, section 2; compact programs: Adobe Technical Note 5176; table
`post`: OpenType specification, version 2.
"""

from __future__ import annotations

import struct
from pathlib import Path

import pytest
from raw_pages import read_page, stream, write_page

from torquary_ingest.openers.pdf.font_programs import read_cff_encoding, read_glyph_names
from torquary_ingest.openers.pdf.glyph_names import read_name
from torquary_ingest.openers.pdf.letters import clean_character


def words(folder: Path, font: str, shown: str, objects: dict[int, bytes] | None = None) -> dict[str, list[str]]:
    content = f"BT /F 10 Tf 50 300 Td (Torque) Tj ET BT /M 10 Tf 100 200 Td ({shown}) Tj ET"
    path = write_page(
        folder / "page.pdf", content, "/Font << /F 5 0 R /M 10 0 R >>", {10: font.encode(), **(objects or {})}
    )
    return {word.text: [doubt.code for doubt in word.doubts] for word in read_page(path).words[1:]}


def named(*names: str, more: str = "") -> str:
    """A face that every viewer has, with glyphs renamed from code 65 on."""
    listed = " ".join(f"/{name}" for name in names)
    return (
        "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding << /Type /Encoding "
        f"/BaseEncoding /WinAnsiEncoding /Differences [65 {listed}] >> {more} >>"
    )


@pytest.mark.parametrize(
    ("name", "read"),
    [
        ("f_i", "fi"),
        ("fi.alt", "fi"),
        ("uniFB01", "fi"),
        ("T_h", "Th"),
        ("one.tnum", "1"),
        ("u0032", "2"),
        ("sevenoldstyle", "7"),
        ("uni00660066", "ff"),
        ("Asmall", "A"),
    ],
)
def test_a_glyph_is_read_by_its_name(tmp_path: Path, name: str, read: str) -> None:
    assert words(tmp_path, named(name), "A") == {read: []}


def test_a_glyph_whose_name_says_nothing_is_no_character_of_the_encoding_beneath(tmp_path: Path) -> None:
    assert words(tmp_path, named("g12"), "A.5") == {"\ufffd.5": ["character_unreadable"]}
    assert words(tmp_path, named("a65"), "A.5") == {"A.5": []}


def test_a_point_that_the_map_leaves_out_is_read_by_the_encoding(tmp_path: Path) -> None:
    unmapped = stream(
        "begincmap 1 begincodespacerange <00> <FF> endcodespacerange "
        "3 beginbfchar <30> <0030> <2E> <FFFD> <35> <0035> endbfchar endcmap"
    )
    assert words(tmp_path, named("A", more="/ToUnicode 11 0 R"), "0.5", {11: unmapped}) == {"0.5": []}


def index(*entries: bytes) -> bytes:
    if not entries:
        return b"\0\0"
    ends, at = [1], 1
    for entry in entries:
        at += len(entry)
        ends.append(at)
    return struct.pack(">HB", len(entries), 1) + bytes(ends) + b"".join(entries)


def compact(strings: list[bytes], sids: list[int], encoding: bytes) -> bytes:
    """A compact font program with names and an encoding, its glyphs empty."""
    head, name = b"\1\0\4\1", index(b"Face")
    rest = index(*strings) + index()
    start = len(head) + len(name) + len(index(bytes(12))) + len(rest)
    charset = b"\0" + b"".join(struct.pack(">H", sid) for sid in sids)
    places = (start, start + len(charset), start + len(charset) + len(encoding))
    top = b"".join(struct.pack(">BhB", 28, place, at) for place, at in zip(places, (15, 16, 17), strict=True))
    glyphs = index(*[b"\x0e"] * (len(sids) + 1))
    return head + name + index(top) + rest + charset + encoding + glyphs


def test_a_compact_program_gives_names_and_codes() -> None:
    program = compact([b"f_i", b"seven.lf"], [18, 391, 392], b"\0\3ABC")
    assert read_glyph_names(program) == {1: "one", 2: "f_i", 3: "seven.lf"}
    assert read_cff_encoding(program) == {65: "one", 66: "f_i", 67: "seven.lf"}
    spans = compact([b"f_i"], [18, 391], b"\1\1A\1")
    assert read_cff_encoding(spans) == {65: "one", 66: "f_i"}
    assert read_glyph_names(program[:40]) == {}
    assert read_cff_encoding(b"\1\0") == {}


def test_a_font_without_an_encoding_is_read_by_that_of_its_program(tmp_path: Path) -> None:
    program = compact([b"f_i"], [18, 391, 14], b"\0\3ABC")
    body = b"<< /Subtype /Type1C /Length %d >>\nstream\n%s\nendstream" % (len(program), program)
    font = "<< /Type /Font /Subtype /Type1 /BaseFont /AAAAAA+Face /FirstChar 65 /Widths [500 500 300] "
    font += "/FontDescriptor << /Type /FontDescriptor /FontName /AAAAAA+Face /Flags 4 /FontFile3 11 0 R >> >>"
    assert list(words(tmp_path, font, "ACAB", {11: body})) == ["1-1fi"]


def true_type(post: bytes, glyphs: int) -> bytes:
    """A TrueType program of tables `post` and `maxp` alone."""
    rows = struct.pack(">4sLLL", b"maxp", 0, 44, 6) + struct.pack(">4sLLL", b"post", 0, 50, len(post))
    return b"\0\1\0\0" + struct.pack(">HHHH", 2, 32, 1, 0) + rows + b"\0\0\x50\0" + struct.pack(">H", glyphs) + post


def test_glyphs_in_the_standard_order_of_table_post_are_known() -> None:
    """Numbers and names: TrueType Reference Manual, table `post`, the 258 glyphs of the Macintosh order."""
    order = {
        3: "space", 19: "zero", 97: "asciitilde", 98: "Adieresis", 131: "degree", 147: "plusminus", 151: "mu",
        159: "Omega", 188: "fraction", 189: "currency", 192: "fi", 195: "periodcentered", 225: "caron", 226: "Lslash",
        239: "minus", 240: "multiply", 241: "onesuperior", 242: "twosuperior", 243: "threesuperior", 244: "onehalf",
        245: "onequarter", 246: "threequarters", 257: "dcroat",
    }  # fmt: skip
    post = b"\0\2\0\0" + bytes(28) + struct.pack(f">H{len(order)}H", len(order), *order)
    found = read_glyph_names(true_type(post, len(order)))
    read = {number: clean_character(read_name(found[glyph])) for glyph, number in enumerate(order)}
    assert read == {number: clean_character(read_name(name)) for number, name in order.items()}
    assert read_glyph_names(true_type(post, len(order) - 1)) == {}


def test_table_post_names_the_glyphs_of_a_font_whose_codes_are_their_numbers(tmp_path: Path) -> None:
    names = b"".join(bytes([len(name)]) + name for name in (b"f_i", b"four.lf"))
    numbers = (0, 258, 20, 259)
    post = b"\0\2\0\0" + bytes(28) + struct.pack(">H4H", 4, *numbers) + names
    program = true_type(post, 4)
    assert read_glyph_names(program) == {1: "f_i", 2: "uni0031", 3: "four.lf"}
    body = b"<< /Length %d >>\nstream\n%s\nendstream" % (len(program), program)
    font = "<< /Type /Font /Subtype /Type0 /BaseFont /Face /Encoding /Identity-H /DescendantFonts [12 0 R] >>"
    inner = (
        b"<< /Type /Font /Subtype /CIDFontType2 /BaseFont /Face /CIDToGIDMap /Identity /CIDSystemInfo "
        b"<< /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /DW 500 "
        b"/FontDescriptor << /Type /FontDescriptor /FontName /Face /Flags 4 /FontFile2 11 0 R >> >>"
    )
    shown = "\\000\\002\\000\\003\\000\\001\\000\\005"
    found = words(tmp_path, font, shown, {11: body, 12: inner})
    assert list(found) == ["14fi\ufffd"]
    assert "character_unreadable" in found["14fi\ufffd"]


@pytest.mark.parametrize(
    ("before", "glyph", "behind", "read", "held"),
    [
        ("Con", "fi", "guration", "Configuration", False),
        ("Schie", "ff", "er", "Schieffer", False),
        ("L", "one", "", "L1", True),
        ("2.", "five", "", "2.5", True),
        ("Termi", "n", "al", "Terminal", True),
    ],
)
def test_an_unknown_glyph_is_mended_by_the_picture(
    tmp_path: Path, before: str, glyph: str, behind: str, read: str, held: bool
) -> None:
    """A Type 3 font draws the glyph, under a name that says nothing."""
    pytest.importorskip("onnxruntime")
    drawn = drawn_face(glyph)
    shown = f"({before}) Tj /M 10 Tf (A) Tj /F 10 Tf ({behind}) Tj"
    content = f"BT /F 10 Tf 50 300 Td (Torque of the clamps) Tj ET BT /F 10 Tf 100 200 Td {shown} ET"
    path = write_page(tmp_path / "page.pdf", content, "/Font << /F 5 0 R /M 10 0 R >>", drawn)
    word = read_page(path).words[-1]
    assert word.text == read
    assert [doubt.code for doubt in word.doubts] == (["character_unreadable"] if held else [])


def drawn_face(name: str) -> dict[int, bytes]:
    """A font of one glyph under code 65, which shows what Helvetica calls `name`."""
    spelt = {"fi": "fi", "ff": "ff", "one": "1", "five": "5", "n": "n"}[name]
    wide = {"fi": 500, "ff": 556, "one": 556, "five": 556, "n": 556}[name]
    font = (
        f"<< /Type /Font /Subtype /Type3 /FontBBox [0 -200 1000 900] /FontMatrix [0.001 0 0 0.001 0 0] "
        f"/CharProcs << /q7 11 0 R >> /Encoding << /Type /Encoding /Differences [65 /q7] >> /FirstChar 65 "
        f"/LastChar 65 /Widths [{wide}] /Resources << /Font << /F 5 0 R >> >> >>"
    )
    return {10: font.encode(), 11: stream(f"{wide} 0 d0 BT /F 1000 Tf ({spelt}) Tj ET")}


@pytest.mark.parametrize(("scale", "set_at"), [("0.001", "10"), ("0.0004", "10"), ("0.12", "1")])
def test_the_size_of_drawn_letters_is_that_of_their_square(tmp_path: Path, scale: str, set_at: str) -> None:
    """Letters may be drawn in any units: a thousand or 2,500 to the square, or the dots of a picture at size one."""
    tall = {"0.001": 1000, "0.0004": 2500, "0.12": 83}[scale]
    font = (
        f"<< /Type /Font /Subtype /Type3 /FontBBox [0 0 {tall} {tall}] /FontMatrix [{scale} 0 0 {scale} 0 0] "
        f"/CharProcs << /A 11 0 R >> /Encoding << /Type /Encoding /Differences [65 /A] >> /FirstChar 65 "
        f"/LastChar 65 /Widths [{tall}] /Resources << >> >>"
    )
    drawn = {10: font.encode(), 11: stream(f"{tall} 0 d0 0 0 {tall // 2} {tall // 2} re f")}
    content = f"BT /F 10 Tf 50 300 Td (Torque) Tj ET BT /M {set_at} Tf 100 200 Td (A) Tj ET"
    path = write_page(tmp_path / "page.pdf", content, "/Font << /F 5 0 R /M 10 0 R >>", drawn)
    assert read_page(path).words[-1].size == pytest.approx(10, abs=0.1)
