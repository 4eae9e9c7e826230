"""A blank that takes meaning from a row: a cell that may stand for the one above or below, a missing heading."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from torquary_ingest.document import Doubt
from torquary_ingest.extractors.groups import GoingOn
from torquary_ingest.extractors.layout import Layout
from torquary_ingest.headings.column import Column
from torquary_ingest.headings.grid import text_of
from torquary_ingest.headings.label_column import numbers_rows
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.lexis.dashes import is_dash
from torquary_ingest.lexis.figures import has_figure
from torquary_schema.roles import spot_roles

# What a row is for: without it a figure would be given out for more than the sheet says.
_TELLING = ("device", "model", "series", "rated_current", "stranding", "conductor", "thread")
_DEVICES = ("device", "model", "series")
_LIMITS = ("conductor_min", "conductor_max")
_UNREAD = ("unknown", "blank", "name")
_SECOND = 3
"""Letters that a second line of a name has at least: fewer may be a marking."""


def blank_doubts(layout: Layout, row: int, going_on: GoingOn) -> Iterator[Doubt]:
    """Yield a doubt for each telling column that is blank in this row and filled in another.

    Printed once for several rows without a rule that shows which, a label stands in the first of them or in
    the middle one, or between two; only the sheet shows where it ends, but where the row surely goes on.
    """
    for column in layout.columns:
        if (row, column.index) in going_on:
            continue
        if column.field == "terminal" and _labels_between(layout, column) and _may_be_named_so(layout, row, column):
            yield _doubt("terminal_missing", column)
        elif column.field in ("terminal", *_TELLING) and _says_nothing(layout, row, column):
            if names_list(layout, column) or _is_one_of_sizes(layout, row, column) or _needs_no(column, layout, row):
                continue
            if column.field == "stranding" and _says_no_kind(layout, row, column):
                continue
            filled = any(_text(layout, other, column) for other in layout.section.body)
            if column.field == "terminal" or filled:
                yield _doubt("terminal_missing" if column.field == "terminal" else "ditto_doubtful", column)
    limits = [column for column in layout.columns if column.field in _LIMITS]
    filled_rows = [other for other in layout.section.body if any(_text(layout, other, column) for column in limits)]
    if filled_rows and row not in filled_rows:
        yield _doubt("ditto_doubtful", limits[0])
    yield from _half_blank_doubts(layout, row, going_on)
    if not any(column.field == "terminal" for column in layout.columns):
        yield from _mixed_doubts(layout)
    yield from _going_on_doubts(layout, row)
    yield from _printed_once_doubts(layout)
    yield from _unheaded_doubts(layout, row)


def _half_blank_doubts(layout: Layout, row: int, going_on: GoingOn) -> Iterator[Doubt]:
    """Yield a doubt where one limit of a torque is blank in this row alone, and the other is given."""
    sides = [column for column in layout.torque_columns if column.field != "torque"]
    for column in sides:
        if _text(layout, row, column) or (row, column.index) in going_on:
            continue
        pair = [other for other in sides if (other.unit, other.qualifier) == (column.unit, column.qualifier)]
        filled = any(_text(layout, other, column) for other in layout.section.body)
        if filled and any(_text(layout, row, other) for other in pair):
            yield _doubt("ditto_doubtful", column)


def _printed_once_doubts(layout: Layout) -> Iterator[Doubt]:
    """Yield a doubt where a list without a frame gives some types nothing: a value in the middle may be for all."""
    table, columns = layout.grid.table, layout.torque_columns
    if not layout.grid.across or table.means != "aligned":
        return
    bare = [row for row in layout.section.body if not any(_figures(layout, row))]
    given = [row for row in layout.section.body if any(_text(layout, row, column) for column in columns)]
    if bare and given:
        names = ", ".join(repr(text_of(layout.grid.rows[row][0])) for row in bare)
        message = f"nothing is printed for {names} in this part of the list; look whether a value beside is for all"
        yield Doubt(code="ditto_doubtful", message=message)


def _unheaded_doubts(layout: Layout, row: int) -> Iterator[Doubt]:
    """Yield a doubt for a figure of a row under no heading: it may be a size, a type or another limit of the torque."""
    for column in layout.columns:
        text = _text(layout, row, column)
        unread = column.field in _UNREAD and not column.heading and make_sense(text).figure
        if unread and not numbers_rows(layout.grid, layout.section, column):
            message = f"{text!r} stands in the row under no heading and was not read; look what it says of the torque"
            yield Doubt(code="condition_unread", message=message)


def _figures(layout: Layout, row: int) -> Iterator[str]:
    return (text_of(cell) for cell in layout.grid.rows[row][1:])


def names_list(layout: Layout, column: Column) -> bool:
    """Tell whether the name of terminals stands over a list of properties: all beside it is blank.

    "Main terminals" over "Terminal screw | M4" and "Tightening torque | 2.5 N·m".
    """
    first = layout.grid.across and column.index == 0 and len(column.qualifier_cells) == 1
    blank = not any(_text(layout, row, column) for row in layout.section.body)
    return first and column.field == "terminal" and blank and bool(spot_roles(column.heading))


def _says_no_kind(layout: Layout, row: int, column: Column) -> bool:
    """Tell whether a blank for the kind of conductor surely says none, and does not stand for another row's."""
    return _is_printed_again(layout, column) or _says_none_of_its_device(layout, row, column)


