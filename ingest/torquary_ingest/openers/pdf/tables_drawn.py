"""pdfplumber's picture of a page with the tables and cells that were found on it, to see why a table was read so."""

from __future__ import annotations

import io
import math
import zlib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

import PIL.Image
import PIL.ImageFont
import pypdfium2
from pdfplumber.display import PageImage
from pdfplumber.utils.exceptions import MalformedPDFException

from torquary_ingest.document import Page, Rule, Seen, Table
from torquary_ingest.openers.lengths import POINTS_PER_INCH
from torquary_ingest.openers.pdf.file import open_file
from torquary_ingest.openers.pdf.paint import Bounds
from torquary_ingest.openers.pdf.plumbed_page import PlumbedPage
from torquary_schema.values import Box

DOTS_PER_INCH = 144
"""Figures of 6 pt can be read, and the whole page seen on a screen (common practice)."""

LARGEST_PICTURE = 16_000_000
"""Pixels: a page that would need more is drawn smaller."""

_TABLE, _CELL, _SPANNED, _RULE = (208, 16, 16), (0, 64, 255), (255, 200, 0, 70), (0, 150, 60)
_NO_FILL = (0, 0, 0, 0)
_OUTLINE = 3
"""Pixels of a table's outline; a cell's has one."""

_AROUND, _WITHIN = 3.0, 1.0
"""Points by which a table's outline stands off it, and a cell's within it, so that drawn rules show between them."""

_LABEL_HIGH, _LABEL_GAP = 20, 4
"""Pixels of the type in which a table's number stands beside it, and between the two."""

_LABEL = PIL.ImageFont.load_default(_LABEL_HIGH)


@dataclass(frozen=True, slots=True)
class _Frame:
    """What pdfplumber's picture asks of a page, for a page that was read as a picture."""

    bbox: Bounds
    is_original: bool = True

    @property
    def cropbox(self) -> Bounds:
        return self.bbox

    @property
    def mediabox(self) -> Bounds:
        return self.bbox


def draw_tables(path: Path, page: Page, tables: Iterable[Table], password: str) -> bytes | None:
    """Return a PNG of the page, None for one that cannot be drawn.

    Tables are outlined in red with their numbers, cells in blue, those that span filled in yellow; lines that were
    taken for rules are green.
    A page that was read as a picture is shown as it was turned and straightened for that. Raises `SheetRefused`
    for a file that cannot be opened.
    """
    try:
        image = _draw_seen(page.seen) if page.seen is not None else _draw_printed(path, page, password)
    except (MalformedPDFException, pypdfium2.PdfiumError):
        return None
    image.draw_lines([_ends(rule) for rule in page.rules], stroke=_RULE)
    for table in tables:
        _draw_table(image, table)
    drawn = io.BytesIO()
    image.save(drawn)
    return drawn.getvalue()


def _draw_printed(path: Path, page: Page, password: str) -> PageImage:
    file = open_file(path.read_bytes(), password)
    plumbed = PlumbedPage(file, file.read_pages()[page.number - 1], page.number)
    largest = POINTS_PER_INCH * math.sqrt(LARGEST_PICTURE / max(plumbed.width * plumbed.height, 1))
    return plumbed.to_image(resolution=min(DOTS_PER_INCH, largest), antialias=True)


def _draw_seen(seen: Seen) -> PageImage:
    levels = zlib.decompress(seen.packed)
    grey = PIL.Image.frombytes("L", (seen.wide, len(levels) // seen.wide), levels)
    frame = _Frame((0.0, 0.0, grey.width / seen.scale, grey.height / seen.scale))
    return PageImage(frame, original=grey.convert("RGB"), resolution=seen.scale * POINTS_PER_INCH)  # type: ignore[arg-type]


def _ends(rule: Rule) -> tuple[tuple[float, float], tuple[float, float]]:
    if rule.horizontal:
        return (rule.start, rule.at), (rule.end, rule.at)
    return (rule.at, rule.start), (rule.at, rule.end)


def _draw_table(image: PageImage, table: Table) -> None:
    for cell in table.cells:
        if cell.box is not None:
            spans = cell.row_span > 1 or cell.column_span > 1
            image.draw_rect(_grown(cell.box, -_WITHIN), fill=_SPANNED if spans else _NO_FILL, stroke=_CELL)
    if table.box is not None:
        outline = _grown(table.box, _AROUND)
        image.draw_rect(outline, fill=_NO_FILL, stroke=_TABLE, stroke_width=_OUTLINE)
        _write_label(image, outline, f"table {table.number}")


def _write_label(image: PageImage, outline: Bounds, label: str) -> None:
    """Write a table's name beside its upper right corner, where that is on the page, else over its upper left one."""
    left, top, right, _ = image._reproject_bbox(outline)
    if right + _LABEL_GAP + _LABEL.getlength(label) < image.annotated.width:
        image.draw.text((right + _LABEL_GAP, top), label, fill=_TABLE, font=_LABEL, anchor="lt")
    else:
        image.draw.text((left, top - _LABEL_GAP), label, fill=_TABLE, font=_LABEL, anchor="ls")


def _grown(box: Box, by: float) -> Bounds:
    """Return the box with each side moved outwards; one that is too small for a move inwards stays."""
    if min(box.width, box.height) <= -2 * by:
        by = 0.0
    return (box.x0 - by, box.top - by, box.x1 + by, box.bottom + by)
