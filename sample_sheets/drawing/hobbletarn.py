"""Sheets of the invented maker Hobbletarn: two editions of a breaker sheet, and terminal bars."""

from __future__ import annotations

from pathlib import Path

from drawing.device import draw_bar, draw_breaker
from drawing.figures import Row, Sheet, mm, nm
from drawing.grid import Box, Style, draw_grid, head
from drawing.page import Imprint, Paper

MAKER = "Hobbletarn Switchgear"

#: The torques of the HT6 breaker are the same in both editions.
MAIN, AUXILIARY = nm("2.0"), nm("0.6")


def draw_breaker_edition_4(folder: Path) -> Sheet:
    """Ruled table, cells merged down: one torque for two kinds of conductor."""
    sheet = Sheet(file="hobbletarn_mcb_ed4.pdf", maker=MAKER, shows="ruled, merged cells, English")
    what = "Miniature circuit-breaker HT6, 6 A to 63 A"
    paper = Paper(
        folder / sheet.file,
        Imprint(maker=MAKER, what=what, number="HT-1064", edition="Edition 4, March 2031", foot="Subject to change"),
    )
    y = paper.begin_page()
    draw_breaker(paper, 476, y)
    y = paper.paragraph(
        56,
        y + 6,
        [
            "One and two poles, characteristics B and C, for distribution boards",
            "with a 35 mm rail. Rated voltage 230/400 V AC, breaking capacity 6 kA.",
            "Protection class IP20 with the terminals covered.",
        ],
    )
    paper.text(56, y + 84, "Terminals and tightening torques", 11, bold=True)
    solid, flexible, thin = mm("1", "25"), mm("1", "16"), mm("0.5", "1.5")
    rows: list[list[Box | str]] = [
        [head("Terminal"), head("Conductor"), head("Cross-section\nmm²"), head("Torque\nN·m"), head("Drive")],
    ]
    for label in ("Line 1, 3", "Load 2, 4"):
        rows.append(
            [
                Box(text=label, down=2),
                "solid, stranded",
                Box(text=solid.text(), align="centre"),
                Box(text=MAIN.text(), down=2, align="centre"),
                Box(text="slot 1 x 5.5\ncross Z2", down=2),
            ]
        )
        rows.append(["flexible with ferrule", Box(text=flexible.text(), align="centre")])
        sheet.add(Row(terminal=label, size=size, torque=MAIN, family="mcb") for size in (solid, flexible))
    rows.append(
        [
            "Auxiliary contact 11, 14",
            "flexible with ferrule",
            Box(text=thin.text(), align="centre"),
            Box(text=AUXILIARY.text(), align="centre"),
            "slot 0.6 x 3.5",
        ]
    )
    sheet.add([Row(terminal="Auxiliary contact 11, 14", size=thin, torque=AUXILIARY, family="mcb")])
    bottom = draw_grid(paper, 56, y + 94, [120, 120, 82, 70, 88], rows, Style(look="ruled"))
    paper.text(56, bottom + 56, "Technical data", 11, bold=True)
    facts: list[list[Box | str]] = [
        ["Width of a pole", "17.5 mm"],
        ["Power loss of a pole at 63 A", "4.2 W"],
        ["Weight of a pole", "115 g"],
        ["Ambient temperature", "-25 to 55 °C"],
    ]
    draw_grid(paper, 56, bottom + 66, [170, 110], facts, Style(look="horizontal", heading_rows=0, size=8.5))
    paper.paragraph(56, bottom + 20, ["Strip length 12 mm. Copper conductors only, 75 °C."], 8.5)
    paper.close()
    return sheet


def draw_breaker_edition_3(folder: Path) -> Sheet:
    """The edition before: no rules at all, the same figures."""
    sheet = Sheet(file="hobbletarn_mcb_ed3.pdf", maker=MAKER, shows="borderless, English, an older edition")
    what = "Miniature circuit-breaker HT6, 6 A to 63 A"
    paper = Paper(
        folder / sheet.file,
        Imprint(maker=MAKER, what=what, number="HT-1064", edition="Edition 3, June 2027"),
        family="serif",
    )
    y = paper.begin_page()
    y = paper.paragraph(
        56,
        y + 6,
        ["One and two poles for distribution boards with a 35 mm rail.", "Rated voltage 230/400 V AC, 6 kA."],
        10.5,
    )
    paper.text(56, y + 26, "Connection", 12, bold=True)
    solid, flexible = mm("1", "25"), mm("1", "16")
    rows: list[list[Box | str]] = [[head("Terminal"), head("Conductor"), head("Range"), head("Torque")]]
    for label in ("Line 1, 3", "Load 2, 4"):
        for conductor, size in (("solid, stranded", solid), ("flexible with ferrule", flexible)):
            rows.append([label, conductor, size.text(unit=True), MAIN.text(unit=True)])
            sheet.add([Row(terminal=label, size=size, torque=MAIN, family="mcb")])
    draw_grid(paper, 52, y + 36, [110, 140, 100, 80], rows, Style(look="borderless", size=10.5))
    paper.close()
    return sheet


def draw_bars(folder: Path) -> Sheet:
    """Transposed table (a column for each bar), and a second table of screws that hold no conductor."""
    sheet = Sheet(
        file="hobbletarn_bars.pdf",
        maker=MAKER,
        shows="transposed, two families, mounting and cover screws beside the terminals",
    )
    what = "Earth and neutral bars for HB enclosures"
    paper = Paper(
        folder / sheet.file,
        Imprint(maker=MAKER, what=what, number="HT-2210", edition="Edition 2, January 2031"),
    )
    y = paper.begin_page()
    draw_bar(paper, 56, y + 4)
    draw_bar(paper, 236, y + 4, 5)
    y = paper.paragraph(56, y + 46, ["Brass, tinned. Each way takes one conductor. Supplied with the enclosure."])
    paper.text(56, y + 14, "Terminals", 11, bold=True)
    bars = (
        ("Earth bar EB9", "tb_pe", mm("1.5", "16"), nm("1.8"), "M5"),
        ("Neutral bar NB9", "", mm("1.5", "16"), nm("2.0"), "M5"),
        ("Neutral bar NB5", "", mm("6", "35"), nm("3.5"), "M6"),
    )
    rows: list[list[Box | str]] = [
        [head("Bar"), *(head(bar[0], align="centre") for bar in bars)],
        [head("Conductor mm²"), *(Box(text=bar[2].text(), align="centre") for bar in bars)],
        [head("Screw thread"), *(Box(text=bar[4], align="centre") for bar in bars)],
        [head("Tightening torque N·m"), *(Box(text=bar[3].text(), align="centre") for bar in bars)],
    ]
    bottom = draw_grid(paper, 56, y + 24, [130, 115, 115, 115], rows, Style(look="ruled", ground=1.0))
    sheet.add(Row(terminal=bar[0], size=bar[2], torque=bar[3], family=bar[1]) for bar in bars)
    paper.text(56, bottom + 34, "Screws of the enclosure", 11, bold=True)
    screws = (
        ("Mounting screw of the bar", "M4", nm("1.2"), "mounting"),
        ("Cover screw", "M3.5", nm("0.5"), "enclosure"),
    )
    rows = [[head("Screw"), head("Thread"), head("Torque N·m")]]
    for label, thread, torque, purpose in screws:
        rows.append([label, thread, Box(text=torque.text())])
        sheet.add([Row(terminal=label, torque=torque, purpose=purpose)])
    draw_grid(paper, 56, bottom + 44, [190, 80, 110], rows, Style(look="ruled"))
    paper.close()
    return sheet
