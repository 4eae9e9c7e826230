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


def test_types_and_descriptions_in_one_column_are_parted_where_descriptions_begin(tmp_path: Path) -> None:
    canvas = Canvas(str(tmp_path / "prices.pdf"), pagesize=(560, 300))
    set_texts(canvas, [(40, 270, "Schienen und Klemmen")], size=14, bold=True)
    rows = [("Typ", "Bezeichnung", "mm²", "Nm"), ("ZE 5", "Erdungsschiene, 5-polig", "1,5–16", "1,5")]
    rows += [("ZE 15 K", "Erdungsschiene, 15-polig", "1,5–16", "1,8")]
    rows += [("ZL 12/2,5", "Lüsterklemmenleiste", "0,75–2,5", "0,4")]
    for row, texts in enumerate(rows):
        set_texts(canvas, [(x, 230 - 14 * row, text) for x, text in zip((40, 84, 300, 380), texts, strict=True)])
    canvas.save()
    found = [s for s in settings_of(tmp_path / "prices.pdf") if s.state == "released"]
    assert [(s.device.model, s.terminal.printed, s.torque.printed) for s in found] == [
        ("ZE 5", "Erdungsschiene, 5-polig", "1,5"),
        ("ZE 15 K", "Erdungsschiene, 15-polig", "1,8"),
        ("ZL 12/2,5", "Lüsterklemmenleiste", "0,4"),
    ]


def test_parts_between_rules_with_a_line_across_are_one_table(tmp_path: Path) -> None:
    """Vertical rules end at the lines across; the types stand over the first part alone."""
    canvas = Canvas(str(tmp_path / "parts.pdf"), pagesize=(560, 320))
    set_texts(canvas, [(40, 290, "Motor starters ZM")], size=14, bold=True)
    parts = [[("Type", ("ZM 16", "ZM 32", "ZM 80")), ("Width", ("45 mm", "45 mm", "70 mm"))]]
    for name, sizes, torques in (
        ("Main terminals", ("1–6", "2.5–10", "10–50"), ("1.7", "2.0", "5.0")),
        ("Control terminals", ("0.75–2.5",) * 3, ("1.0", "0.9", "0.8")),
    ):
        parts += [[(name, ()), ("Conductor, solid, mm²", sizes), ("Tightening torque, Nm", torques)]]
    y = 250.0
    for part in parts:
        canvas.line(40, y + 11, 500, y + 11)
        for name, values in part:
            set_texts(canvas, [(42, y, name)])
            set_texts(canvas, [(x, y, text) for x, text in zip((250, 350, 450), values, strict=False)], centred=True)
            if values:
                canvas.line(200, y - 3, 200, y + 11)
            y -= 14
    canvas.line(40, y + 11, 500, y + 11)
    canvas.save()
    found = [s for s in settings_of(tmp_path / "parts.pdf") if s.state == "released"]
    assert [(s.device.model, s.terminal.printed, s.torque.printed) for s in found] == [
        ("ZM 16", "Main terminals", "1.7"),
        ("ZM 32", "Main terminals", "2.0"),
        ("ZM 80", "Main terminals", "5.0"),
        ("ZM 16", "Control terminals", "1.0"),
        ("ZM 32", "Control terminals", "0.9"),
        ("ZM 80", "Control terminals", "0.8"),
    ]


def test_a_property_s_name_on_its_line_goes_before_a_general_word_in_its_value(tmp_path: Path) -> None:
    canvas = Canvas(str(tmp_path / "pairs.pdf"), pagesize=(595, 420))
    set_texts(canvas, [(45, 380, "QM-16")], size=20, bold=True)
    set_texts(canvas, [(45, 362, "Módulo de entradas e saídas")], size=10)
    parts = [("Identificação", [("Referência", "QM-16"), ("Embalagem", "1 unidade")])]
    value = "borne de parafuso, 0,5–2,5 mm² (AWG 20–14), binário de aperto {} Nm"
    parts += [("Alimentação", [("Consumo", "160 mA máx."), ("Ligação da alimentação (X1)", value.format("0,6"))])]
    parts += [("Entradas digitais", [("Número", "8"), ("Ligação das entradas (X2)", value.format("0,4"))])]
    y = 336.0
    for heading, pairs in parts:
        set_texts(canvas, [(45, y, heading)], size=9.5, bold=True)
        y -= 15
        for name, text in pairs:
            set_texts(canvas, [(49, y, name), (224, y, text)], size=8.2)
            y -= 13.4
        y -= 5
    canvas.save()
    assert [(name, torque) for _, name, _, torque in told(settings_of(tmp_path / "pairs.pdf"))] == [
        ("Ligação da alimentação (X1)", "0,6 Nm"),
        ("Ligação das entradas (X2)", "0,4 Nm"),
    ]
