"""Columns between gutters: which of them a text belongs to, and where a line is parted into cells."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from statistics import median

from torquary_ingest.document import Rule, Word
from torquary_ingest.tables.gutters import rich_lines
from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.lines import Chunk, Line, make_chunks
from torquary_ingest.tables.rows import Extent
from torquary_schema.values import Box

WORD_SPACE = 0.45
"""Share of the font size: a wider gap parts two cells for certain."""

FLUSH = 2.0
"""Points by which texts set flush right end apart at most (own choice)."""

RANGE_SIGNS = frozenset({"…", "...", "..", "–", "—", "÷"})
"""Words that stand between the two figures of a range."""

SHARE = 0.3
"""A text reaches into a further column when it covers this share of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """Column edges in points (outer ones too), and where each column's texts usually begin and end.

    `sides` holds for each column the usual left, middle and right of its texts, None where they vary. `gutters` are
    the strips (x0, x1) between the columns that the rows leave white.
    """

    edges: tuple[float, ...]
    sides: tuple[tuple[float | None, float | None, float | None], ...] = field(default=())
    gutters: tuple[tuple[float, float], ...] = field(default=())

    @property
    def count(self) -> int:
        """Number of columns."""
        return len(self.edges) - 1

    def at(self, x: float) -> int:
        """The column in which `x` lies."""
        return min(max(sum(e <= x for e in self.edges) - 1, 0), self.count - 1)

    def of(self, x0: float, x1: float) -> Extent:
        """First and last column that a text from `x0` to `x1` reaches into."""
        covers = [
            max(0.0, min(x1, b) - max(x0, a)) / max(b - a, 0.1)
            for a, b in zip(self.edges, self.edges[1:], strict=False)
        ]
        widths = [c * (b - a) for c, a, b in zip(covers, self.edges, self.edges[1:], strict=False)]
        best = max(range(self.count), key=lambda c: widths[c])
        low = high = best
        while low > 0 and (covers[low - 1] >= SHARE or self._covers_texts(low - 1, x0, x1)):
            low -= 1
        while high < self.count - 1 and (covers[high + 1] >= SHARE or self._covers_texts(high + 1, x0, x1)):
            high += 1
        return self.under((low, high), x0, x1)

    def _covers_texts(self, column: int, x0: float, x1: float) -> bool:
        """Tell whether a text from `x0` to `x1` stands over all of where a column's texts do, in a wide column too."""
        left, _, right = self.sides[column] if self.sides else (None, None, None)
        if left is None and right is None:
            return False
        begin = self.edges[column] if left is None else left - 1
        end = self.edges[column + 1] if right is None else right + 1
        return x0 <= begin + 2 and end - 2 <= x1

    def under(self, extent: Extent, x0: float, x1: float) -> Extent:
        """Leave out columns at the ends whose texts begin behind `x1`, or end before `x0`."""
        low, high = extent
        sides = self.sides or ((None, None, None),) * self.count
        while low < high and (begin := sides[high][0]) is not None and x1 < begin:
            high -= 1
        while low < high and (end := sides[low][2]) is not None and x0 > end:
            low += 1
        return low, high

    def text_middle(self, low: int, high: int) -> float:
        """Half-way between where the texts of column `low` begin and those of `high` end."""
        left = self.sides[low][0] if self.sides else None
        right = self.sides[high][2] if self.sides else None
        start = self.edges[low] if left is None else left
        end = self.edges[high + 1] if right is None else right
        return (start + end) / 2

    def fits(self, word: Word, column: int) -> bool:
        """Tell whether a word begins, ends or centres where the column's texts usually do."""
        if not self.sides:
            return False
        places = (word.box.x0, word.box.middle[0], word.box.x1)
        near = 0.3 * word.size
        return any(
            usual is not None and abs(usual - place) < near
            for usual, place in zip(self.sides[column], places, strict=True)
        )


def make_columns(gutters: Sequence[tuple[float, float]], lines: Sequence[Line], x0: float, x1: float) -> Columns:
    """Columns from gutters; the richest lines show where their texts usually stand."""
    edges = (min(x0, gutters[0][0]), *((a + b) / 2 for a, b in gutters), max(x1, gutters[-1][1]))
    plain = Columns(edges=edges)
    places: list[list[tuple[float, float, float]]] = [[] for _ in range(plain.count)]
    for line in rich_lines(lines):
        for chunk in line.chunks:
            a, b = plain.of(chunk.box.x0, chunk.box.x1)
            if a == b:
                places[a].append((chunk.box.x0, chunk.box.middle[0], chunk.box.x1))
    return Columns(edges=edges, sides=tuple(_sides(column) for column in places), gutters=tuple(gutters))


