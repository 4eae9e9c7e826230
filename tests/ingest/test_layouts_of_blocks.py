"""Sheets set in blocks under headings, with names and figures of our own: what each block's figures are for."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.clauses.reading import read_clauses
from torquary_ingest.reader import read_sheet

Text = tuple[float, float, str, float]
"""Left and height in points, the text, its size: negative for bold."""
_VALUES = 300


def set_sheet(path: Path, texts: Iterable[Text], rules: Iterable[float] = ()) -> Path:
    canvas = Canvas(str(path), invariant=1)
    for left, height, text, size in texts:
        canvas.setFont("Helvetica-Bold" if size < 0 else "Helvetica", abs(size))
        canvas.drawString(left, height, text)
    for height in rules:
        canvas.line(50, height, 540, height)
    canvas.save()
    return path


def told(path: Path, state: str = "released") -> list[tuple[str, str, str]]:
    """Terminal, conductor and torque of all settings in a state, as printed."""
    found = [s for s in read_sheet(path).settings if s.state == state]
    return [(s.terminal.printed, s.conductor.printed, s.torque.printed if s.torque else "") for s in found]


def write_table(path: Path, rows: Iterable[tuple[str, ...]]) -> Path:
    cells = ("".join(f"<td>{text}</td>" for text in row) for row in rows)
    table = "".join(f"<tr>{row}</tr>" for row in cells)
    path.write_text(f"<!DOCTYPE html><h1>Orvell breaker OB 160</h1><table>{table}</table>", encoding="utf-8")
    return path


BLOCKS = {
    "Main circuit": [("Rated voltage", "690 V"), ("Rated current", "40 A"), ("Power loss", "3 W")],
    "Main terminals 1/L1 - 6/T3": [("Solid", "2.5 - 16 mm²"), ("Tightening torque", "2.3 N·m")],
    "Coil terminals A1, A2": [("Solid", "1 - 4 mm²"), ("Tightening torque", "1.2 N·m")],
}


def test_a_rule_under_a_heading_bounds_no_table(tmp_path: Path) -> None:
    texts: list[Text] = [(50, 800, "Contactor ORV 40", -16)]
    rules: list[float] = []
    height = 775.0
    for heading, pairs in BLOCKS.items():
        texts.append((50, height, heading, -9))
        rules.append(height - 13)
        for number, (name, value) in enumerate(pairs):
            texts += [(50, height - 24 - 12 * number, name, 9), (_VALUES, height - 24 - 12 * number, value, 9)]
        height -= 24 + 12 * len(pairs) + 10
    assert told(set_sheet(tmp_path / "blocks.pdf", texts, rules)) == [
        ("Main terminals 1/L1 - 6/T3", "2.5 - 16 mm²", "2.3 N·m"),
        ("Coil terminals A1, A2", "1 - 4 mm²", "1.2 N·m"),
    ]


def test_the_maker_s_name_over_a_list_names_no_terminal(tmp_path: Path) -> None:
    lines = ("Fit it to the rail first.", "Ziehe mit 2.5 N·m an.", "Hellklemme GmbH, Werk Nord")
    texts: list[Text] = [(50, 800, "Hellklemme", -16), (300, 800, "Contactor ORV 40", -12)]
    texts += [(50, 760 - 30 * number, line, 9) for number, line in enumerate(lines)]
    assert not told(set_sheet(tmp_path / "maker.pdf", texts))


def test_a_lug_is_a_kind_of_end_and_a_thread_among_sizes_is_no_size(tmp_path: Path) -> None:
    rows = [
        ("Terminal", "Conductor", "Cross-section (mm²)", "Torque (N·m)"),
        ("Box terminal", "solid, Cu", "2.5 - 70", "6"),
        ("Bar terminal", "ring lug", "up to 70", "9"),
        ("Mounting screws", "-", "M4", "1.5"),
    ]
    assert told(write_table(tmp_path / "lugs.html", rows)) == [
        ("Box terminal", "2.5 - 70", "6"),
        ("Bar terminal", "up to 70", "9"),
        ("Mounting screws", "", "1.5"),
    ]


def test_a_part_is_named_with_its_type_and_a_terminal_block_with_its_function(tmp_path: Path) -> None:
    path = tmp_path / "blocks.html"
    rows = [
        ("Type", "Function", "Cross-section (mm²)", "Torque (N·m)"),
        ("KV 4", "supply", "0.5 - 6", "0.6"),
        ("KV 4 PE", "protective earth", "0.5 - 6", "0.6"),
    ]
    table = write_table(path, rows).read_text(encoding="utf-8").replace("breaker OB 160", "rail-mounted terminals KV")
    path.write_text(f"{table}<p>End bracket KV-EB: screw M3, 0.5 N·m.</p>", encoding="utf-8")
    assert told(path) == [
        ("KV 4 / supply", "0.5 - 6", "0.6"),
        ("KV 4 PE / protective earth", "0.5 - 6", "0.6"),
        ("End bracket KV-EB / screw", "", "0.5 N·m"),
    ]


LEFT = {
    "Line terminals (1, N)": [
        ("Type", "Cage clamp with screw"), ("Rigid conductor", "1 - 25 mm²"), ("Tightening torque", "2.4 N·m"),
    ],
    "Load terminals (2, N)": [("Rigid conductor", "0.75 - 16 mm²"), ("Tightening torque", "1.2 N·m")],
}  # fmt: skip
RIGHT = {
    "Mechanical data": [("Width", "26 mm"), ("Depth", "69 mm")],
    "Accessory ORV-AX auxiliary contact": [("Terminal capacity", "0.5 - 1.5 mm²"), ("Tightening torque", "0.5 N·m")],
    "Ambient conditions": [("Humidity", "95 %"), ("Altitude", "2000 m")],
}


def test_blocks_in_columns_of_the_page_keep_their_own_headings(tmp_path: Path) -> None:
    texts: list[Text] = [(50, 800, "Residual current device ORV 40", -16)]
    for left, blocks in ((50, LEFT), (300, RIGHT)):
        height = 770.0
        for heading, pairs in blocks.items():
            texts.append((left, height, heading, -9))
            for name, value in pairs:
                height -= 14
                width = stringWidth(value, "Helvetica", 9)
                texts += [(left, height, name, 9), (left + 210 - width, height, value, 9)]
            height -= 20
    path = set_sheet(tmp_path / "columns.pdf", texts)
    assert told(path) == [
        ("Line terminals (1, N)", "1 - 25 mm²", "2.4 N·m"),
        ("Load terminals (2, N)", "0.75 - 16 mm²", "1.2 N·m"),
        ("Accessory ORV-AX auxiliary contact", "0.5 - 1.5 mm²", "0.5 N·m"),
    ]
    assert not any("Cage clamp" in setting.device.printed for setting in read_sheet(path).settings)


def test_a_conductor_that_unread_words_stand_before_names_no_terminal() -> None:
    (clause,) = read_clauses("I relè accettano conduttori da 0,5 a 2,5 mm². Coppia di serraggio 0,5 Nm.")
    assert not any("conduttori" in name.text for name in clause.names)


def test_a_manual_s_head_names_its_devices_and_brackets_complete_a_terminal_s_name(tmp_path: Path) -> None:
    lines = (
        ("1. Before you begin", -12),
        ("Switch off and read these instructions.", 9),
        ("2. Connection", -12),
        ("The terminal strip X4 (terminals 1 to 6) takes conductors of 0.5 to 1.5 mm². Tighten to 0.4 N·m.", 9),
        ("Tighten the power terminals according to size:", 9),
        ("- Size A: conductors of 1.5 to 4 mm², tightening torque 1.2 N·m.", 9),
        ("- Size B: conductors of 2.5 to 6 mm², tightening torque 1.5 N·m.", 9),
    )
    texts: list[Text] = [(50, 800, "Series DRV200 - Installation manual", 9)]
    texts += [(50, 770 - 24 * number, line, size) for number, (line, size) in enumerate(lines)]
    path = set_sheet(tmp_path / "manual.pdf", texts)
    assert told(path) == [
        ("terminal strip X4 (terminals 1 to 6)", "0.5 to 1.5 mm²", "0.4 N·m"),
        ("power terminals", "1.5 to 4 mm²", "1.2 N·m"),
        ("power terminals", "2.5 to 6 mm²", "1.5 N·m"),
    ]
    assert all("DRV200" in setting.device.printed for setting in read_sheet(path).settings)


def test_callouts_beside_each_other_at_other_heights_keep_their_own_figures(tmp_path: Path) -> None:
    left = ("Motor terminals 2-4-6", "2.5 - 16 mm² solid or stranded", "2.5 - 10 mm² flexible with ferrule", "2 N·m")
    right = ("Auxiliary contact ORV-HC", "4 - 16 mm²", "1.8 - 2.2 N·m")
    texts: list[Text] = [(50, 800, "Load-break switch ORV 63", -16)]
    texts += [(50, 400 - 9 * number, line, 7.5) for number, line in enumerate(left)]
    texts += [(400, 407 - 9 * number, line, 7.5) for number, line in enumerate(right)]
    assert sorted(told(set_sheet(tmp_path / "callouts.pdf", texts))) == [
        ("Auxiliary contact ORV-HC", "4 - 16 mm²", "1.8 - 2.2 N·m"),
        ("Motor terminals 2-4-6", "2.5 - 10 mm²", "2 N·m"),
        ("Motor terminals 2-4-6", "2.5 - 16 mm²", "2 N·m"),
    ]
