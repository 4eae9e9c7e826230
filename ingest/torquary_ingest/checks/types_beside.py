"""Two types of one series side by side over one list, which was read as that of one of them: nothing says which."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from torquary_ingest.document import Document, Table
from torquary_ingest.document.lines import Line, set_lines
from torquary_ingest.headings.designations import are_types_of_series, print_types
from torquary_schema.values import Box, Finding, Setting

_OVER = 8.0
"""Type sizes from the types to their list at most: headings stand between (own choice)."""

Named = tuple[Line, str]
"""A line that names one type, and the type."""


def check_types_beside(
    document: Document, tables: Sequence[Table], settings: Sequence[Setting]
) -> Iterator[tuple[int, Finding]]:
    """Hold the settings of a list that name one of two types printed at one height over it, where none names the other.

    Columns and lists under a type each are named by both.
    """
    for page in document.pages:
        pairs = list(_pairs(set_lines(page)))
        for table in tables if pairs else ():
            own = [at for at, one in enumerate(settings) if (one.place.page, one.place.table) == _place_of(table)]
            if table.page == page.number and table.box is not None and own:
                yield from _one_of_two(settings, own, [pair for pair in pairs if _stands_over(pair, table.box)])


def _place_of(table: Table) -> tuple[int, int]:
    return table.page, table.number


def _pairs(lines: Sequence[Line]) -> Iterator[tuple[Named, Named]]:
    named = [(line, types[0]) for line in lines if len(types := print_types(line.text)) == 1]
    for one, other in combinations(named, 2):
        if one[0].box.level_with(other[0].box) and are_types_of_series([one[1], other[1]]):
            yield one, other


def _stands_over(pair: tuple[Named, Named], box: Box) -> bool:
    """Tell whether both types stand in the width of a list and over its last row, not far from its first."""
    inside = all(box.x0 - line.size <= line.box.middle[0] <= box.x1 + line.size for line, _ in pair)
    line = pair[0][0]
    return inside and box.top - _OVER * line.size <= line.box.top < box.bottom


def _one_of_two(
    settings: Sequence[Setting], own: Sequence[int], pairs: Sequence[tuple[Named, Named]]
) -> Iterator[tuple[int, Finding]]:
    for (line, one), (_, other) in pairs:
        boxes = [box for at in own if (box := settings[at].place.box) is not None]
        if all(line.box.bottom <= box.top for box in boxes):
            yield from ((at, _which(settings[at], one, other)) for at in _doubted(settings, own, {one, other}))


def _doubted(settings: Sequence[Setting], own: Sequence[int], types: set[str]) -> list[int]:
    """Return the settings that name one of two types which none of a list names, or one as device, one as terminal."""
    named = {at: _named_of(settings[at], types) for at in own}
    told = {kind for device, terminal in named.values() for kind in device | terminal}
    if len(told) == 1:
        return [at for at in own if any(named[at])]
    return [at for at, (device, terminal) in named.items() if device and terminal and device.isdisjoint(terminal)]


def _named_of(setting: Setting, types: set[str]) -> tuple[set[str], set[str]]:
    """Return which of some types a setting's device names, and which its terminal's name does."""
    device, terminal = setting.device.printed, setting.terminal.printed
    return types & set(print_types(device)), types & set(print_types(terminal))


def _which(setting: Setting, one: str, other: str) -> Finding:
    message = f"{one!r} and {other!r} stand side by side over one list; look which of them it is for"
    return Finding(code="readings_differ", message=message, place=setting.place, printed=setting.place.text)
