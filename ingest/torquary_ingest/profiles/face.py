"""Makes the face of a sheet: what it shows of its maker and headings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from torquary_ingest.document import Document, Table
from torquary_ingest.document.lines import set_lines
from torquary_ingest.extractors.listed import split_name
from torquary_ingest.face import Face
from torquary_ingest.headings.grid import text_of
from torquary_ingest.headings.sense import heading_key
from torquary_ingest.skeleton import Skeleton

MOST_TEXTS = 2000
"""Texts of a sheet that are kept; headings stand at the edges of tables, which come first."""

_LONGEST = 80


def look_at(document: Document, tables: Sequence[Table], skeleton: Skeleton) -> Face:
    """Return what the sheet shows; `skeleton` is what it says as a whole."""
    lines = [line for page in document.pages for line in set_lines(page, tables)]
    named = [pair for line in lines if (pair := split_name(line)) is not None]
    head = [skeleton.title, *skeleton.head]
    if not any(page.words for page in document.pages) and tables:
        head += tables[0].caption
    texts = dict.fromkeys(heading_key(text) for text in _texts(tables, [name for name, _ in named]))
    return Face(
        file=document.file,
        head=tuple(dict.fromkeys(line.strip() for line in head if line.strip())),
        makers=skeleton.makers,
        texts=frozenset(key for key in list(texts)[:MOST_TEXTS] if key),
    )


def _texts(tables: Sequence[Table], names: Sequence[str]) -> Iterator[str]:
    """Yield the texts that may be headings: short, with a letter; those at the edges of their table first."""
    yield from names
    cells = sorted((cell for table in tables for cell in table.cells), key=lambda cell: min(cell.row, cell.column))
    for text in dict.fromkeys(map(text_of, cells)):
        if len(text) <= _LONGEST and any(letter.isalpha() for letter in text):
            yield text
