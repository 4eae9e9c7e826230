"""Small pictures of printed rows with one cell outlined: the evidence that travels with a figure."""

from __future__ import annotations

import math
import struct
import zlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from torquary_schema.values import Box, Place

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

    from torquary_ingest.document import Page, Seen

DOTS_PER_POINT = 1.5
"""108 dpi: figures of 6 pt can be read, and a row takes a few thousand bytes."""

LARGEST_PAGE = 8_000_000
"""Pixels of a rendered page; one that would need more is rendered smaller, and not at all below half the size."""

MOST_PICTURES = 5000

_AROUND = 14.0
_MARGIN = 3.0
_HIGHEST = 400.0
_TALL = 40.0
_OUTLINE = 15
_GAP = 7
_MOST_AROUND = 60
"""Cells and lines that are shown around a row, at most."""
_PALETTE = bytes(level for grey in range(15) for level in [round(grey * 255 / 14)] * 3) + b"\xd0\x10\x10"


@dataclass(frozen=True, slots=True)
class _Shown:
    """A page as grey levels 0 to 14 (white), rows from the top, with its scale in pixels per point."""

    grey: NDArray[numpy.uint8]
    scale: float


def draw_rows(
    path: Path,
    places: Iterable[Place],
    *,
    seen: Iterable[Page] = (),
    password: str = "",
    around: Mapping[Place, Sequence[Box]] | None = None,
) -> dict[Place, bytes]:
    """Return a PNG for each place with a page and a box: the strip of the page around it, the cell outlined.

    The strips of the boxes `around` it (headings, notes) stand over and under its own, as on the page. Of the pages
    `seen` as pictures the upright picture is shown. A file that is no PDF, a page that cannot be
    rendered and a place without a box give none; never raises for what is in the file.
    """
    wanted: dict[int, list[Place]] = {}
    for place in list(dict.fromkeys(places))[:MOST_PICTURES]:
        if place.page is not None and place.box is not None:
            wanted.setdefault(place.page, []).append(place)
    scanned = {page.number: page.seen for page in seen if page.seen is not None}
    drawn: dict[Place, bytes] = {}
    beside = around or {}
    for number in sorted(scanned.keys() & wanted.keys()):
        drawn |= _draw(_unpack(scanned[number]), wanted.pop(number), beside)
    return drawn | _draw_printed(path, wanted, password, beside)


