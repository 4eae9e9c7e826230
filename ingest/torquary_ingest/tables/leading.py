"""Texts of several lines in a table without a full grid: lines closer than rows are lines of one row.

Only a table that shows two distances is taken so: a close one between the lines of a text, and a wider one from row
to row. Where all lines are equally far apart, nothing tells rows from lines.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from torquary_ingest.tables.half_lines import LEADING, LEVEL
from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.rows import Band, Extent, fenced, unfinished

APART = 1.25
"""Times the distance of lines from which on a distance is one of rows."""


def join_lines(bands: Sequence[Band], fences: Sequence[float] = ()) -> list[Band]:
    """Join bands that are lines of one row, where their distances show it and no fence (a rule's height) parts them."""
    close = _close(bands)
    if close <= 0:
        return list(bands)
    joined: list[Band] = []
    for block in _blocks(_with_their_texts(bands, close, fences), close, fences):
        if len(block) > 1 and (_is_row(block) or _runs_through(block)):
            row = block[0].copy()
            for band in block[1:]:
                row.absorb(band)
            joined.append(row)
        else:
            joined += block
    return joined


def _with_their_texts(bands: Sequence[Band], close: float, fences: Sequence[float]) -> list[Band]:
    """Give lines that reach down beside the next row to the text that they go on.

    Such a line is level with nothing of that row, or stands alone between the rows with nothing of its column below.
    """
    kept: list[Band] = []
    for at, band in enumerate(bands):
        band = band.copy()
        upper = kept[-1] if kept else band
        after = bands[at + 1].pieces if at + 1 < len(bands) else {}
        near = {e for e in band.pieces if e in upper.pieces and 0 < _top(band, e) - _last_top(upper, e) <= close + 0.5}
        alone = set(band.pieces) == near and len(near) == 1 < len(upper.pieces) and not near & set(after)
        for extent in near if not fenced(upper, band, fences) else ():
            if not is_figure(band.text(extent)) and (alone or _is_unlevel(band, extent)):
                upper.add(extent, band.pieces.pop(extent))
        if band.pieces:
            band.top = min(_top(band, extent) for extent in band.pieces)
            kept.append(band)
    return kept


def _is_unlevel(band: Band, extent: Extent) -> bool:
    """Tell whether every other text of a band begins above the first line of a text, or below its last."""
    off = LEVEL * max(word.size for word in band.pieces[extent])
    first, last = _top(band, extent) - off, _last_top(band, extent) + off
    tops = [_top(band, other) for other in band.pieces if other != extent]
    return bool(tops) and not any(first <= top <= last for top in tops)


def _top(band: Band, extent: Extent) -> float:
    return min(word.box.top for word in band.pieces[extent])


def _close(bands: Sequence[Band]) -> float:
    """Return the largest distance between lines of one text, in points; 0 when the table shows no two distances.

    Figures one under the other are rows: where they stand as close as lines do, nothing tells the two apart.
    """
    tops: dict[Extent, list[tuple[float, bool]]] = {}
    for band in bands:
        for extent in band.pieces:
            tops.setdefault(extent, []).append((_top(band, extent), is_figure(band.text(extent))))
    pairs = [pair for column in tops.values() for pair in pairwise(column)]
    steps = sorted(lower - upper for (upper, _), (lower, _) in pairs)
    rows = [lower - upper for (upper, one), (lower, other) in pairs if one and other]
    size = max((word.size for band in bands for words in band.pieces.values() for word in words), default=0.0)
    close = [step for step in steps if step <= LEADING * size]
    if not close or len(close) == len(steps) or min((*rows, steps[len(close)])) < APART * close[-1]:
        return 0.0
    return close[-1]


def _blocks(bands: Sequence[Band], close: float, fences: Sequence[float]) -> Iterator[list[Band]]:
    """Yield runs of bands that follow each other closely."""
    block: list[Band] = []
    for band in bands:
        apart = block and band.top - max(_last_top(block[-1], extent) for extent in block[-1].pieces) > close + 0.5
        if block and (apart or fenced(block[-1], band, fences)):
            yield block
            block = []
        block.append(band)
    if block:
        yield block


def _last_top(band: Band, extent: Extent) -> float:
    """Return where the lowest line of a text begins."""
    return max(word.box.top for word in band.pieces[extent])


def _is_row(block: Sequence[Band]) -> bool:
    """Tell whether lines are one row: figures, one to a column at the most, and no text above one of them.

    A line in bold over one that is not names rows; a text over a figure may head its column.
    """
    figures: set[int] = set()
    texts: set[int] = set()
    for band in block:
        for low, high in sorted(band.pieces):
            columns = set(range(low, high + 1))
            if is_figure(band.text((low, high))):
                if columns & (figures | texts):
                    return False
                figures |= columns
            else:
                texts |= columns - figures
    return bool(figures) and not _is_named(block)


def _runs_through(block: Sequence[Band]) -> bool:
    """Tell whether lines without a figure of their own are one row: in each but the last a text breaks off."""
    if any(is_figure(band.text(extent)) for band in block for extent in band.pieces):
        return False
    row = block[0].copy()
    for band in block[1:]:
        if not any(_breaks_off(row.text(extent)) for extent in band.pieces if extent in row.pieces):
            return False
        row.absorb(band)
    return not _is_named(block)


def _breaks_off(text: str) -> bool:
    return unfinished(text) or text.count("(") > text.count(")")


def _is_named(block: Sequence[Band]) -> bool:
    first, rest = block[0], block[1:]
    bold = all(word.bold for words in first.pieces.values() for word in words)
    return bold and not any(word.bold for band in rest for words in band.pieces.values() for word in words)
