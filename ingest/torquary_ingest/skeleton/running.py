"""Running heads and feet: lines that stand at the same place on several pages."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Sequence

from torquary_ingest.document import Page, Table
from torquary_ingest.document.lines import Line
from torquary_ingest.skeleton.lines import live_lines
from torquary_schema.words import fold

_EDGE = 0.12
"""Part of a page's height at its head and at its foot in which running lines stand (own choice)."""

_NUMBER = re.compile(r"\d+")


def find_running(pages: Sequence[Page], tables: Sequence[Table]) -> frozenset[str]:
    """Return the texts of the running lines, as printed on each page; none for a file of one page."""
    places: dict[tuple[str, bool], list[tuple[int, str]]] = defaultdict(list)
    for page in pages:
        for line in _edge_lines(page, tables):
            for key in _keys(line.text, page.number):
                places[key, line.box.top < page.height / 2].append((page.number, line.text))
    found = (texts for texts in places.values() if len({number for number, _ in texts}) > 1)
    return frozenset(text for texts in found for _, text in texts)


def _edge_lines(page: Page, tables: Sequence[Table]) -> Iterator[Line]:
    edge = _EDGE * page.height
    for line in live_lines(page, tables):
        if line.box.bottom < edge or line.box.top > page.height - edge:
            yield line


def _keys(text: str, page: int) -> Iterator[str]:
    """Yield a text, and the text with the number of its page taken out: "QX 16 | 3" and "QX 16 | 4" run on."""
    yield fold(text)
    numbers = [found for found in _NUMBER.finditer(text) if int(found[0]) == page]
    for found in numbers:
        yield fold(f"{text[: found.start()]} # {text[found.end() :]}")
