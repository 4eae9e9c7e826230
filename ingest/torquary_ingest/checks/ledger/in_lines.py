"""The torques that blocks of lines mention, and what of them is left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from torquary_ingest.checks.ledger.accounted import Accounted
from torquary_ingest.checks.ledger.blocks import Block
from torquary_ingest.checks.ledger.mentions import (
    figures_beside_words,
    heads_by_unit,
    is_bare_figure,
    is_of_another_kind,
    names_torque,
    speaks_of_screws,
    stated_torques,
    unreadable_beside_words,
)
from torquary_ingest.document.lines import Line

_NEXT = 2.6
"""Type sizes below a word for a torque within which a bare figure is its figure."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mention:
    """A torque's figure as printed in a line; `other` tells that what mentions it is a torque no screw is set to."""

    line: Line
    printed: str
    other: bool = False


def left_in(block: Block, accounted: Accounted) -> tuple[Mention, ...]:
    """Return the mentions of a block that nothing accounts for, each figure of a line once."""
    found = dict.fromkeys(_mentions(block))
    left = [mention for mention in found if not accounted.holds_line(mention.line, mention.printed)]
    if accounted.only_other(block.page) and not any(speaks_of_screws(line.text) for line in block.lines):
        left = [replace(mention, other=True) for mention in left]
    return tuple(left)


def mentions_torque(line: Line) -> bool:
    """Tell whether a line prints a word or unit for a torque, or what is shaped like one."""
    return bool(names_torque(line.text) or heads_by_unit(line.text) or stated_torques(line.text))


def _mentions(block: Block) -> Iterator[Mention]:
    before = ""
    for at, line in enumerate(block.lines):
        other = is_of_another_kind(line.text)
        for torque in stated_torques(line.text, before):
            yield Mention(line=line, printed=torque.printed, other=other)
        figures = figures_beside_words(line.text)
        for figure in (*figures, *unreadable_beside_words(line.text)):
            yield Mention(line=line, printed=figure, other=other)
        if not figures and not is_bare_figure(line.text):
            yield from _headed(block.lines, at, other=other)
        before = line.text


def _headed(lines: Sequence[Line], at: int, *, other: bool) -> Iterator[Mention]:
    """Yield the bare figures that a word or unit of torque in a line heads: below a unit all, else those at it."""
    heading = lines[at]
    by_unit = heads_by_unit(heading.text)
    if not (by_unit or names_torque(heading.text)) or stated_torques(heading.text):
        return
    for line in lines:
        if line is heading or not is_bare_figure(line.text) or stated_torques(line.text):
            continue
        below = line.box.top >= heading.box.bottom - 1 and (by_unit or _is_next(heading, line))
        if below or _is_beside(heading, line):
            yield Mention(line=line, printed=line.text, other=other)


def _is_beside(heading: Line, line: Line) -> bool:
    middle = line.box.middle[1]
    return heading.box.top < middle < heading.box.bottom and line.box.x0 >= heading.box.x1


def _is_next(heading: Line, line: Line) -> bool:
    gap = line.box.top - heading.box.bottom
    return gap <= _NEXT * heading.size and line.box.x0 < heading.box.x1 and heading.box.x0 < line.box.x1
