"""The plan that alignment alone shows: gutters part the columns, bands of words the rows."""

from __future__ import annotations

from collections.abc import Sequence, Set
from itertools import pairwise

from torquary_ingest.document import Shade, Word
from torquary_ingest.lexis.threads import is_thread
from torquary_ingest.tables.bands import make_bands
from torquary_ingest.tables.centred import Centred, find_centred
from torquary_ingest.tables.columns import make_columns
from torquary_ingest.tables.gutters import body_lines, find_gutters
from torquary_ingest.tables.head_search import LONG
from torquary_ingest.tables.heads import plan_heads
from torquary_ingest.tables.kinds import is_figure, is_year
from torquary_ingest.tables.leading import join_lines
from torquary_ingest.tables.lines import Line, make_chunks
from torquary_ingest.tables.merged_cells import spread_between
from torquary_ingest.tables.part_spans import put_reaching, row_rules, take_reaching
from torquary_ingest.tables.plan import Plan, Spot
from torquary_ingest.tables.region import Region
from torquary_ingest.tables.rows import LABEL, Band, Extent, join_rows

Held = dict[Spot, list[Word]]

_HEADED = 3
"""Columns that headings name at least, for a label under them to name rows."""


def plan_aligned(region: Region, shades: Sequence[Shade] = ()) -> tuple[Plan, Held] | None:
    """Return the plan and the words of each cell, or None when no two columns show."""
    region = _under_sentences(region)
    lines = list(region.lines)
    gutters = find_gutters(lines)
    if not gutters:
        return None
    columns = make_columns(gutters, lines, region.box.x0, region.box.x1)
    fences = sorted({*region.across, *_shade_edges(shades, region)})
    bands = join_lines(make_bands(lines, columns), fences)
    heading = _heading_count(bands, region.across)
    heads, head_rows = plan_heads(bands[:heading], columns, region.part_rules) if heading else ([], 0)
    below = region.below((bands[heading - 1].bottom + bands[heading].top) / 2) if 0 < heading < len(bands) else region
    body = spread_between(bands[heading:], columns, region.upright, shades)
    body, reaching = take_reaching(body, columns, below)
    fences = sorted({*fences, *row_rules(body, columns, below)}) if reaching else fences
    rows, centred = find_centred(join_rows(body, fences), fences)
    centred += put_reaching(rows, reaching)
    if head_rows + len(rows) < 2:
        return None
    cells: Held = dict(heads)
    for r, row in enumerate(rows, head_rows):
        cells.update(_row_cells(row, r, columns.count))
    for text in centred:
        _span(cells, text, head_rows)
    ys = _row_edges(bands[:heading], head_rows, rows, region)
    spots = tuple(sorted(cells, key=lambda s: (s.row, s.column)))
    return Plan(xs=columns.edges, ys=tuple(ys), spots=spots, means="aligned"), cells


def _under_sentences(region: Region) -> Region:
    """Return the part of a region under the last sentence over its headings: what stands over that heads no column."""
    body = body_lines(region.lines)
    above = [line for line in region.lines if body and line.box.bottom <= body[0].box.top]
    heads = next((at for at in range(len(above) - 1, -1, -1) if _is_sentence(above[at])), -1)
    if heads < 0 or not any(len(line.chunks) > 1 for line in above[heads + 1 :]):
        return region
    return region.below(above[heads].box.bottom)


def _is_sentence(line: Line) -> bool:
    return len(line.chunks) == 1 and len(line.words) >= LONG


def _shade_edges(shades: Sequence[Shade], region: Region) -> list[float]:
    """Top and bottom of shades, or rows of them side by side, that run across most of the region."""
    box = region.box
    strips: dict[tuple[int, int], float] = {}
    for s in shades:
        if s.box.top > box.top - 20 and s.box.bottom < box.bottom + 20 and s.box.height < 0.6 * box.height:
            key = (round(s.box.top), round(s.box.bottom))
            strips[key] = strips.get(key, 0.0) + max(0.0, min(s.box.x1, box.x1) - max(s.box.x0, box.x0))
    return [float(y) for (top, bottom), width in strips.items() if width > 0.7 * box.width for y in (top, bottom)]


