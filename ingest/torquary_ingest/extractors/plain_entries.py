"""What a row says beside its sizes and torques, as far as it speaks for the torques of a group of columns."""

from __future__ import annotations

from collections.abc import Iterator

from torquary_ingest.document import Cell, Entry
from torquary_ingest.extractors.layout import Layout, is_torque
from torquary_ingest.extractors.typed_labels import part_typed_cell
from torquary_ingest.headings.column import Column
from torquary_ingest.headings.grid import text_of
from torquary_ingest.headings.sense import label_key, make_sense
from torquary_schema.roles import ends_in_markings, is_marked, says_terminal, spot_roles
from torquary_schema.words import spot

# Fields that are handed on as they are; what they mean is said after the extractor.
_PLAIN = (
    "terminal", "device", "maker", "series", "model", "family", "rated_current", "thread", "drive", "bit",
    "clamp", "stranding", "material", "ferrule", "count", "purpose", "note", "edition", "strip_length",
)  # fmt: skip

_OF_PART = ("terminal", "stranding", "material", "ferrule", "clamp")

_OF_RATINGS = ("rated_current", "thread", "drive", "other", "unknown")

_DEVICE = ("device", "maker", "series", "model", "family", "rated_current", "edition", "note")
_TERMINAL = "electrical_terminal"

# What is of one screw: in a table of two parts each part has its own.
_OF_SCREW = ("thread", "drive", "bit", "strip_length", "count")


def is_of_other_screw(group: tuple[Column, ...]) -> bool:
    """Tell whether the heading of torques names a screw of the device's: no terminal, no size is for it."""
    named = [match.concept for match in spot("purpose", group[0].qualifier)]
    return bool(named) and _TERMINAL not in named and not spot_roles(group[0].qualifier)


def of_device(layout: Layout) -> list[Column]:
    """Return the columns that tell of the device."""
    return [column for column in layout.columns if column.field in _DEVICE]


def other_entries(layout: Layout, cells: dict[int, Cell], group: tuple[Column, ...]) -> Iterator[Entry]:
    """Yield what a row says beside sizes and torques."""
    named = _names_terminal_itself(layout, group)
    for column in layout.columns:
        cell = cells.get(column.index)
        if cell is None or not cell.text.strip():
            continue
        if _names_other_than_headed(layout, column, text_of(cell)):
            yield Entry(field="terminal", cell=cell)
            continue
        if not _is_of_group(layout, column, group):
            continue
        if named and column.field == "terminal":
            continue
        if parted := part_typed_cell(layout, column, cell):
            yield from parted
            continue
        yield Entry(
            field="terminal" if column.field == "device" and is_marked(text_of(cell)) else column.field,
            cell=cell,
            heading=column.heading,
            taught=column.taught,
            may_count=_holds_numbers_alone(layout, column),
        )


def _names_other_than_headed(layout: Layout, column: Column, text: str) -> bool:
    """Tell whether a cell names a terminal by role and marking, whatever heads it, where no column is of terminals.

    "Coil A1, A2" runs over columns of ratings in the rows of a part of a list that has none.
    """
    headed = any(other.field == "terminal" for other in layout.columns)
    named = any(len(role.printed) > 1 for role in spot_roles(text))  # "B" alone may be the letter of a size
    if headed or not named or column.field not in _OF_RATINGS or column.taught is not None:
        return False
    return ends_in_markings(text) or (column.field == "rated_current" and not text[:1].isdecimal())


def _is_of_group(layout: Layout, column: Column, group: tuple[Column, ...]) -> bool:
    """Tell whether a column speaks for the torques of a group: a screw's or part's own are those of its heading."""
    if column.field in _OF_SCREW and column not in of_part(layout, column.field, group[0].qualifier):
        return False
    if column.field in _OF_PART and _is_of_another(layout, column, group[0].qualifier):
        return False
    return column.field in _PLAIN and not _is_of_other_heading(layout, column, group[0])


def _is_of_other_heading(layout: Layout, column: Column, torque: Column) -> bool:
    """Tell whether a list of properties has a rating or device under another of the headings that part it.

    "Environmental ratings | Ingress protection | IP20" says nothing of the device of "Terminals | Torque | 0.4 N·m".
    """
    if not layout.grid.across or not layout.section.headings or column.field not in ("device", "rated_current"):
        return False
    own, other = (_parting_heading(layout, one) for one in (torque, column))
    named = make_sense(column.heading).has("device") and column.field == "device"
    return own is not None and other is not None and own is not other and not named


def _parting_heading(layout: Layout, column: Column) -> Cell | None:
    """Return the heading that a property of a turned list shares with others, None if it has none."""
    cell = layout.grid.rows[layout.section.headings[0]][column.index]
    return cell if cell is not None and cell.row_span > 1 else None


def _names_terminal_itself(layout: Layout, group: tuple[Column, ...]) -> bool:
    """Tell whether a property of a list names its terminal in its own name: no other property's value names it then."""
    listed = layout.grid.across and len(layout.section.body) == 1
    name = group[0].qualifier
    said = says_terminal(name)
    return listed and (said or bool(spot_roles(name)))


def _holds_numbers_alone(layout: Layout, column: Column) -> bool:
    """Tell whether all that a column prints are whole numbers that may be counts, as "01" is none."""
    texts = [text for text in layout.grid.texts(layout.section.body, column.index) if text]
    return all(text.isdecimal() and (len(text) == 1 or text[0] != "0") for text in texts)


def of_part(layout: Layout, field: str, qualifier: str) -> list[Column]:
    """Return the columns of sizes or screws that are headed like the torques of this part, else those of no part.

    What is headed like the torques of another part is that part's alone.
    """
    columns = [column for column in layout.columns if column.field.startswith(field)]
    own = [c for c in columns if _same_part(c.qualifier, qualifier)]
    others = [c.qualifier for c in layout.columns if is_torque(c)] if qualifier else []
    return own or [c for c in columns if not any(_same_part(c.qualifier, other) for other in others)]


def _is_of_another(layout: Layout, column: Column, qualifier: str) -> bool:
    """Tell whether a column is headed like the torques of another part alone: "Control terminals" beside "main"."""
    others = {c.qualifier for c in layout.torque_columns if not _same_part(c.qualifier, qualifier)}
    headed = any(_same_part(column.qualifier, other) for other in others)
    return headed and not _same_part(column.qualifier, qualifier)


def _same_part(one: str, other: str) -> bool:
    """Two qualifiers share a part: "Main circuit" and "Main circuit / flexible", "Coil" and "Coil: solid"."""
    parts = {label_key(part) for part in one.split(" / ")} - {""}
    roles = {match.concept for match in spot_roles(one)}
    same_roles = bool(roles) and roles == {match.concept for match in spot_roles(other)}
    return same_roles or bool(parts & {label_key(part) for part in other.split(" / ")})
