"""Lists side by side under the same headings, each with rows of its own: each is looked at by itself."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.document import Word
from torquary_ingest.tables.lines import Line, make_lines, words_left

LEAST_COLUMNS = 2
"""Headings that repeat, at least: one alone may head two columns of one table."""

ABOVE = 3.0
"""Font sizes over the headings within which a line may still be the lists' own (own choice)."""

APART = 2.2
"""Font sizes of white under the lists, from which a line across them is none of their rows: rows stand closer."""


def part_twins(words: Sequence[Word]) -> list[Sequence[Word]]:
    """Return the words of each list, left to right, and last all other words; [] where there are no lists.

    A line of headings that says the same twice heads two lists, as far down as a white strip parts them.
    """
    lines = make_lines(words)
    for at, line in enumerate(lines):
        half = _repeats_after(line)
        if half is None:
            continue
        strip = (line.chunks[half - 1].box.x1, line.chunks[half].box.x0)
        rows = _until_crossed(lines[at + 1 :], strip)
        if rows and not _have_names_before(rows, line):
            return _sides(words, [*_titles(lines[:at], line, strip), line, *rows], strip)
    return []


def _repeats_after(line: Line) -> int | None:
    """Return the number of headings after which a line says all of them again; None where it does not."""
    texts = [chunk.text.casefold() for chunk in line.chunks]
    half = len(texts) // 2
    twice = half >= LEAST_COLUMNS and texts[:half] == texts[half:] and len(set(texts)) == half
    return half if twice and not any(letter.isdecimal() for text in texts for letter in text) else None


def _titles(above: Sequence[Line], heads: Line, strip: tuple[float, float]) -> list[Line]:
    """Return the line over the headings where it has a text for each list."""
    line = above[-1] if above else None
    if line is None or _crosses(line, strip) or heads.box.top - line.box.bottom > ABOVE * line.size:
        return []
    return [line] if any(chunk.box.x0 >= strip[1] - line.size for chunk in line.chunks) else []


def _until_crossed(lines: Sequence[Line], strip: tuple[float, float]) -> list[Line]:
    """Return the rows down to the first line that crosses the strip; none where that goes on with a row."""
    crossing = next((at for at, line in enumerate(lines) if _crosses(line, strip)), len(lines))
    rows = list(lines[:crossing])
    close = rows and crossing < len(lines) and lines[crossing].box.top - rows[-1].box.bottom < APART * rows[-1].size
    return [] if close else rows


def _have_names_before(rows: Sequence[Line], heads: Line) -> bool:
    """Tell whether texts stand left of all the headings: they name rows that run through both groups of columns."""
    return any(line.chunks[0].box.x1 < heads.box.x0 for line in rows)


def _crosses(line: Line, strip: tuple[float, float]) -> bool:
    """Tell whether a text of a line runs across the white strip between two lists, or stands in the middle of it."""
    left, right = strip
    for chunk in line.chunks:
        across = chunk.box.x0 < left and chunk.box.x1 > right - chunk.size
        if across or left + chunk.size < chunk.box.x0 < chunk.box.x1 < right - chunk.size:
            return True
    return False


def _sides(words: Sequence[Word], inside: Sequence[Line], strip: tuple[float, float]) -> list[Sequence[Word]]:
    middle = (strip[0] + strip[1]) / 2
    beside = [word for line in inside for word in line.words]
    sides = [[word for word in beside if (word.box.middle[0] < middle) == first] for first in (True, False)]
    return [*sides, words_left(words, beside)]
