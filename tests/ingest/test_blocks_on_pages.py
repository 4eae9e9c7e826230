"""Pages as strangers set them: blocks under headings, lists beside tables, values centred over columns."""

from __future__ import annotations

from pathlib import Path

from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.openers.pdf.words import as_box, with_width
from torquary_ingest.reader import read_sheet
from torquary_ingest.skeleton.names import find_name
from torquary_schema.values import Setting

Text = tuple[float, float, str]


def settings_of(path: Path) -> list[Setting]:
    return list(read_sheet(path).settings)


def set_texts(canvas: Canvas, texts: list[Text], *, size: float = 8, bold: bool = False, centred: bool = False) -> None:
    canvas.setFont("Helvetica-Bold" if bold else "Helvetica", size)
    for x, y, text in texts:
        (canvas.drawCentredString if centred else canvas.drawString)(x, y, text)


def told(found: list[Setting]) -> list[tuple[str, str, str, str]]:
    """Device, terminal, conductor and torque of what is released, as printed."""
    return [
        (s.device.printed, s.terminal.printed, s.conductor.printed, s.torque.printed)
        for s in found
        if s.state == "released"
    ]


def draw_blocks(path: Path) -> Path:
    """Two products, each a heading in larger type, a list with rules of its own, and order numbers beside it."""
    canvas = Canvas(str(path), pagesize=(560, 480))
    set_texts(canvas, [(40, 450, "Quillhaven Connect")], size=10)
    blocks = ((400, "ZT 2.5", "5.2", "0.2–4", "0.5–0.6"), (220, "ZT 6", "8.2", "0.2–10", "1.5–1.8"))
    for top, model, width, size, torque in blocks:
        set_texts(canvas, [(40, top, model)], size=12, bold=True)
        set_texts(canvas, [(120, top, f"Feed-through terminal, {width} mm wide")], size=9)
        rows = [("Rated current", "24 A"), ("Rated voltage", "800 V"), ("Conductor, rigid", f"{size} mm²")]
        rows += [("Tightening torque", f"{torque} Nm"), ("Stripping length", "9 mm")]
        for row, (name, value) in enumerate(rows):
            y = top - 24 - 14 * row
            set_texts(canvas, [(150, y, name), (250, y, value)])
            canvas.setLineWidth(0.4)
            canvas.line(150, y - 4, 360, y - 4)
        orders = (("Colour", "Order no.", "EUR"), ("grey", "304 12", "0.62"), ("blue", "304 13", "0.62"))
        for row, texts in enumerate(orders):
            set_texts(canvas, [(400 + 55 * at, top - 24 - 13 * row, text) for at, text in enumerate(texts)])
    canvas.save()
    return path


def test_a_page_of_products_is_read_block_by_block(tmp_path: Path) -> None:
    assert told(settings_of(draw_blocks(tmp_path / "blocks.pdf"))) == [
        (first := "ZT 2.5 Feed-through terminal, 5.2 mm wide", first, "0.2–4 mm²", "0.5–0.6 Nm"),
        (second := "ZT 6 Feed-through terminal, 8.2 mm wide", second, "0.2–10 mm²", "1.5–1.8 Nm"),
    ]


COLUMNS = (240, 320, 400, 480)


def draw_columns(path: Path, torques: list[tuple[float, str]]) -> Path:
    """Devices as columns; `torques` are values and the middles at which they stand."""
    canvas = Canvas(str(path), pagesize=(560, 300))
    set_texts(canvas, [(40, 270, "Main switches QH")], size=14, bold=True)
    heads = [(x, 230, f"QH {size}") for x, size in zip(COLUMNS, (25, 40, 63, 100), strict=True)]
    set_texts(canvas, heads, centred=True)
    rows = [("Rated current (A)", [(x, t) for x, t in zip(COLUMNS, ("25", "40", "63", "100"), strict=True)])]
    rows += [("Rated power (kW)", [(x, t) for x, t in zip(COLUMNS, ("7.5", "15", "22", "37"), strict=True)])]
    rows += [("Conductor, solid (mm²)", [(240, "1–6"), (360, "1.5–16"), (480, "10–50")])]
    rows += [("Tightening torque, main terminals (Nm)", torques)]
    for row, (name, values) in enumerate(rows):
        set_texts(canvas, [(40, 214 - 16 * row, name)])
        set_texts(canvas, [(x, 214 - 16 * row, text) for x, text in values], centred=True)
    canvas.save()
    return path


def test_a_value_centred_over_two_columns_is_that_of_both(tmp_path: Path) -> None:
    path = draw_columns(tmp_path / "centred.pdf", [(240, "1.2"), (360, "2"), (480, "4")])
    found = [s for s in settings_of(path) if s.state == "released"]
    assert [(s.device.model, s.conductor.printed, s.torque.printed) for s in found] == [
        ("QH 25", "1–6", "1.2"),
        ("QH 40", "1.5–16", "2"),
        ("QH 63", "1.5–16", "2"),
        ("QH 100", "10–50", "4"),
    ]


def test_a_value_that_stands_over_no_whole_number_of_columns_is_nobody_s(tmp_path: Path) -> None:
    path = draw_columns(tmp_path / "off.pdf", [(240, "1.2"), (338, "2"), (480, "4")])
    assert not [s for s in settings_of(path) if s.state == "released" and s.torque.printed == "2"]


def test_a_name_with_decimals_stays_whole() -> None:
    name = "ZT 2.5 feed-through terminal, 5.2 mm wide"
    assert find_name(name) == name
    assert find_name("3.2 Contactor ZK 9") == "Contactor ZK 9"


def test_a_description_under_a_title_is_no_part_of_it(tmp_path: Path) -> None:
    canvas = Canvas(str(tmp_path / "title.pdf"), pagesize=(560, 300))
    set_texts(canvas, [(40, 260, "Fork Strips, Series ZS")], size=18, bold=True)
    text = "Screw terminals for ring lugs under a square washer. Body PA 66 V-0, screws of steel."
    set_texts(canvas, [(40, 240, text)], size=9)
    rows = (("Type", "Wire mm²", "Torque Nm"), ("ZS-10", "0.5–1.5", "0.5"), ("ZS-15", "1–4", "0.8"))
    for y, row in zip((200, 184, 168), rows, strict=True):
        set_texts(canvas, [(40 + 120 * at, y, text) for at, text in enumerate(row)])
    canvas.save()
    assert told(settings_of(tmp_path / "title.pdf")) == [
        ("ZS-10", "Screw terminals", "0.5–1.5", "0.5"),
        ("ZS-15", "Screw terminals", "1–4", "0.8"),
    ]


def test_a_sign_to_which_its_font_gives_no_width_stands_where_it_is_drawn() -> None:
    assert with_width(as_box((525, 140, 525, 150)), "€", 10).x1 == 530
    assert with_width(as_box((10, 140, 30, 150)), "mm²", 10).x1 == 30
