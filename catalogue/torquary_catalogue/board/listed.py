"""What a board list says: terminals with what is fitted to them, and the faults of its rows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Joint = Literal["site", "factory", "spare", "spring"]
LEFT_OUT: tuple[Joint, ...] = ("spare", "spring")
"""Joints that are named and not tightened: a spare way holds no conductor, a spring has no torque
(common practice).
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ListFault:
    """What is wrong with a list. `row` counts as the file does, from 1 (0: the whole file);
    `column` is its heading.
    """

    row: int
    column: str
    message: str

    @property
    def text(self) -> str:
        """The fault in one line."""
        where = f"row {self.row}" if self.row else "the list"
        return f"{where}{f', column {self.column}' if self.column else ''}: {self.message}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a device sits: row from the top and way from the left (both from 1, None: not said),
    and its mark.
    """

    row: int | None = None
    way: int | None = None
    mark: str = ""

    @property
    def name(self) -> str:
        """The place in words: "1.3 F3"."""
        number = ".".join(str(part) for part in (self.row, self.way) if part is not None)
        return " ".join(part for part in (number, self.mark) if part)


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedTerminal:
    """One screw of a board as its list has it.

    `at` is the row of the list; `screw` counts screws alike of one terminal from 1, None where it
    has one; `conductor` is the size as typed, `conductors` how many go into the terminal; "" is
    what the list does not say.
    """

    board: str
    place: Place
    maker: str
    device: str
    terminal: str
    screw: int | None
    conductor: str
    conductors: int
    material: str
    stranding: str
    ferrule: str
    joint: Joint
    remark: str
    at: int

    @property
    def name(self) -> str:
        """What tells the terminal from the others of its board: "1.3 F3 | line 1", "2.1 X1 | earth,
        screw 4".
        """
        screw = f", screw {self.screw}" if self.screw else ""
        return " | ".join(filter(None, (self.place.name or self.device, f"{self.terminal}{screw}")))

    @property
    def order(self) -> tuple[int, int, int]:
        """The board's own order: rows from the top, ways from the left; what has no place comes
        last.
        """
        last = 10**9
        return (self.place.row or last, self.place.way or last, self.at)


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardList:
    """A list as read: the headings that it prints, its terminals in the order of the list, and all
    that is wrong with it.
    """

    file: str
    headings: tuple[str, ...]
    terminals: tuple[ListedTerminal, ...]
    faults: tuple[ListFault, ...]

    @property
    def boards(self) -> tuple[str, ...]:
        """The boards it names, in their order."""
        return tuple(dict.fromkeys(one.board for one in self.terminals))