def _is_printed_again(layout: Layout, column: Column) -> bool:
    """Tell whether a column prints a text again in the row under itself: a blank there stands for no repetition."""
    cells = [layout.grid.rows[row][column.index] for row in layout.section.body]
    return any(a is not b and text_of(a) == text_of(b) != "" for a, b in pairwise(cells))


def _says_none_of_its_device(layout: Layout, row: int, column: Column) -> bool:
    """Tell whether a file that names the device in each row gives no kind of conductor in any row of this one."""
    named = [other for other in layout.columns if other.field in _DEVICES]
    if layout.grid.table.means != "given" or not named:
        return False
    devices = {other: _text(layout, other, named[0]) for other in layout.section.body}
    same = [other for other, device in devices.items() if device == devices[row]]
    return all(devices.values()) and not any(_text(layout, other, column) for other in same)


def _is_one_of_sizes(layout: Layout, row: int, column: Column) -> bool:
    """Tell whether a blank cell of a file stands for a size that is not given, beside one that is.

    Cells of a file are whole; one printed once for several rows would stand above, in a row of the same device.
    """
    if layout.grid.table.means != "given" or column.field != "conductor":
        return False
    given = any(_text(layout, row, other) for other in layout.columns if other.field == "conductor")
    above = (other for other in reversed(layout.section.body) if other < row and _text(layout, other, column))
    last = next(above, None)
    return given and (last is None or _are_of_two_devices(layout, row, last))


def _needs_no(column: Column, layout: Layout, row: int) -> bool:
    """Tell whether a row needs no rated current to be told from the others: it prints its device, and is the only one
    of that device, terminal and conductor.
    """
    if column.field != "rated_current":
        return False
    columns = [other for other in layout.columns if other.field in ("terminal", *_TELLING) and other is not column]
    keys = [[_text(layout, other, each) for each in columns] for other in layout.section.body]
    own = [_text(layout, row, each) for each in columns]
    return any(_text(layout, row, each) for each in columns if each.field in _DEVICES) and keys.count(own) == 1


def _are_of_two_devices(layout: Layout, row: int, other: int) -> bool:
    """Tell whether two rows print two devices, each whole."""
    keys = [column for column in layout.columns if column.field in _DEVICES]
    own, others = ([_text(layout, at, key) for key in keys] for at in (row, other))
    return bool(keys) and all(own) and own != others


