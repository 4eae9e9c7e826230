"""Upright words as lines, and lines as chunks: words that stand no further apart than a word space."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from statistics import median

from torquary_ingest.document import Word
from torquary_schema.values import Box

SPACE = 0.8
"""Share of the font size: a wider gap parts two chunks of a line."""

EDGE = 2.0
"""Points by which texts that begin a column, or rules of one list, differ in their ends at most (own choice)."""

OVERLAP = 0.1
"""Share of its height by which a line reaches up beside others of its row; lines of close text may touch."""

MOST_OVERLAPPING = 4
"""Lines of a row that overlap, at the most, unless they are texts of fewer lines side by side."""

MOST_STACKED = 2
"""Lines above each other in a row in which more lines overlap, at the most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chunk:
    """Words of one line that stand together, from left to right."""

    words: tuple[Word, ...]
    box: Box

    @property
    def text(self) -> str:
        """The words, blanks between."""
        return " ".join(w.text for w in self.words)

    @property
    def size(self) -> float:
        """The middle font size in points."""
        return median(w.size for w in self.words)


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """Chunks on one line, from left to right."""

    chunks: tuple[Chunk, ...]
    box: Box

    @property
    def words(self) -> tuple[Word, ...]:
        """All words of the line."""
        return tuple(w for c in self.chunks for w in c.words)

    @property
    def bold(self) -> bool:
        """Whether all of its words are bold."""
        return all(word.bold for word in self.words)

    @property
    def size(self) -> float:
        """The middle font size in points."""
        return median(w.size for w in self.words)


def make_chunks(words: Sequence[Word], space: float = SPACE) -> tuple[Chunk, ...]:
    """Part the words of one line where the gap is wider than `space` font sizes."""
    groups: list[list[Word]] = []
    last: Word | None = None
    for word in sorted(words, key=lambda w: w.box.x0):
        if last is not None and word.box.x0 - last.box.x1 <= space * min(word.size, last.size):
            groups[-1].append(word)
            last = max(last, word, key=lambda w: w.box.x1)
        else:
            groups.append([word])
            last = word
    return tuple(Chunk(words=tuple(g), box=Box.around(w.box for w in g)) for g in groups)


def line_of(chunks: Sequence[Chunk]) -> Line:
    """Return chunks from left to right as a line."""
    return Line(chunks=tuple(chunks), box=Box.around(chunk.box for chunk in chunks))


def make_lines(words: Iterable[Word], space: float = SPACE) -> list[Line]:
    """Group upright words into lines from the top down; a word joins the line it mostly overlaps."""
    groups: list[list[Word]] = []
    for word in sorted((w for w in words if w.turn == 0), key=lambda w: (w.box.middle[1], w.box.x0)):
        best = None
        for group in reversed(groups[-4:]):
            if _on_line(group[-1], word) or _on_line(group[0], word):
                best = group
                break
        if best is None:
            groups.append([word])
        else:
            best.append(word)
    lines = [Line(chunks=make_chunks(g, space), box=Box.around(w.box for w in g)) for g in groups]
    return sorted(lines, key=lambda line: line.box.middle[1])


def _on_line(a: Word, b: Word) -> bool:
    shared = min(a.box.bottom, b.box.bottom) - max(a.box.top, b.box.top)
    return shared > 0.5 * min(a.box.height, b.box.height)


def words_left(words: Iterable[Word], taken: Iterable[Word]) -> list[Word]:
    """Return the words that are not among those taken, each the very one: two may print the same."""
    held = {id(word) for word in taken}
    return [word for word in words if id(word) not in held]


def common_left_ends(chunks: Iterable[Chunk], least: int) -> Iterator[float]:
    """Yield where at least so many texts begin, in points, from left to right."""
    starts = sorted(chunk.box.x0 for chunk in chunks)
    for _, group in groupby(starts, key=lambda at: round(at / EDGE)):
        same = list(group)
        if len(same) >= least:
            yield same[0]


def rows_of_lines(lines: Sequence[Line]) -> list[list[Line]]:
    """Put lines into rows: figures centred beside a label of two or three lines overlap them, and are one row with it.

    Lines of text in columns of the page overlap each other all the way down: they are rows by themselves.
    """
    runs: list[list[Line]] = []
    for line in lines:
        end = max((one.box.bottom for one in runs[-1]), default=0.0) if runs else 0.0
        if runs and line.box.top < end - OVERLAP * line.box.height:
            runs[-1].append(line)
        else:
            runs.append([line])
    return [row for run in runs for row in ([run] if _is_one_row(run) else [[line] for line in run])]


def _is_one_row(run: Sequence[Line]) -> bool:
    """Tell whether lines that overlap are few, or short texts side by side, each at a height of its own."""
    if len(run) <= MOST_OVERLAPPING:
        return True
    chunks = [chunk.box for line in run for chunk in line.chunks]
    return max(sum(other.x0 <= one.x0 < other.x1 for other in chunks) for one in chunks) <= MOST_STACKED


def holds_several(row: Sequence[Line]) -> bool:
    """Tell whether a row has several texts on a line, or one half-way between two lines of another beside it."""
    if any(len(line.chunks) > 1 for line in row):
        return True
    first, last, inner = row[0].box, row[-1].box, row[1:-1]
    beside = all(line.box.x1 < first.x0 or line.box.x0 > max(first.x1, last.x1) for line in inner)
    return len(row) > 2 and abs(first.x0 - last.x0) < 2 and beside
