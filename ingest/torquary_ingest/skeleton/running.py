"""Running heads and feet: lines that stand at the same place on several pages."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Sequence

from torquary_ingest.document import HeadingLine, PassedPage
from torquary_ingest.document.lines import Line
from torquary_ingest.skeleton.lines import PageLines
from torquary_schema.words import fold

EDGE = 0.12
"""Part of a page's height at its head and at its foot in which running lines stand (own choice)."""

_NUMBER = re.compile(r"\d+")


def find_running(pages: Sequence[PageLines], passed: Sequence[PassedPage] = ()) -> dict[str, frozenset[float]]:
    """Return the texts of the running lines, as printed on each page, with the heights of their middles in points.

    `passed` are the pages that were not read closely.

    None for a file of one page. Lines of tables are none: a table that goes on has its headings again.
    """
    places: dict[tuple[str, bool], list[Line | HeadingLine]] = defaultdict(list)
    for page in pages:
        for line in _edge_lines(page):
            for key in _keys(line.text, page.page):
                places[key, line.box.top < page.height / 2].append(line)
    for left in passed:
        for edge in left.edges:
            for key in _keys(edge.text, left.number):
                places[key, edge.box.top < left.height / 2].append(edge)
    found: dict[str, frozenset[float]] = {}
    for lines in places.values():
        if len({line.page for line in lines}) > 1:
            for one in lines:
                found[one.text] = found.get(one.text, frozenset()) | {one.box.middle[1]}
    return found


def _edge_lines(page: PageLines) -> Iterator[Line]:
    edge = EDGE * page.height
    for line in page.unframed:
        if line.box.bottom < edge or line.box.top > page.height - edge:
            yield line


def _keys(text: str, page: int) -> Iterator[str]:
    """Yield a text, and the text with the number of its page taken out: "QX 16 | 3" and "QX 16 | 4" run on."""
    yield fold(text)
    numbers = [found for found in _NUMBER.finditer(text) if int(found[0]) == page]
    for found in numbers:
        yield fold(f"{text[: found.start()]} # {text[found.end() :]}")