def _sides(places: Sequence[tuple[float, float, float]]) -> tuple[float | None, float | None, float | None]:
    """The usual left, middle and right; None where fewer than six in ten agree."""
    if len(places) < 2:
        return None, None, None
    out: list[float | None] = []
    for side in range(3):
        usual = median(p[side] for p in places)
        agree = sum(abs(p[side] - usual) < 2.0 for p in places)
        out.append(usual if agree >= 0.6 * len(places) else None)
    return out[0], out[1], out[2]


def part_line(line: Line, columns: Columns) -> list[tuple[Extent, list[Word]]]:
    """The line's texts with the columns they reach over.

    Texts part at any wide gap, and at a narrow one where the next word starts a further column's text. One text that
    begins in the first column and runs over what rows leave white is one: a name over the rows that follow.
    """
    pieces: list[tuple[Extent, list[Word]]] = []
    chunks = make_chunks(line.words, WORD_SPACE)
    if len(chunks) == 1 and _runs_over(chunks[0], columns):
        words = list(chunks[0].words)
        return [(_extent(words, columns), words)]
    for chunk in chunks:
        group: list[Word] = []
        for i, word in enumerate(chunk.words):
            if group and _starts_cell(chunk.words, i, columns):
                pieces.append((_extent(group, columns), group))
                group = []
            group.append(word)
        pieces.append((_extent(group, columns), group))
    return _without_overlong(pieces, columns)


def _without_overlong(pieces: list[tuple[Extent, list[Word]]], columns: Columns) -> list[tuple[Extent, list[Word]]]:
    """Return texts so that none reaches back into the column of the one before if it ends where its own column's do.

    A long text set flush right begins left of the strip that the shorter ones leave white.
    """
    kept = pieces[:1]
    for (low, high), words in pieces[1:]:
        last = kept[-1][0][1]
        usual = columns.sides[high][2] if columns.sides else None
        flush = usual is not None and columns.sides[high][0] is None and abs(words[-1].box.x1 - usual) <= FLUSH
        kept.append(((last + 1 if flush and low <= last < high else low, high), words))
    return kept


def _runs_over(chunk: Chunk, columns: Columns) -> bool:
    """Tell whether a text from the first column on has ink all over a strip that the rows leave white."""
    inked = (any(w.box.x0 <= a and b <= w.box.x1 for w in chunk.words) for a, b in columns.gutters)
    within = (any(a < w.box.x0 and w.box.x1 < b for w in chunk.words) for a, b in columns.gutters)
    return columns.at(chunk.box.x0) == 0 and (any(inked) or any(within))


def _extent(words: Sequence[Word], columns: Columns) -> Extent:
    box = Box.around(w.box for w in words)
    return columns.of(box.x0, box.x1)


def _starts_cell(words: Sequence[Word], i: int, columns: Columns) -> bool:
    """Tell whether word `i` of a chunk begins a cell: a figure in its column's usual place."""
    here, before = columns.at(words[i].box.middle[0]), columns.at(words[i - 1].box.middle[0])
    if here == before or _is_within_range(words[max(i - 2, 0) : i + 2]):
        return False
    if is_figure(words[i].text) and (columns.fits(words[i], here) or is_figure(words[i - 1].text)):
        return True
    return columns.fits(words[i], here) and columns.fits(words[i - 1], before)


def _is_within_range(words: Sequence[Word]) -> bool:
    """Tell whether a sign of a range stands as a word among its figures: "0.4 … 0.5" is no two cells."""
    texts = [word.text for word in words]
    triples = zip(texts, texts[1:], texts[2:], strict=False)
    return any(sign in RANGE_SIGNS and is_figure(low) for low, sign, _ in triples)


def under_rule(words: Sequence[Word], rules: Sequence[Rule], columns: Columns) -> Extent | None:
    """The columns over which a rule runs that is drawn close beneath a heading; None without one."""
    box = Box.around(w.box for w in words)
    size = max(w.size for w in words)
    for rule in sorted(rules, key=lambda r: r.at):
        if box.middle[1] < rule.at < box.bottom + 1.2 * size and rule.start - 3 <= box.x0 and box.x1 <= rule.end + 3:
            return columns.of(rule.start, rule.end)
    return None
