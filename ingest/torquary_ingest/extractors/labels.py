"""Rows whose terminal is not printed beside the figure: what may name it, and what is to be doubted."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from torquary_ingest.document import Cell, Doubt, Entry
from torquary_ingest.extractors.blanks import names_list
from torquary_ingest.extractors.layout import Layout, is_torque
from torquary_ingest.headings.column import Column
from torquary_ingest.headings.designations import find_types
from torquary_ingest.headings.grid import distinct, text_of
from torquary_ingest.headings.label_column import numbers_terminals
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.headings.tolerances import has_tolerance, stated_tolerance
from torquary_schema.roles import is_marked, is_terminal
from torquary_schema.words import Kind, spot

# Fields that can name what a figure is for; without one a line over the table would have to.
_NAMES = ("terminal", "qualifier", "thread", "model", "device", "series", "rated_current")
_KNOWN: tuple[Kind, ...] = ("role", "purpose", "clamp", "stranding", "material", "ferrule")
_BRACKETED = re.compile(r"\(([^()]{4,})\)")
_NUMBER_BEHIND = re.compile(r"\s\d{1,3}")
_FELLOW = {"torque_min": "torque_max", "torque_max": "torque_min"}
_UNREAD = ("other", "unknown", "blank", "name")


def carry_label(layout: Layout, column: Column, cell: Cell | None, above: Cell | None) -> Cell | None:
    """Return the label above for a blank terminal cell, which `blanks` doubts: a person sees what it may mean.

    A name of terminals over a list of properties without a value of its own names the list.
    """
    if names_list(layout, column):
        return column.qualifier_cells[0]
    return above if column.field == "terminal" and above is not None else cell


def label_doubts(layout: Layout, entries: Sequence[Entry]) -> Iterator[Doubt]:
    """Yield a doubt when a row has no name of its own although a column that was not read tells rows apart.

    A line over the table would then name every row alike, the title for instance.
    """
    label = next((text_of(entry.cell) for entry in entries if entry.field == "terminal"), "")
    if any(match.concept == "see" and match.start == 0 for match in spot("connective", label)):
        message = f"{label!r} stands where a terminal's name belongs; look there which terminal the row is for"
        yield Doubt(code="terminal_missing", message=message)
    inner = _BRACKETED.fullmatch(label)
    if inner and not is_terminal(inner[1].strip()):
        message = f"{label!r} is a remark where a terminal's name belongs; look which terminal the row is for"
        yield Doubt(code="terminal_missing", message=message)
    names = next((column for column in layout.columns if column.field == "terminal"), None)
    if names is not None and numbers_terminals(layout.grid, layout.section, names):
        message = f"the numbers under {names.heading!r} name terminals or count them; say which terminal this is for"
        yield Doubt(code="terminal_missing", message=message)
    named = {entry.field for entry in entries} & set(_NAMES)
    if named - {"qualifier"} or (named and not _torques_differ(layout)):
        return
    if any(column.field == "terminal" for column in layout.columns):
        return  # a blank cell for the terminal is doubted by `blanks`
    unread = (c for c in layout.columns if c.field in _UNREAD or (is_torque(c) and not named))
    column = next((column for column in unread if _tells_apart(layout, column)), None)
    if column is not None:
        message = f"column {_where(column)} tells the rows apart and was not understood"
        message += "; say which terminal each row is for"
        yield Doubt(code="terminal_missing", message=message)


def _torques_differ(layout: Layout) -> bool:
    """Tell whether rows give different torques: what a heading over all of them says names none of them."""
    rows = {_texts(layout, row, layout.torque_columns) for row in layout.section.body}
    return len(rows) > 1


def parted_rows(layout: Layout) -> dict[int, Doubt]:
    """Return a doubt by row where a column of names that was not understood parts rows of one name, torques differing.

    "Inverter capacity: 5.5 kW" and "7.5 kW": each has its own torque, whatever else the rows say.
    """
    named = [column for column in layout.columns if column.field in _NAMES]
    alike: dict[tuple[str, ...], list[int]] = {}
    for row in layout.section.body:
        alike.setdefault(_texts(layout, row, named), []).append(row)
    found: dict[int, Doubt] = {}
    for column in layout.columns:
        if column.field not in ("unknown", "blank", "name") or not _tells_apart(layout, column):
            continue
        message = f"column {_where(column)} tells rows of one name apart and was not understood"
        doubt = Doubt(code="terminal_missing", message=f"{message}; say what it is, in a layout profile")
        for rows in alike.values():
            parts = {_texts(layout, row, [column]) for row in rows} - {("",)}
            if len(parts) > 1 and len({_texts(layout, row, layout.torque_columns) for row in rows}) > 1:
                found |= dict.fromkeys(rows, doubt)
    return found


def rows_under_devices(layout: Layout) -> dict[int, Doubt]:
    """Return a doubt by row from the one on of which a text ends with a line that names a device and its type.

    The line stood between the rows and was taken into the text above: the rows beneath are the device's.
    """
    found: dict[int, Doubt] = {}
    device = ""
    for row in layout.section.body:
        lines = [line for cell in distinct(layout.grid.rows[row]) for line in cell.text.split("\n")[1:]]
        device = next((line for line in lines if spot("family", line) and find_types(line)), device)
        if device:
            message = f"{device!r} stands between rows; look which rows are of that device"
            found[row] = Doubt(code="readings_differ", message=message)
    return found


def _texts(layout: Layout, row: int, columns: Sequence[Column]) -> tuple[str, ...]:
    return tuple(text_of(layout.grid.rows[row][column.index]) for column in columns)


def _where(column: Column) -> str:
    return repr(column.heading) if column.heading else str(column.index + 1)


def heading_doubts(layout: Layout, group: Sequence[Column]) -> Iterator[Doubt]:
    """Yield what the headings of a group of torques leave open: a tolerance, or a limit without its fellow."""
    for column in group:
        if has_tolerance(column.heading) and not stated_tolerance(column.heading):
            message = f"the heading {column.heading!r} gives a tolerance; say what the limits of the figure are"
            yield Doubt(code="condition_unread", message=message)
    sides = {column.field for column in group}
    missing = _FELLOW.get(next(iter(sides)), "") if len(sides) == 1 else ""
    others = {column.field for column in layout.torque_columns if column not in group}
    if missing in others and not _is_paired(layout, missing, group):
        message = "minimum and maximum stand under different headings; look which columns belong together"
        yield Doubt(code="table_shifted", message=message)


def screw_doubts(layout: Layout, group: Sequence[Column], entries: Sequence[Entry]) -> Iterator[Doubt]:
    """Yield a doubt where a list gives several torques and one of them names a screw that no known word names.

    "Torque, DIN rail lock screw" below the terminals' own torque is not of the terminals that the list names.
    """
    name = group[0].qualifier
    if not layout.grid.across or len(layout.torque_columns) <= len(group) or not name:
        return
    if not _names_terminals(layout, group, entries):
        return
    if not _is_known_screw(name):
        message = f"{name!r} names a screw that is not known beside the terminals of the list; say what it is"
        yield Doubt(code="terminal_missing", message=message)


def _is_known_screw(name: str) -> bool:
    """Tell whether known words say what is tightened; "signal terminals" are, "terminal 95" too."""
    ends = (one.end for one in spot("tightened", name) if one.concept == "terminal")
    if any(end == len(name) or _NUMBER_BEHIND.fullmatch(name, end) or is_marked(name[end:].strip()) for end in ends):
        return True
    sense = make_sense(name)
    told = any(spot(kind, name) for kind in _KNOWN)
    return told or bool(sense.figure or (sense.fields and not sense.has("terminal")))


def _names_terminals(layout: Layout, group: Sequence[Column], entries: Sequence[Entry]) -> bool:
    """Tell whether a list names terminals, in a value or in the name of another torque."""
    others = [column.qualifier for column in layout.torque_columns if column not in group]
    named = any(spot(kind, other) for kind in _KNOWN for other in others)
    return named or any(entry.field == "terminal" and entry.cell.text.strip() for entry in entries)


def _is_paired(layout: Layout, field: str, group: Sequence[Column]) -> bool:
    """Tell whether every column of the other limit has its fellow outside the group."""
    kinds = [column.field for column in layout.torque_columns if column not in group]
    own = group[0].field
    return kinds.count(field) == kinds.count(own)


def _tells_apart(layout: Layout, column: Column) -> bool:
    cells = [layout.grid.rows[row][column.index] for row in layout.section.body]
    texts = [text for cell in cells if (text := text_of(cell))]
    named = [cell for cell in cells if text_of(cell) and not layout.grid.sense(cell).figure]
    return len(set(texts)) > 1 and len(named) * 2 >= len(texts)
