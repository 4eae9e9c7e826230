"""A sheet of the invented maker Grobnickel whose figures a careful person would not take as they stand."""

from __future__ import annotations

from pathlib import Path

from drawing.figures import Row, Sheet, mm, nm
from drawing.grid import Box, Style, draw_grid, head
from drawing.page import Imprint, Paper

MAKER = "Grobnickel Works"


def draw_doubtful_sheet(folder: Path) -> Sheet:
    """Five figures to be held, each for another reason, and one that is plain."""
    sheet = Sheet(
        file="grobnickel_main_switch.pdf", maker=MAKER, shows="figures that must be held, and one that is plain"
    )
    paper = Paper(
        folder / sheet.file,
        Imprint(maker=MAKER, what="Main switch GN 100, 100 A", number="GN-100-E", edition="Issue B, 2026"),
    )
    y = paper.begin_page()
    y = paper.paragraph(56, y + 6, ["Main switch for distribution boards, 2 and 4 poles, 100 A, 415 V."])
    paper.text(56, y + 22, "Tightening torques", 11, bold=True)
    plain_size = mm("10", "35")
    lines: list[tuple[str, str, Box, Row]] = [
        (
            "Line L1, L2",
            plain_size.text(),
            Box(text="4 N·m"),
            Row(terminal="Line L1, L2", size=plain_size, torque=nm("4"), family="switch_disc"),
        ),
        (
            "Load T1, T2",
            "10–35",
            Box(text="4 N·m (22 lb·in)"),
            _held("Load T1, T2", "4 N·m is 35 lb·in: the two figures do not agree"),
        ),
        ("Neutral N", "10–35", Box(text="20 lbs"), _held("Neutral N", "pounds are no torque: lb·in or lb·ft?")),
        (
            "Earth PE",
            "6–16",
            Box(text="3 N·m", mark="1"),
            _held("Earth PE", "note 1 gives another figure for flexible conductors"),
        ),
        (
            "Auxiliary 13, 14",
            "1–4",
            Box(text="1.250 N·m"),
            _held("Auxiliary 13, 14", "1.250 can be 1.25 or 1250: the sheet shows no other decimal mark"),
        ),
        ("Alarm 95, 96", "1–4", Box(text="8"), _held("Alarm 95, 96", "no unit is printed for the figure")),
    ]
    rows: list[list[Box | str]] = [[head("Terminal"), head("Conductor mm²"), head("Torque")]]
    for terminal, size, torque, row in lines:
        rows.append([terminal, size, torque])
        sheet.add([row])
    bottom = draw_grid(paper, 56, y + 32, [150, 110, 130], rows, Style(look="ruled"))
    paper.paragraph(56, bottom + 20, ["1  2 N·m for flexible conductors with ferrule."], 8.5)
    paper.close()
    return sheet


def _held(terminal: str, why: str) -> Row:
    return Row(terminal=terminal, torque=None, why=why, family="switch_disc")