def _unpack(seen: Seen) -> _Shown:
    import numpy

    levels = numpy.frombuffer(zlib.decompress(seen.packed), dtype=numpy.uint8).reshape(-1, seen.wide)
    return _Shown((levels.astype(numpy.uint16) * 14 // 255).astype(numpy.uint8), seen.scale)


def _draw_printed(
    path: Path, wanted: dict[int, list[Place]], password: str, around: Mapping[Place, Sequence[Box]]
) -> dict[Place, bytes]:
    if not wanted or not _is_pdf(path):
        return {}
    import pypdfium2

    try:
        document = pypdfium2.PdfDocument(path, password=password or None)
    except pypdfium2.PdfiumError:
        return {}
    try:
        document.init_forms()
        shown = ((_render(document, number), wanted[number]) for number in sorted(wanted))
        drawn = (_draw(page, places, around) for page, places in shown if page is not None)
        return {place: png for each in drawn for place, png in each.items()}
    finally:
        document.close()


def _is_pdf(path: Path) -> bool:
    with path.open("rb") as file:
        return b"%PDF" in file.read(1024)


def _draw(shown: _Shown, places: list[Place], around: Mapping[Place, Sequence[Box]]) -> dict[Place, bytes]:
    return {
        place: _write_png(_stack(shown, place.box, around.get(place, ()))) for place in places if place.box is not None
    }


def _render(document: Any, number: int) -> _Shown | None:
    """Return the page in sixteen levels; None when it is not there, cannot be rendered or is too large."""
    import numpy
    import pypdfium2

    if not 1 <= number <= len(document):
        return None
    try:
        page = document[number - 1]
        wide, high = page.get_size()
        scale = min(DOTS_PER_POINT, math.sqrt(LARGEST_PAGE / max(wide * high, 1)))
        if scale < DOTS_PER_POINT / 2:
            return None
        levels = page.render(scale=scale, grayscale=True).to_numpy()
    except pypdfium2.PdfiumError:
        return None
    levels = levels.reshape(levels.shape[0], levels.shape[1])
    return _Shown((levels.astype(numpy.uint16) * 14 // 255).astype(numpy.uint8), scale)


def _stack(shown: _Shown, box: Box, around: Sequence[Box]) -> NDArray[numpy.uint8]:
    """Return the strip of the page at the box's height with the box outlined, under and over it those `around` it.

    Blank edges are cut off; where the page has more between two strips there is a line.
    """
    import numpy

    box = _fit(shown, box)
    page = shown.grey.copy()
    _outline(page, shown, box)
    spans = _spans(shown, [box, *around])
    gap = numpy.full((1, page.shape[1]), _GAP, dtype=numpy.uint8)
    strips = [page[top:bottom] for top, bottom in spans]
    strip = numpy.concatenate([part for each in strips for part in (gap, each)][1:])
    inked = numpy.flatnonzero(((strip < 14) & (strip != _GAP) | (strip == _OUTLINE)).any(axis=0))
    left, right = (int(inked[0]), int(inked[-1])) if inked.size else (0, page.shape[1])
    return strip[:, max(left - 6, 0) : right + 7]


def _spans(shown: _Shown, boxes: Sequence[Box]) -> list[tuple[int, int]]:
    """Return the heights of boxes in pixels, from the top, the first with what is around it; what touches is one."""
    own = boxes[0]
    own = Box(x0=own.x0, top=own.top - _AROUND, x1=own.x1, bottom=min(own.bottom, own.top + _HIGHEST) + _AROUND)
    near = [one for one in boxes[1:] if one.height <= _TALL][:_MOST_AROUND]
    high = shown.grey.shape[0]
    heights = sorted((one.top - _MARGIN, one.bottom + _MARGIN) for one in (own, *near))
    found: list[tuple[int, int]] = []
    for top, bottom in ((round(top * shown.scale), round(bottom * shown.scale)) for top, bottom in heights):
        first, last = min(max(top, 0), high - 1), min(max(bottom, 1), high)
        if found and first <= found[-1][1] + round(_AROUND * shown.scale):
            found[-1] = (found[-1][0], max(last, found[-1][1]))
        else:
            found.append((first, max(last, first + 1)))
    return found


def _outline(page: NDArray[numpy.uint8], shown: _Shown, box: Box) -> None:
    """Draw the box's outline into the page."""
    high, wide = page.shape

    def pixel(length: float, most: int) -> int:
        return min(max(round(length * shown.scale), 0), most)

    x0, x1 = pixel(box.x0 - _MARGIN, wide - 1), pixel(box.x1 + _MARGIN, wide - 1)
    y0 = pixel(box.top - _MARGIN, high - 1)
    y1 = pixel(min(box.bottom, box.top + _HIGHEST) + _MARGIN, high - 1)
    for line in (0, 1):
        page[max(y0 - line, 0), x0 : x1 + 1] = _OUTLINE
        page[min(y1 + line, high - 1), x0 : x1 + 1] = _OUTLINE
        page[y0 : y1 + 1, max(x0 - line, 0)] = _OUTLINE
        page[y0 : y1 + 1, min(x1 + line, wide - 1)] = _OUTLINE


def _fit(shown: _Shown, box: Box) -> Box:
    """Draw a tall box in to its print: the last row of a table without rules may reach to the foot of the page."""
    import numpy

    if box.height <= _TALL:
        return box
    x0, x1 = (round(side * shown.scale) for side in (box.x0, box.x1))
    top, bottom = (round(side * shown.scale) for side in (box.top, box.bottom))
    inked = numpy.flatnonzero((shown.grey[max(top, 0) : bottom, max(x0, 0) : x1] < 10).any(axis=1))
    if not inked.size:
        return box
    first, last = (float(max(top, 0) + row) / shown.scale for row in (inked[0], inked[-1]))
    return Box(x0=box.x0, top=max(box.top, first - _MARGIN), x1=box.x1, bottom=min(box.bottom, last + _MARGIN))


def _write_png(levels: NDArray[numpy.uint8]) -> bytes:
    """Return the levels as PNG with a palette of fifteen greys and the outline's red (ISO/IEC 15948)."""
    import numpy

    high, wide = levels.shape
    even = numpy.pad(levels, ((0, 0), (0, wide % 2)))
    packed = (even[:, 0::2] << 4) | even[:, 1::2]
    rows = numpy.pad(packed, ((0, 0), (1, 0))).tobytes()
    header = struct.pack(">IIBBBBB", wide, high, 4, 3, 0, 0, 0)
    chunks = ((b"IHDR", header), (b"PLTE", _PALETTE), (b"IDAT", zlib.compress(rows, 9)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data)) for kind, data in chunks
    )
