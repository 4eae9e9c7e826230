"""Lists of properties whose names stand over their values, all names in one style, all values in another: cards.

"Conductor, top" in small type, "6-50 mm² solid or stranded" in bold under it, close; then the next name, further off.
Each list is a table of names and values, and what stands over it its caption.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

from torquary_ingest.document import Cell, Table, Word
from torquary_ingest.tables.lines import EDGE, Chunk, make_lines
from torquary_ingest.tables.wording import text_of
from torquary_schema.values import Box

_LEAST = 3
"""Properties in a style of names and values, in one list of the page at least (own choice)."""

_SPACE = 2.0
"""Sizes of type: a wider gap on a line parts two lists (own choice)."""

_CLOSE = 0.8
"""Sizes of type between a name and its value, and between the lines of a value, at most (own choice)."""

_FAR = 2.5
"""Sizes of type between a value and the next name at most (own choice)."""

_LARGER = 1.15
"""Size of a value's type over that of its name at least, where both are bold or neither is (own choice)."""

_TITLE = 3.0
"""Sizes of its type between a title and its list at most: a line of description stands between (own choice)."""

Style = tuple[int, bool]
"""Size of type in tenths of a point, and whether it is bold."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Property:
    """A name and the lines of the value under it."""

    name: Chunk
    value: tuple[Chunk, ...]

    @property
    def chunks(self) -> tuple[Chunk, ...]:
        return (self.name, *self.value)

    @property
    def style(self) -> tuple[Style, Style]:
        return _style(self.name), _style(self.value[0])


def find_named_above(words: Sequence[Word], page: int) -> list[Table]:
    """Return the lists of a page, each a table of two columns; `page` counts from 1."""
    chunks = [chunk for line in make_lines(words, _SPACE) for chunk in line.chunks]
    lists = [one for column in _columns(chunks) for one in _lists_in(column)]
    full = {one[0].style for one in lists if len(one) >= _LEAST}
    kept = [one for one in lists if one[0].style in full]
    alone = [one for one in kept if _stand_alone([p for p in kept if p[0].style == one[0].style], chunks)]
    return [_as_table(one, title, page) for one, title in zip(alone, _titles(alone, chunks), strict=True)]


def _titles(lists: Sequence[Sequence[_Property]], chunks: Sequence[Chunk]) -> list[Chunk | None]:
    """Return the title of each list, printed alike over several of them; None for a list without one."""
    over = [_largest_over(one[0].name, chunks) for one in lists]
    styles = [_style(title) for title in over if title is not None]
    return [title if title is not None and styles.count(_style(title)) > 1 else None for title in over]


def _largest_over(name: Chunk, chunks: Sequence[Chunk]) -> Chunk | None:
    """Return the text in bold and the largest type among those close over a list that begin where it does."""
    above = [c for c in chunks if abs(c.box.x0 - name.box.x0) <= EDGE and c.box.bottom <= name.box.top + EDGE]
    near = [c for c in above if name.box.top - c.box.bottom <= _TITLE * c.size]
    return max(near, key=lambda chunk: _style(chunk)[::-1], default=None)


def _columns(chunks: Sequence[Chunk]) -> list[list[Chunk]]:
    """Return the texts that begin at the same place, from the top down."""
    ordered = sorted(chunks, key=lambda chunk: chunk.box.x0)
    columns: list[list[Chunk]] = []
    for chunk in ordered:
        if columns and chunk.box.x0 - columns[-1][0].box.x0 <= EDGE:
            columns[-1].append(chunk)
        else:
            columns.append([chunk])
    return [sorted(column, key=lambda chunk: chunk.box.top) for column in columns]


def _lists_in(column: Sequence[Chunk]) -> Iterator[list[_Property]]:
    """Yield the properties that follow one another in one style."""
    found = list(_properties_in(column))
    run: list[_Property] = []
    for one in found:
        if run and not _follows(run, one):
            yield run
            run = []
        run.append(one)
    if run:
        yield run


def _properties_in(column: Sequence[Chunk]) -> Iterator[_Property]:
    """Yield each name with the lines of its value, the next name further off than the value."""
    blocks = [list(block) for _, block in groupby(column, key=_style)]
    last: list[Chunk] = []
    for above, block in pairwise(blocks):
        name, value = above[-1], [block[0]]
        for line in block[1:]:
            if not _is_close(value[-1], line):
                break
            value.append(line)
        alone = name not in last and (len(above) == 1 or not _is_close(above[-2], name))
        if alone and _stands_out(value[0], name) and _is_close(name, value[0]):
            last = value
            yield _Property(name=name, value=tuple(value))


def _follows(run: Sequence[_Property], one: _Property) -> bool:
    """Tell whether a property is the next of a list: in its style, and further from the last than name from value."""
    last = run[-1]
    gap = one.name.box.top - last.value[-1].box.bottom
    within = max(p.value[0].box.top - p.name.box.bottom for p in (last, one))
    return one.style == last.style and within < gap <= _FAR * one.value[0].size


def _stands_out(value: Chunk, name: Chunk) -> bool:
    """Tell whether a value is printed larger than its name, or bold under a plain one."""
    (size, bold), (of_name, bold_name) = _style(value), _style(name)
    return (bold and not bold_name and size >= of_name) or (bold == bold_name and size >= _LARGER * of_name)


def _is_close(above: Chunk, below: Chunk) -> bool:
    return -above.box.height / 2 < below.box.top - above.box.bottom <= _CLOSE * max(above.size, below.size)


def _style(chunk: Chunk) -> Style:
    return round(10 * chunk.size), all(word.bold for word in chunk.words)


def _stand_alone(lists: Sequence[Sequence[_Property]], chunks: Sequence[Chunk]) -> bool:
    """Tell whether beside most properties of a style stands nothing but others of them: they are no table's cells."""
    listed = [one for run in lists for one in run]
    held = {id(chunk) for one in listed for chunk in one.chunks}
    others = [chunk.box for chunk in chunks if id(chunk) not in held]
    beside = sum(any(box.level_with(chunk.box) for chunk in one.chunks for box in others) for one in listed)
    return 2 * beside < len(listed)


def _as_table(listed: Sequence[_Property], title: Chunk | None, page: int) -> Table:
    cells = [
        _cell(row, column, chunks)
        for row, one in enumerate(listed, start=1)
        for column, chunks in enumerate(((one.name,), one.value), start=1)
    ]
    return Table(
        page=page,
        number=1,
        rows=len(listed),
        columns=2,
        cells=tuple(cells),
        box=Box.around(chunk.box for one in listed for chunk in one.chunks),
        means="aligned",
        title=_cell(1, 1, (title,)) if title is not None else None,
    )


def _cell(row: int, column: int, chunks: Sequence[Chunk]) -> Cell:
    words = tuple(word for chunk in chunks for word in chunk.words)
    box = Box.around(chunk.box for chunk in chunks)
    marks = tuple(mark for word in words for mark in word.marks)
    doubts = tuple(dict.fromkeys(doubt for word in words for doubt in word.doubts))
    return Cell(row=row, column=column, text=text_of(words), box=box, marks=marks, doubts=doubts, words=words)
