"""Properties whose values are clauses: "Earth terminal | 4–16 mm²; tightening torque 2.5 N·m".

The name of the property is the thing that is tightened, where the value names none; another pair's value never is.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from torquary_ingest.clauses.clause import Clause, Stretch
from torquary_ingest.clauses.reading import read_clauses
from torquary_ingest.document import Cell, Entry, Reading, Table
from torquary_ingest.extractors.turned_parts import parts_between_bands
from torquary_ingest.figures.conductor_words import read_conductor_words
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.designations import find_types
from torquary_ingest.headings.grid import Grid, distinct, lay_out, text_of
from torquary_ingest.headings.sense import make_sense
from torquary_schema.roles import says_terminal, tells_which
from torquary_schema.values import Place, ScopeText
from torquary_schema.words import Kind, spot

_KINDS: tuple[Kind, ...] = ("stranding", "material", "ferrule")

Taken = Collection[tuple[int, int]]
"""Rows and columns of cells, from 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Property:
    """A name and its value, in two cells side by side, or under each other's models: those the value is for."""

    name: Cell
    value: Cell
    models: tuple[Cell, ...] = ()


Row = Sequence[Cell | None]

Models = dict[int, Cell]
"""By the number of a column, from 0: the cell at its head that names a model."""


def find_properties(row: Row, models: Models) -> Iterator[Property]:
    """Yield the properties of a row of two texts, or of one text and a value for each model.

    Their values say more than a torque, which their name does not.
    """
    cells = distinct(row)
    if len(cells) < 2 or not _is_name(cells[0]):
        return
    if models and cells[0].column_span == 1:
        for value in filter(_is_clauses, cells[1:]):
            of = (model for at, model in models.items() if at < len(row) and row[at] is value)
            yield Property(name=cells[0], value=value, models=tuple(of))
    elif len(cells) == 2 and cells[0].column + cells[0].column_span == cells[1].column and _is_clauses(cells[1]):
        yield Property(name=cells[0], value=cells[1])


def _is_name(cell: Cell) -> bool:
    name = make_sense(text_of(cell))
    heads = name.has("torque", "torque_min", "torque_max") or name.false_friend or states_torque(name.text)
    return not (heads or name.figure)


def _is_clauses(value: Cell) -> bool:
    """Tell whether a value says more than a torque: words, or a size beside it ("2.5–16 mm², 2.0 N·m")."""
    sense = make_sense(text_of(value))
    return states_torque(sense.text) and not (sense.figure and not sense.unit("area", "gauge"))


def find_models(grid: Grid) -> Models:
    """Return the models at the head of the columns of values, where a first row names a type for each of several."""
    row = grid.rows[0] if grid.rows else ()
    heads = {at: cell for at, cell in enumerate(row[1:], start=1) if cell is not None and text_of(cell)}
    texts = [text_of(cell) for cell in heads.values()]
    typed = all(find_types(text) and not (states_torque(text) or make_sense(text).units) for text in texts)
    return heads if typed and len(set(texts)) == len(texts) == grid.width - 1 > 1 else {}


def read_properties(table: Table, taken: Taken, over: tuple[ScopeText, ...]) -> Iterator[Reading]:
    """Yield the readings of a table's properties whose values are clauses, those cells aside that are taken."""
    for part, lines in parts_between_bands(lay_out(table)):
        clamps = tuple(_clamps_in(part))
        models = find_models(part)
        for found in (one for row in part.rows for one in find_properties(row, models)):
            if (found.value.row, found.value.column) not in taken:
                yield from _read(part, found, (*lines, *over), clamps if _names_kind(found) else ())


def without_clauses(grid: Grid) -> Grid:
    """Return a list of properties without those whose values are clauses: each of them is a record of its own."""
    models = find_models(grid)
    return replace(grid, rows=tuple(row for row in grid.rows if not any(find_properties(row, models))))


def _names_kind(found: Property) -> bool:
    """Tell whether a property's name is a kind of conductor: "Flexible cable with ferrule"."""
    return read_conductor_words(text_of(found.name)).known and not says_terminal(text_of(found.name))


def _clamps_in(grid: Grid) -> Iterator[Entry]:
    """Yield the property of a list that says how its terminals clamp: its name is that of the terminals."""
    rows = [cells for row in grid.rows if len(cells := distinct(row)) == 2 and says_terminal(text_of(cells[0]))]
    if len(rows) == 1 and not states_torque(text_of(rows[0][1])):
        name, value = rows[0]
        yield Entry(field="clamp", cell=value, heading=text_of(name))


def _read(
    grid: Grid, found: Property, scope: tuple[ScopeText, ...], clamps: tuple[Entry, ...]
) -> Iterator[Reading]:
    cell, page = found.value, grid.table.page
    text = text_of(cell)
    place = Place(
        page=page,
        table=grid.table.number,
        row=cell.row,
        column=cell.column,
        box=cell.box,
        text=f"{text_of(found.name)} | {text}",
    )
    for clause in read_clauses(text, valued=True):
        said = (*clamps, *_entries(found, clause)) if clause.figures else ()
        for model in (found.models or (None,)) if said else ():
            yield Reading(
                place=place,
                entries=(*([Entry(field="model", cell=model)] if model is not None else []), *said),
                scope=scope,
                doubts=(*grid.table.doubts, *clause.doubts),
            )


def _entries(found: Property, clause: Clause) -> Iterator[Entry]:
    """Yield what a clause of a value says, and the property's name, which names the terminal if it is a name of one.

    A general name in the value ("screw terminal", "ring lug") adds nothing to a name that tells which terminal it is.
    """
    named = tells_which(text_of(found.name))
    names = [one for one in clause.names if not named or tells_which(one.text)]
    yield from _as_entries("terminal", found.value, names)
    yield Entry(field="qualifier", cell=found.name, heading=text_of(found.name))
    if any(spot(kind, text_of(found.name)) for kind in _KINDS):
        yield Entry(field="stranding", cell=found.name)
    yield from _as_entries("conductor", found.value, clause.sizes)
    if clause.kinds:
        yield Entry(field="stranding", cell=replace(found.value, text=", ".join(one.text for one in clause.kinds)))
    yield from _as_entries("thread", found.value, clause.threads)
    yield from _as_entries("bit", found.value, clause.drives)
    for field, figures in ((clause.side, clause.figures), ("torque_max", clause.bound)):
        for one in figures:
            cell = replace(found.value, text=one.text, marks=(*found.name.marks, *found.value.marks))
            yield Entry(field=field, cell=cell, heading=clause.quantity, unit_printed=one.unit)


def _as_entries(field: str, value: Cell, said: Iterable[Stretch]) -> Iterator[Entry]:
    for one in said:
        yield Entry(field=field, cell=replace(value, text=one.text), unit_printed=one.unit)
