"""Names printed once for several rows of a table without a grid: rows that surely go on from the one above.

A name may stand in the first row of its group, the middle one or the last. What is taken is the first alone, and only
where the others cannot be: groups with their names in the last row, or in the middle, do not come out, or would hold
rows that are of two things. A file of cells has no middle: what is printed once stands in the first row there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from torquary_ingest.extractors.layout import Layout
from torquary_ingest.headings.column import Column
from torquary_ingest.headings.grid import text_of
from torquary_ingest.lexis.dashes import is_dash

NAMES = ("device", "model", "series", "terminal")
"""What may be printed once for a group."""

OF_TERMINAL = ("torque", "torque_min", "torque_max", "drive", "bit", "thread", "strip_length")
"""What goes with a terminal's name, where it is printed in the same rows as the name."""

LEAST = 2
"""Groups of several rows that show the names to stand for groups: one row without a name may be for all."""

_TELLING = (*NAMES, "stranding", "material", "ferrule", "clamp", "purpose")

GoingOn = dict[tuple[int, int], int]


def find_going_on(layout: Layout) -> GoingOn:
    """Return for each blank cell (row, column index) that surely says what one above does, the row of that one."""
    found: GoingOn = {}
    if layout.grid.across or layout.grid.table.means not in ("aligned", "given"):
        return found
    runs = list(_runs(layout))
    for column in layout.columns:
        if column.field not in NAMES or not _stands_first(layout, runs, column):
            continue
        starts = {row: group[0] for run in runs for group in _groups(layout, run, column) for row in group[1:]}
        mates = [column] if column.field != "terminal" else [column, *_printed_with(layout, column, starts)]
        found |= {(row, mate.index): first for row, first in starts.items() for mate in mates}
    return found


def _runs(layout: Layout) -> Iterator[list[int]]:
    """Yield the body rows between names over rows."""
    run: list[int] = []
    for row in layout.section.body:
        if run and any(run[-1] < band.row < row for band in layout.section.bands):
            yield run
            run = []
        run.append(row)
    if run:
        yield run


def _groups(layout: Layout, run: Sequence[int], column: Column) -> list[list[int]]:
    """Return the rows of a run in groups, each from a row with a name on."""
    starts = [at for at, row in enumerate(run) if at == 0 or _text(layout, row, column)]
    return [list(run[a:b]) for a, b in pairwise([*starts, len(run)])]


def _stands_first(layout: Layout, runs: Sequence[list[int]], column: Column) -> bool:
    """Tell whether the names of a column stand in the first row of their groups, and cannot stand elsewhere in them."""
    if _stand_between(layout, column):
        return False
    named = [[bool(_text(layout, row, column)) for row in run] for run in runs]
    groups = [group for run in runs for group in _groups(layout, run, column)]
    if not all(one[0] for one in named) or sum(len(group) > 1 for group in groups) < LEAST:
        return False

    if layout.grid.table.means == "given":
        return not any(_is_no_group(layout, group, column) for group in groups)

    def fails(placed: list[list[int]] | None) -> bool:
        return placed is None or any(_is_no_group(layout, group, column) for group in placed)

    pairs = list(zip(runs, named, strict=True))
    last = any(fails(_groups_at_end(run, one)) for run, one in pairs)
    middle = any(fails(_groups_in_middle(run, one)) for run, one in pairs)
    return last and middle and not fails(groups)


def _stand_between(layout: Layout, column: Column) -> bool:
    """Tell whether a name of a column stands between the lines of rows, or on one of its own: it is centred on them."""
    for row in layout.section.body:
        cells = layout.grid.rows[row]
        name, *others = [cells[column.index], *(cell for cell in cells if cell is not cells[column.index])]
        lines = [word.box for cell in others if cell is not None for word in cell.words]
        first = next((word.box for word in name.words), None) if name is not None else None
        if first is not None and not any(first.level_with(box) for box in lines):
            return True
    return False


def _groups_at_end(run: Sequence[int], named: Sequence[bool]) -> list[list[int]] | None:
    """Return the groups of a run if each name stood in the last row of its own; None where they do not come out."""
    ends = [0, *(at + 1 for at, name in enumerate(named) if name)]
    return [list(run[a:b]) for a, b in pairwise(ends)] if named[-1] else None


def _groups_in_middle(run: Sequence[int], named: Sequence[bool]) -> list[list[int]] | None:
    """Return the groups of a run if each name stood in the middle of its own; None where they do not come out."""
    groups: list[list[int]] = []
    begin = 0
    for at in (at for at, name in enumerate(named) if name):
        end = 2 * at - begin + 1
        if at < begin or end > len(run):
            return None
        groups.append(list(run[begin:end]))
        begin = end
    return groups if begin == len(run) else None


def _is_no_group(layout: Layout, group: Sequence[int], column: Column) -> bool:
    """Tell whether rows cannot be of one name: two of them say the same, or one has a dash where another has a word."""
    telling = [other for other in layout.columns if other.field in _TELLING and other is not column]
    texts = [tuple(_text(layout, row, other) for other in telling) for row in group]
    bare = [all(not text or is_dash(text) for text in row) for row in texts]
    return bool(telling) and (len(set(texts)) < len(texts) or (any(bare) and not all(bare)))


def _printed_with(layout: Layout, column: Column, going_on: dict[int, int]) -> list[Column]:
    """Return the columns of what is tightened, and how, that are printed where the name is and nowhere else."""
    return [
        other
        for other in layout.columns
        if other.field in OF_TERMINAL
        and all(bool(_text(layout, row, other)) == (row not in going_on) for row in layout.section.body)
    ]


def _text(layout: Layout, row: int, column: Column) -> str:
    cells = layout.grid.rows[row]
    return text_of(cells[column.index]) if column.index < len(cells) else ""