def _says_nothing(layout: Layout, row: int, column: Column) -> bool:
    """Tell whether a cell is blank, or a dash where a terminal's name belongs; beside a "+" the dash is a pole."""
    text = _text(layout, row, column)
    if column.field != "terminal" or not is_dash(text):
        return not text
    return not any("+" in _text(layout, other, column) for other in layout.section.body)


def _going_on_doubts(layout: Layout, row: int) -> Iterator[Doubt]:
    """Yield a doubt where the terminal's name may be set in two lines, the second beside or above the next row."""
    name = next((column for column in layout.columns if column.field == "terminal"), None)
    if name is None or layout.grid.table.means != "aligned" or not _text(layout, row, name):
        return
    below = _name_alone(layout, row + 1, name)
    if below[:1].islower() or below[:1] in ("(", "&", "+"):
        message = f"{below!r} stands alone beneath and may be the second line of the terminal's name; look at the sheet"
        yield Doubt(code="terminal_missing", message=message)
    for upper in (row - 1, row):
        if _goes_on_beside(layout, upper, name):
            names = f"{_text(layout, upper, name)!r} and {_text(layout, upper + 1, name)!r}"
            message = f"{names} stand in rows one under the other and may be one terminal's name; look at the sheet"
            yield Doubt(code="terminal_missing", message=message)


def _goes_on_beside(layout: Layout, row: int, name: Column) -> bool:
    """Tell whether the next row's name may be the second line of this one's: it begins small, and other names do not.

    Where rows are blank, names reach over several rows, and may do so in as many lines.
    """
    body = layout.section.body
    if row not in body or row + 1 not in body or not _text(layout, row, name):
        return False
    second, others = _text(layout, row + 1, name), [_text(layout, other, name) for other in body if other != row + 1]
    if not second[:1].islower() or sum(map(str.isalpha, second)) < _SECOND:
        return False
    large = sum(text[:1].isupper() for text in others)
    return not all(others) or 2 * large > len(others)


def _name_alone(layout: Layout, row: int, name: Column) -> str:
    """Return the text of a row that is nothing but a name, in a body row or in a line of its own; "" for others."""
    lone = any(band.row == row and band.cell.column_span == 1 for band in layout.section.bands)
    if not lone and row not in layout.section.body:
        return ""
    filled = [column for column in layout.columns if _text(layout, row, column)]
    return _text(layout, row, name) if filled == [name] else ""


def _mixed_doubts(layout: Layout) -> Iterator[Doubt]:
    """Yield a doubt where sizes and terminals share a column: nothing says which name goes with which size."""
    for column in layout.columns:
        if column.field.startswith("conductor") and make_sense(column.heading).has("terminal"):
            texts = [_text(layout, row, column) for row in layout.section.body]
            if any(len(text) > 2 and not make_sense(text).figure and not has_figure(text) for text in texts):
                yield Doubt(
                    code="terminal_missing",
                    message=f"sizes and names stand in one column under {column.heading!r}; "
                    "look at the sheet which terminal the row is for",
                )


def _text(layout: Layout, row: int, column: Column) -> str:
    cells = layout.grid.rows[row]
    return text_of(cells[column.index]) if column.index < len(cells) else ""


def _labels_between(layout: Layout, column: Column) -> bool:
    """Tell whether labels that stand alone on their lines begin below the first row: each is centred on its rows."""
    section = layout.section
    head = max(section.headings, default=-1)
    alone = [band.row for band in section.bands if band.cell.column_span == 1 and band.row > head]
    return column.index == 0 and bool(alone) and section.body[0] < alone[0]


def _may_be_named_so(layout: Layout, row: int, column: Column) -> bool:
    """Tell whether a label alone on its line may name a row: one without a name, or a label of terminals."""
    alone = (band.cell for band in layout.section.bands if band.cell.column_span == 1)
    return _says_nothing(layout, row, column) or any(spot_roles(text_of(cell)) for cell in alone)


def _doubt(code: str, column: Column) -> Doubt:
    return Doubt(
        code=code,
        message=f"the cell under {column.heading!r} is blank in this row; "
        "look at the sheet whether it means the one above or below",
    )
