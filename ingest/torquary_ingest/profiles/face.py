"""What a sheet shows of its maker and headings: enough to tell which profiles are for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from torquary_ingest.document import Cell, Document, Table
from torquary_ingest.document.lines import set_lines
from torquary_ingest.extractors.listed import split_name
from torquary_ingest.headings.grid import text_of
from torquary_ingest.headings.sense import heading_key, make_sense
from torquary_ingest.scope import read_sheet_head

MOST_TEXTS = 2000
"""Texts of a sheet that are kept; headings stand at the edges of tables, which come first."""

_LONGEST = 80
_MOST_MAKERS = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """`head` are the lines that can name the maker, `makers` what is printed as the maker's name.

    `texts` are the keys (`heading_key`) of the texts that may be headings.
    """

    file: str
    head: tuple[str, ...]
    makers: tuple[str, ...]
    texts: frozenset[str]


def look_at(document: Document, tables: Sequence[Table]) -> Face:
    """Return what the sheet shows."""
    lines = [line for page in document.pages for line in set_lines(page, tables)]
    named = [pair for line in lines if (pair := split_name(line)) is not None]
    head = [document.title, *read_sheet_head(document, tables).lines]
    if not any(page.words for page in document.pages) and tables:
        head += tables[0].caption
    makers = [value for name, value in named if make_sense(name).fields == ("maker",)]
    makers += [text for table in tables for text in _makers_in(table)]
    texts = dict.fromkeys(heading_key(text) for text in _texts(tables, [name for name, _ in named]))
    return Face(
        file=document.file,
        head=tuple(dict.fromkeys(line.strip() for line in head if line.strip())),
        makers=tuple(dict.fromkeys(makers)),
        texts=frozenset(key for key in list(texts)[:MOST_TEXTS] if key),
    )


def _texts(tables: Sequence[Table], names: Sequence[str]) -> Iterator[str]:
    """Yield the texts that may be headings: short, with a letter; those at the edges of their table first."""
    yield from names
    cells = sorted((cell for table in tables for cell in table.cells), key=lambda cell: min(cell.row, cell.column))
    for text in dict.fromkeys(map(text_of, cells)):
        if len(text) <= _LONGEST and any(letter.isalpha() for letter in text):
            yield text


def _makers_in(table: Table) -> Iterator[str]:
    """Yield what stands under a heading for makers; beside it where it is the only heading in its row."""
    heads = [cell for cell in table.cells if make_sense(text_of(cell)).fields == ("maker",)]
    for cell in heads[:_MOST_MAKERS]:
        row = [other for other in table.cells if other.row == cell.row and other is not cell]
        across = any(make_sense(text_of(other)).fields for other in row)
        places = (other for other in table.cells if _is_under(other, cell)) if across else iter(row)
        yield from (text for other in places if (text := text_of(other)))


def _is_under(other: Cell, cell: Cell) -> bool:
    return other.row > cell.row and other.column == cell.column
