"""A board list read: each row checked, the good ones made into terminals, the bad ones named."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import cast

from torquary_catalogue.board.columns import columns
from torquary_catalogue.board.list_file import Line, of_a_list, read_rows
from torquary_catalogue.board.list_profile import ListProfile
from torquary_catalogue.board.listed import (
    LEFT_OUT,
    BoardList,
    Joint,
    ListedTerminal,
    ListFault,
    Place,
)
from torquary_schema.words import fold

MOST_SCREWS = 200
"""Screws alike of one terminal at most: a bar has some dozens (common practice)."""
MOST_CONDUCTORS = 9
MOST_SIGNS = 200
"""Signs of a cell at most: more are no name, size or remark."""
MOST_PLACE = 999
"""Rows and ways of a board at most."""
_MOST = {"row": MOST_PLACE, "way": MOST_PLACE, "screws": MOST_SCREWS, "conductors": MOST_CONDUCTORS}
_WHOLE = re.compile(r"([0-9]+)(?:[.,]0+)?")
_PARTS = re.compile(r"\s*;\s*")


def read_board_list(
    path: Path,
    explained: Mapping[str, str] | None = None,
    profiles: Sequence[ListProfile] = (),
) -> BoardList:
    """Return what a list says; `explained` are headings of its own, folded → column key, before
    those that are explained in one of the profiles.

    A row with a fault gives no terminal and is named by row and column. Raises `TorquaryError`
    (status 2) for a file that is no list.
    """
    rows = read_rows(path, of_a_list(explained or {}, profiles))
    faults = list(rows.faults)
    terminals: list[ListedTerminal] = []
    names_boards = any(line.cells.get("board") for line in rows.lines)
    taken: dict[tuple[str, str], int] = {}
    for line in rows.lines:
        wrong = list(_check(line, names_boards=names_boards))
        faults += wrong
        made = [] if wrong else list(_make(line, path.stem))
        twice = [one for one in made if (one.board, one.name.casefold()) in taken]
        if twice or len({one.name.casefold() for one in made}) < len(made):
            faults.append(
                _name_twice(
                    line, taken.get((twice[0].board, twice[0].name.casefold())) if twice else None
                )
            )
            continue
        taken |= {(one.board, one.name.casefold()): line.at for one in made}
        terminals += made
    return BoardList(
        file=path.name, headings=rows.headings, terminals=tuple(terminals), faults=tuple(faults)
    )


def _name_twice(line: Line, before: int | None) -> ListFault:
    where = f"row {before} has it too" if before else "it stands twice in the row"
    message = f"two terminals alike: {where}; tell them apart, or count them under screws"
    return ListFault(row=line.at, column=line.headings["terminal"], message=message)


def _check(line: Line, *, names_boards: bool) -> Iterator[ListFault]:
    """Yield what is wrong with a row, cell by cell."""
    for key in line.cells:
        message = _check_cell(key, line.cells[key])
        if message:
            yield ListFault(row=line.at, column=line.headings[key], message=message)
    if names_boards and not line.cells["board"]:
        yield ListFault(
            row=line.at,
            column=line.headings["board"],
            message="is empty, while other rows name a board",
        )
    left = _take_joint(line) in LEFT_OUT
    for key in ("device", "terminal"):
        if not line.cells[key] and not left:
            yield ListFault(row=line.at, column=line.headings[key], message="is empty")


def _check_cell(key: str, text: str) -> str:
    """Return what is wrong with the text of a cell, "" if nothing."""
    allowed = columns()[key].allowed
    if len(text) > MOST_SIGNS:
        return f"has more than {MOST_SIGNS} signs"
    if text and allowed and fold(text) not in allowed:
        return f"{text!r} is not known: write one of {', '.join(allowed)}"
    most = _MOST.get(key)
    if text and most and not 1 <= _read_whole(text) <= most:
        return f"{text!r} is no whole number from 1 to {most}"
    return ""


def _read_whole(text: str) -> int:
    """Return the whole number in a cell (a workbook may print 3 as 3.0), 0 for what is none."""
    found = _WHOLE.fullmatch(text.strip())
    return int(found[1]) if found else 0


def _take_joint(line: Line) -> Joint:
    return cast(Joint, fold(line.cells.get("joint", "")) or "site")


def _make(line: Line, file: str) -> Iterator[ListedTerminal]:
    """Yield the terminals of a row without faults, screw by screw."""
    texts = {key: line.cells.get(key, "") for key in columns()}
    screws = _read_whole(texts["screws"]) or 1
    for terminal in _split(texts["terminal"]) or [""]:
        for screw in range(1, screws + 1):
            yield ListedTerminal(
                board=texts["board"] or file,
                place=Place(
                    row=_read_whole(texts["row"]) or None,
                    way=_read_whole(texts["way"]) or None,
                    mark=texts["mark"],
                ),
                terminal=terminal,
                screw=screw if screws > 1 else None,
                conductors=_read_whole(texts["conductors"]) or 1,
                ferrule=fold(texts["ferrule"]),
                joint=_take_joint(line),
                at=line.at,
                **{
                    key: texts[key]
                    for key in ("maker", "device", "conductor", "material", "stranding", "remark")
                },
            )


def _split(text: str) -> Sequence[str]:
    return [part for part in _PARTS.split(text.strip()) if part]
