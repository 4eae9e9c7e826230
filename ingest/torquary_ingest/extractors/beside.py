"""Lists printed side by side in one table: where they part, and whose they are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from torquary_ingest.document import Cell, Doubt
from torquary_ingest.headings.column import Column
from torquary_ingest.headings.designations import find_types, is_name_part
from torquary_ingest.headings.grid import text_of
from torquary_ingest.headings.sense import make_sense
from torquary_schema.words import fold, spot

Columns = tuple[Column, ...]
_FIGURES = ("torque", "conductor")
_NAMING = ("model", "device", "series", "terminal")


def repeated_blocks(columns: Columns) -> tuple[Columns, ...]:
    """Cut columns where the headings begin again from the first one: two lists printed side by side.

    What names rows heads each of them, and each has torques of its own; else all their headings are alike.
    """
    if not columns:
        return ()
    first = _name(columns[0])
    starts = [i for i, column in enumerate(columns) if _name(column) == first and first[1]]
    if len(starts) < 2 or (columns[0].field.startswith("torque") and starts[1] == 1):
        return (columns,)
    blocks = [columns[a:b] for a, b in zip(starts, [*starts[1:], len(columns)], strict=True)]
    return tuple(blocks) if _are_lists(blocks) else (columns,)


def _are_lists(blocks: Sequence[Columns]) -> bool:
    """Tell whether blocks of columns are lists: each has torques, and names of its own or the headings of the first."""
    alike = all(list(map(_name, block)) == list(map(_name, blocks[0])) for block in blocks)
    named = blocks[0][0].field in _NAMING
    return (named or alike) and all(any(map(_is_torque, block)) for block in blocks)


def _is_torque(column: Column) -> bool:
    return column.field.startswith("torque")


def _name(column: Column) -> tuple[str, str]:
    """The lowest line of a heading names the column; what stands over it may name the list."""
    return column.field, fold(column.lines[-1] if column.lines else column.heading)


def part_blocks(
    blocks: Sequence[Columns], context: Sequence[str]
) -> Iterator[tuple[Columns, tuple[str, ...], tuple[Doubt, ...]]]:
    """Yield each list's columns, the lines over it that name its device, and what is doubtful.

    Devices named only in lines over the whole may be one for each list; nothing says which is whose.
    """
    titles = [_titles(block) for block in blocks]
    named = dict.fromkeys(fold(line) for line in context if spot("family", line))
    sure = all(len(each) == 1 for each in titles) or (len(named) < 2 and not any(titles))
    doubts = () if sure else (_whose([*context, *(title for each in titles for title in each)]),)
    for block, title in zip(_share_names(blocks), titles, strict=True):
        yield tuple(_without(column, title) for column in block), title, doubts


def _share_names(blocks: Sequence[Columns]) -> Sequence[Columns]:
    """Return the lists, each with the name over one of its columns given to all of them: a span is lost.

    The list begins again under the next name, so that what stands over one column stands over all of the list.
    """
    over = [[cell for column in block for cell in _cells_over(column)] for block in blocks]
    told = [{fold(text_of(cell)) for cell in cells} for cells in over]
    names = {name for texts in told if len(texts) == 1 for name in texts}
    if len(names) < len(blocks):
        return blocks
    return [tuple(_under(column, cells[0]) for column in block) for block, cells in zip(blocks, over, strict=True)]


def _cells_over(column: Column) -> list[Cell]:
    """Return the cells with a name that stand over the lowest heading of a column."""
    return [cell for cell in column.qualifier_cells if column.lines[-1] not in cell.text]


def _under(column: Column, name: Cell) -> Column:
    if not column.field.startswith(_FIGURES) or name in column.qualifier_cells:
        return column
    qualifier = " / ".join(part for part in (make_sense(text_of(name)).rest, column.qualifier) if part)
    return replace(column, qualifier=qualifier, qualifier_cells=(name, *column.qualifier_cells))


def _titles(block: Columns) -> tuple[str, ...]:
    """Return the texts over a list's columns that name a device, once each, with what columns cut off a name."""
    names: list[str] = []
    for text in dict.fromkeys(" ".join(column.lines[:-1]) for column in block):
        if spot("family", text) or _is_model(text):
            names.append(text)
        elif names and is_name_part(text):
            names[-1] = f"{names[-1]} {text}"
    return tuple(names)


def _is_model(text: str) -> bool:
    """Tell whether a text says itself that it is a type: "Model QB1K5"."""
    return any(match.concept == "model" for match in spot("heading", text)) and len(find_types(text)) == 1


def _without(column: Column, titles: tuple[str, ...]) -> Column:
    """Return a column whose qualifiers no longer hold the name of the list."""
    rests = [(cell, fold(make_sense(text_of(cell)).rest)) for cell in column.qualifier_cells]
    kept = tuple(cell for cell, rest in rests if not any(rest in fold(title) for title in titles))
    return replace(column, qualifier_cells=kept, qualifier=column.qualifier if kept else "")


def _whose(context: Sequence[str]) -> Doubt:
    names = " and ".join(repr(line.strip()) for line in dict.fromkeys(context) if spot("family", line))
    return Doubt(
        code="terminal_missing",
        message=f"{names} stand over lists printed side by side; see on the sheet which of them each list belongs to",
    )
