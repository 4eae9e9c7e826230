"""Lines that may be headings: larger than most words, bold, or numbered; short, and no sentence."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from torquary_ingest.document import Document, HeadingLine, Page, Table
from torquary_ingest.document.lines import Line
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.skeleton.lines import live_lines
from torquary_ingest.skeleton.names import is_prose
from torquary_schema.words import spot

NUMBERED = re.compile(r"(?P<number>\d{1,2}(?:\.\d{1,2}){0,4})\.?\s+(?=[^\W\d]{2})")
"""The number of a heading and its title behind it: "3.2.1 Wiring"; "2.5 N·m" is none, as its unit shows."""

_LARGER = 1.08
"""Size of a heading over the usual size of the sheet at least, where it is not bold."""

_LEAST_LETTERS = 3
_LEADERS = re.compile(r"(?:\.\s?){4,}|…{2,}|_{4,}")
_ENDS_IN_NUMBER = re.compile(r"\s\d{1,3}$")
_MOST_NUMBERED = 5
"""Lines with a number at both ends from which a page is a list of contents."""


def find_headings(
    document: Document, tables: Sequence[Table], usual: float, running: frozenset[str]
) -> tuple[HeadingLine, ...]:
    """Return the lines of all pages that are headings, in the order of the pages, top to bottom.

    `usual` is the size of most words of the sheet in points; running lines are none.
    """
    lines = [line for page in document.pages for line in _of_page(page, tables)]
    lines += document.glimpsed
    contents = _find_contents(lines)
    kept = (line for line in lines if line.page not in contents and line.text not in running)
    found = [line for line in kept if _is_heading(line, usual)]
    return tuple(sorted(found, key=lambda line: (line.page, line.box.top, line.box.x0)))


def depth_of(text: str) -> int:
    """Return how many levels the number of a heading has: 3 for "3.2.1 Wiring", 0 without a number."""
    found = NUMBERED.match(text)
    return found["number"].count(".") + 1 if found and not make_sense(text[: found.end() + 4]).units else 0


def _of_page(page: Page, tables: Sequence[Table]) -> Iterator[HeadingLine]:
    framed = [table.box for table in tables if table.page == page.number and table.box is not None]
    for line in live_lines(page):
        if not any(box.holds(line.box.middle) for box in framed):
            yield _heading_line(line)


def _heading_line(line: Line) -> HeadingLine:
    bold = all(word.bold for word in line.words)
    return HeadingLine(page=line.page, text=line.text, size=line.size, bold=bold, box=line.box)


def _find_contents(lines: Sequence[HeadingLine]) -> frozenset[int]:
    """Return the pages that are lists of contents: their headings head nothing there."""
    pages: dict[int, int] = {}
    for line in lines:
        listed = depth_of(line.text) and _ENDS_IN_NUMBER.search(line.text)
        if listed or _LEADERS.search(line.text):
            pages[line.page] = pages.get(line.page, 0) + 1
    return frozenset(page for page, count in pages.items() if count >= _MOST_NUMBERED)


def _is_heading(line: HeadingLine, usual: float) -> bool:
    text = line.text.strip()
    if sum(map(str.isalpha, text)) < _LEAST_LETTERS or is_prose(text) or text.endswith((",", ";", "-")):
        return False
    if make_sense(text).units or any(match.concept in ("page", "continued") for match in spot("document_word", text)):
        return False
    outlined = line.bold and line.size >= 0.95 * usual
    return line.size >= _LARGER * usual or outlined or (depth_of(text) > 1 and line.size >= 0.95 * usual)
