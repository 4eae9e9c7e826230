"""Draw all sample datasheets, each with its truth beside it.

    python sample_sheets/draw_sheets.py [FOLDER]

The sheets are those of an invented ferry yard, Larkspindle Quay: board A in the ticket office (Hobbletarn
breakers and bars, a Pelquorre main switch), board B in the workshop (Zwirbelhorn devices, Mossgrindle terminal
blocks, an Orvantzel surge device, Duskwarren contactors), board C in the boathouse (a Kuzuribe breaker, an old
Grobnickel main switch), board D on the slipway (Quelmoor devices, whose figures come as workbooks and a web
page). No maker, device or place in them exists. NAME.truth.json says what a careful person
reads from NAME, from the same figures that are printed; it owes nothing to the reader under test.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

from drawing import (
    duskwarren,
    grobnickel,
    hobbletarn,
    kuzuribe,
    mossgrindle,
    orvantzel,
    pelquorre,
    quelmoor,
    zwirbelhorn,
)
from drawing.figures import Sheet

DRAWINGS: tuple[Callable[[Path], Sheet], ...] = (
    hobbletarn.draw_breaker_edition_4,
    hobbletarn.draw_breaker_edition_3,
    hobbletarn.draw_bars,
    zwirbelhorn.draw_protective_devices,
    pelquorre.draw_main_switch,
    duskwarren.draw_contactor,
    kuzuribe.draw_breaker_japanese,
    mossgrindle.draw_terminal_blocks,
    mossgrindle.write_spreadsheet,
    orvantzel.draw_surge_device,
    orvantzel.write_unicode_text,
    grobnickel.draw_doubtful_sheet,
    quelmoor.write_workbook,
    quelmoor.write_open_document,
    quelmoor.save_web_page,
)


def draw_all(folder: Path) -> list[Sheet]:
    """Draw every sheet into the folder and write its truth file; return the sheets."""
    folder.mkdir(parents=True, exist_ok=True)
    sheets = [draw(folder) for draw in DRAWINGS]
    for sheet in sheets:
        sheet.write_truth(folder)
    return sheets


if __name__ == "__main__":
    for drawn in draw_all(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent):
        print(f"{drawn.file}: {drawn.shows}, {len(drawn.rows)} rows")
