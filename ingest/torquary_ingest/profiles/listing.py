"""The headings of a sheet as torquary takes them, set out for a person to explain the unknown ones."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from torquary_ingest.document import Document, Table
from torquary_ingest.document.lines import set_lines
from torquary_ingest.extractors.layout import Layout
from torquary_ingest.extractors.listed import split_name
from torquary_ingest.extractors.orientation import choose_layouts
from torquary_ingest.face import Face
from torquary_ingest.headings.column import Column
from torquary_ingest.headings.grid import Grid, distinct, lay_out, text_of, without_blank_columns
from torquary_ingest.headings.heading_cells import is_prose
from torquary_ingest.headings.sense import heading_key, make_sense
from torquary_ingest.profiles.names import propose_name
from torquary_schema.validation import read_schema
from torquary_schema.words import concepts

UNKNOWN = "unknown"
_MOST_UNDER = 3
_MOST_HEADINGS = 200
_DEEPEST = 3
_NOT_READ = "something else; the column is not read"


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundHeading:
    """A heading with what it is taken for ("unknown": nothing) and the first texts under it."""

    printed: str
    taken_for: str
    under: tuple[str, ...]


def means() -> tuple[str, ...]:
    """Return the words that a heading may be explained with."""
    item = read_schema("profile")["properties"]["headings"]["items"]["properties"]["means"]
    return tuple(word for word in item["enum"] if word)


def list_headings(document: Document, tables: Sequence[Table]) -> tuple[FoundHeading, ...]:
    """Return the headings of all tables and lists that hold figures, each once, in printed order."""
    found: dict[str, FoundHeading] = {}
    for heading in (*_in_tables(tables), *_in_lists(document, tables)):
        key = heading_key(heading.printed)
        if key and any(letter.isalpha() for letter in key):
            found.setdefault(key, heading)
    return tuple(found.values())[:_MOST_HEADINGS]


def draft_profile(face: Face, headings: Sequence[FoundHeading]) -> dict[str, Any]:
    """Return a profile for a person to fill in, as a mapping that fits `profile.schema.json`."""
    lines = (*face.makers, *face.head)
    maker = next((name for line in lines if (name := propose_name(line))), "")
    told = concepts("heading")
    return {
        "torquary_profile": 1,
        "how_to": [
            'Write in "means" what a heading with "taken_for": "unknown" stands for; leave it empty if in doubt.',
            "The words for it:",
            *(f"  {word}: {_NOT_READ if word == 'other' else told[word]}" for word in means()),
            'Write in "unit" the unit of the figures, such as N·m or mm², only if the sheet prints none.',
            '"maker" is the name that stands at the head of all sheets of this maker, and of no others.',
        ],
        "made_from": face.file,
        "maker": maker,
        "headings": [
            {"printed": one.printed, "taken_for": one.taken_for, "under_it": list(one.under), "means": "", "unit": ""}
            for one in headings
        ],
    }


def _in_tables(tables: Sequence[Table]) -> Iterator[FoundHeading]:
    for table in tables:
        grid = without_blank_columns(lay_out(table))
        if not any(grid.sense(cell).figure for cell in table.cells):
            continue
        layouts = [layout for layout in choose_layouts(grid) if layout.section.headings]
        for layout in layouts:
            for column in layout.columns:
                yield from _in_column(layout, column)
        if not layouts:
            yield from _without_known_words(grid)


def _in_column(layout: Layout, column: Column) -> Iterator[FoundHeading]:
    grid, section = layout.grid, layout.section
    heads = distinct(grid.rows[row][column.index] for row in section.headings)
    cells = [cell for cell in heads if not is_prose(grid, cell)]
    worded = [cell for cell in cells if heading_key(text_of(cell))]
    under = _first_texts(grid.rows[row][column.index] for row in section.body)
    for cell in worded:
        own = [field for field in grid.sense(cell).fields if field in concepts("heading")]
        # The heading next to the figures is what the whole column is taken for; one above it names a group.
        taken = own[0] if own else (column.field if cell is worded[-1] else UNKNOWN)
        yield FoundHeading(printed=text_of(cell), taken_for=taken if taken in means() else _plain(taken), under=under)


def _plain(field: str) -> str:
    return field if field in concepts("heading") else UNKNOWN


def _without_known_words(grid: Grid) -> Iterator[FoundHeading]:
    """No heading is known: those over the first row of figures may be headings, else the texts at the left."""
    first = next((r for r, row in enumerate(grid.rows) if any(grid.sense(cell).figure for cell in row)), 0)
    if first == 0:
        grid = grid.turned()
        first = 1
    if any(grid.sense(cell).figure for row in grid.rows[:first] for cell in row):
        return
    for row in range(max(0, first - _DEEPEST), first):
        for cell in distinct(grid.rows[row]):
            column = next(c for c, other in enumerate(grid.rows[row]) if other is cell)
            under = _first_texts(grid.rows[r][column] for r in range(first, len(grid.rows)))
            taken = make_sense(text_of(cell)).fields
            yield FoundHeading(printed=text_of(cell), taken_for=_plain(taken[0]) if taken else UNKNOWN, under=under)


def _in_lists(document: Document, tables: Sequence[Table]) -> Iterator[FoundHeading]:
    for page in document.pages:
        for line in set_lines(page, [table for table in tables if table.page == page.number]):
            named = split_name(line)
            if named is not None and any(character.isdigit() for character in named[1]):
                fields = make_sense(named[0]).fields
                taken = _plain(fields[0]) if fields else UNKNOWN
                yield FoundHeading(printed=named[0], taken_for=taken, under=(named[1],))


def _first_texts(cells: Any) -> tuple[str, ...]:
    return tuple(dict.fromkeys(text for cell in cells if (text := text_of(cell))))[:_MOST_UNDER]
