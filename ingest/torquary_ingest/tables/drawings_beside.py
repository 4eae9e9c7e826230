"""A list beside a drawing: the numbers of the drawing's parts stand at the heights of rows, and are none of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from torquary_ingest.document import Word
from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.lines import EDGE, Chunk, Line, common_left_ends, make_lines, words_left

_LEAST_ROWS = 6
"""Lines that begin where the list does, at least (own choice)."""

_APART = 3.0
"""Font sizes of white between a drawing and the list beside it at least (own choice)."""

_PITCH = 2.2
"""Font sizes of white between two rows of a list at most (own choice)."""

_ABOVE = 4.0
"""Font sizes over the first row in which the headings of a list may stand (own choice)."""

_LABEL = 3
"""Letters of the number of a drawing's part at most."""


def part_drawing(words: Sequence[Word]) -> list[Sequence[Word]]:
    """Return the words of a list that stands right of a drawing, and all others; [] where there is none.

    Labels of drawings are numbers, or words in capitals; fewer than half of the rows have one beside them.
    """
    lines = make_lines(words)
    for left in common_left_ends((chunk for line in lines for chunk in line.chunks), _LEAST_ROWS):
        level = _level(lines, _rows_at(lines, left))
        beside = [line for line in level if line.box.x0 < left - EDGE]
        if beside and all(_has_labels_alone(line, left) for line in beside) and _are_few(beside, lines, left):
            inside = [word for line in level for word in line.words if word.box.x0 >= left - EDGE]
            return [inside, words_left(words, inside)]
    return []


def _rows_at(lines: Sequence[Line], left: float) -> list[Line]:
    """Return the longest run of lines that have a text beginning at `left`."""
    return max(_runs([line for line in lines if any(abs(one.box.x0 - left) <= EDGE for one in line.chunks)]), key=len)


def _are_few(beside: Sequence[Line], lines: Sequence[Line], left: float) -> bool:
    """Tell whether fewer than half of a list's rows have something left of them."""
    return _LEAST_ROWS <= len(_rows_at(lines, left)) >= 2 * len(beside)


def _runs(lines: Sequence[Line]) -> Iterator[list[Line]]:
    """Yield the lines that follow each other closely."""
    run: list[Line] = []
    for line in lines:
        if run and line.box.top - run[-1].box.bottom > _PITCH * line.size:
            yield run
            run = []
        run.append(line)
    yield run


def _level(lines: Sequence[Line], rows: Sequence[Line]) -> list[Line]:
    """Return the lines from the headings over the first row down to the last row."""
    top, bottom = rows[0].box.top - _ABOVE * rows[0].size, rows[-1].box.bottom
    return [line for line in lines if top <= line.box.middle[1] <= bottom]


def _has_labels_alone(line: Line, left: float) -> bool:
    """Tell whether all that a line has left of a list are labels of a drawing, far from it."""
    before = [chunk for chunk in line.chunks if chunk.box.x0 < left - EDGE]
    return all(_is_label(chunk) and chunk.box.x1 < left - _APART * chunk.size for chunk in before)


def _is_label(chunk: Chunk) -> bool:
    if len(chunk.words) > 1:
        return False
    return (is_figure(chunk.text) and len(chunk.text) <= _LABEL) or (chunk.text.isalpha() and chunk.text.isupper())