def _heading_count(bands: Sequence[Band], across: Sequence[float]) -> int:
    """Number of bands that are headings: those above the first rule across, or above the first figures."""
    above = next((n for at in sorted(across) if (n := sum(b.middle < at for b in bands)) > 0), 0)
    columns = {e for b in bands[len(bands) // 3 :] for e in b.pieces if is_figure(b.text(e))}
    if 0 < above < len(bands) and above <= max(6, 0.4 * len(bands)) and not _holds_row(bands[:above], columns):
        return above
    count = 0
    for band in bands:
        figures = sum(is_figure(band.text(e)) for e in band.pieces if e in columns)
        if figures > 0 or count >= 5:
            break
        count += 1
    if count >= len(bands) or not columns:
        return 1
    while count > 1 and _speaks_for_rows(bands, count - 1):
        count -= 1
    while count > 1 and (_names_rows(bands, count - 1) or _gives_thread(bands, count - 1)):
        count -= 1
    return count


def _speaks_for_rows(bands: Sequence[Band], at: int) -> bool:
    """Tell whether a line under the columns' headings stands alone, as far from them as from the first row.

    It runs on from the first column into others: a name over the rows that follow, no heading of columns.
    """
    pieces = sorted(bands[at].pieces.items())
    headed = {c for band in bands[:at] for a, b in band.pieces for c in range(a, b + 1)}
    over, under = bands[at].top - bands[at - 1].bottom, bands[at + 1].top - bands[at].bottom
    words = [word for _, piece in pieces for word in piece]
    runs_on = len(make_chunks(words)) == 1
    reach = pieces[-1][0][1]
    return runs_on and pieces[0][0][0] == 0 < reach and reach in headed and over >= 0.85 * under


def _names_rows(bands: Sequence[Band], at: int) -> bool:
    """Tell whether a band under headings is a label alone, nearer to the row below than to the heading above.

    It names the rows that follow; a further line of the first column's heading stands close under it.
    """
    above, band, below = bands[at - 1 : at + 2]
    headed = {extent for one in bands[:at] for extent in one.pieces}
    if set(band.pieces) != {LABEL} or len(headed) < _HEADED or not (len(below.pieces) > 1 or _is_row(bands, at + 1)):
        return False
    words, first = band.pieces[LABEL], band.text(LABEL)[:1]
    spaced = band.top - above.bottom > 0.3 * max(word.size for word in words)
    return first.isupper() and spaced and band.top - above.bottom > below.top - band.bottom - 1


def _is_row(bands: Sequence[Band], at: int) -> bool:
    """Tell whether a label alone stands over another row: a name within a name ("Connections", "Main terminals")."""
    return set(bands[at].pieces) == {LABEL} and at + 1 < len(bands) and len(bands[at + 1].pieces) > 1


def _gives_thread(bands: Sequence[Band], at: int) -> bool:
    """Tell whether a band is a row of a list that gives threads ("Terminal screw | M4"), under headings of its own."""
    texts = [bands[at].text(extent) for extent in bands[at].pieces if extent != LABEL]
    return LABEL in bands[at].pieces and any(map(is_thread, texts))


def _holds_row(bands: Sequence[Band], figured: Set[Extent]) -> bool:
    """Tell whether a band holds a row of figures rather than headings; years may head columns.

    Without a name, of several rows perhaps, a row has words where the body has words ("rigid | 4–10 | 2.5"); sizes
    alone head columns.
    """
    for band in bands:
        figures = {extent for extent in band.pieces if is_figure(text := band.text(extent)) and not is_year(text)}
        words = band.pieces.keys() - figures
        if len(figures) > len(words) and (band.text(LABEL) or (words and not words & figured)):
            return True
    return False


def _row_cells(row: Band, number: int, columns: int) -> Held:
    """Cells of one body row; a text over several columns takes them all with what else stands there."""
    cells: Held = {}
    start = 0
    for a, b in _merged(sorted(row.pieces)):
        for c in range(start, a):
            cells[Spot(row=number, column=c)] = []
        words = [w for (p, q), ws in row.pieces.items() if a <= p and q <= b for w in ws]
        cells[Spot(row=number, column=a, column_span=b - a + 1)] = words
        start = b + 1
    for c in range(start, columns):
        cells[Spot(row=number, column=c)] = []
    return cells


def _span(cells: Held, text: Centred, head_rows: int) -> None:
    """Let a centred text span the rows that it covers."""
    (low, high), first = text.extent, head_rows + text.row
    words = cells.pop(Spot(row=first, column=low, column_span=high - low + 1), None)
    if words is None:
        return
    for row in range(first + 1, first + text.count):
        for column in range(low, high + 1):
            cells.pop(Spot(row=row, column=column), None)
    cells[Spot(row=first, column=low, row_span=text.count, column_span=high - low + 1)] = words


def _merged(extents: Sequence[Extent]) -> list[Extent]:
    """Extents that overlap taken as one."""
    out: list[Extent] = []
    for a, b in extents:
        if out and a <= out[-1][1]:
            out[-1] = (out[-1][0], max(out[-1][1], b))
        else:
            out.append((a, b))
    return out


def _row_edges(heads: Sequence[Band], head_rows: int, rows: Sequence[Band], region: Region) -> list[float]:
    """Row edges half-way between rows; heading rows share their height evenly."""
    first = min(region.box.top, heads[0].top if heads else rows[0].top)
    edges = [first]
    if head_rows:
        end = (heads[-1].bottom + rows[0].top) / 2 if rows else region.box.bottom
        edges += [first + (end - first) * k / head_rows for k in range(1, head_rows + 1)]
    edges += [(a.bottom + b.top) / 2 for a, b in pairwise(rows)]
    if rows:
        edges.append(max(region.box.bottom, rows[-1].bottom))
    return edges
