"""What a line between the rows says of them beyond units: the frame or the side that tells equal names apart."""

from __future__ import annotations

from collections.abc import Iterator

from torquary_ingest.document import Entry
from torquary_ingest.extractors.layout import BandState, Layout
from torquary_ingest.headings.designations import find_types
from torquary_ingest.headings.grid import text_of
from torquary_ingest.headings.sense import make_sense
from torquary_schema.roles import says_terminal, spot_roles
from torquary_schema.words import spot


def band_entries(layout: Layout, bands: BandState) -> Iterator[Entry]:
    """Yield the line over a row as part of its device or terminal, where lines part rows that bear one name.

    "PB100 frame" over "Line, Load" and "PB250 frame" over "Line, Load" name the devices; "Line side" the terminals.
    Where another line names terminals, this does too, unless it is a type: "Thermal switch" after "Secondary".
    """
    cell = bands.cell
    if cell is None or len(layout.section.bands) < 2:
        return
    text = text_of(cell)
    sense = make_sense(text)
    if spot("family", text) or sense.units or sense.figure or sense.has("torque", "conductor"):
        return
    if _repeats_names(layout) or (find_types(text) and not spot_roles(text)):
        yield Entry(field="terminal" if _names_terminals(text, layout) else "series", cell=cell)


def _names_terminals(text: str, layout: Layout) -> bool:
    if _says_which(text) or find_types(text):
        return _says_which(text)
    return any(_says_which(text_of(band.cell)) for band in layout.section.bands)


def _says_which(text: str) -> bool:
    return bool(spot_roles(text)) or says_terminal(text)


def _repeats_names(layout: Layout) -> bool:
    """Tell whether a row under one line bears the name of a row under another."""
    named = [column for column in layout.columns if column.field in ("terminal", "model", "device", "thread")]
    starts = [band.row for band in layout.section.bands]
    seen: dict[tuple[str, ...], int] = {}
    for row in layout.section.body:
        part = sum(start < row for start in starts)
        name = tuple(text_of(layout.grid.rows[row][column.index]) for column in named)
        if seen.setdefault(name, part) != part:
            return True
    return False
