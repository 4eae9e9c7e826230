"""Units that a band row, caption or page line states for the figures that follow."""

from __future__ import annotations

import re
from collections.abc import Iterable

from torquary_ingest.headings.sense import make_sense
from torquary_ingest.lexis.figures import ends_in_figure
from torquary_schema.words import fold, spot

_SHORT = 40
_LONG = 80
_ALL = re.compile(r"\b(?:all|alle|alla|tous|toutes|tutt[ei]|tod[oa]s|wszystkie|vsechny|kaikki|все)\b")
_MARK = re.compile(r"^\s*[(\[]?(?:\d{1,2}|[*†‡§]+)[)\].:]?\s+")


def stated_unit(text: str, *kinds: str) -> str:
    """Return the printed units of these kinds that stand without a figure; "" if there is none.

    "all torques in cN·m" states a unit; "tighten to 2.5 N·m" gives a figure and states nothing.
    """
    found = [
        match.printed
        for match in make_sense(text).units
        if match.kind in kinds and not ends_in_figure(text[: match.start])
    ]
    return " ".join(dict.fromkeys(found))


def nearest_unit(lines: Iterable[str], *kinds: str) -> str:
    """Return the unit that the first line stating one gives; "" if none does. Lines come nearest first.

    A long line has to speak of torques or conductors: one about something else may name a unit in passing.
    """
    for line in lines:
        unit = stated_unit(line, *kinds)
        if unit and (len(line) <= _SHORT or make_sense(line).has("torque", "conductor")):
            return unit
    return ""


def unit_beneath(lines: Iterable[str]) -> str:
    """Return the torque unit that a line under a table states for its torques; "" if none does, or two differ.

    The line speaks of torques and gives no figure ("All torques in N·m."): a note on one of them does.
    """
    found = {
        stated_unit(line, "torque", "force")
        for line in map(_without_mark, lines)
        if len(line) <= _LONG and make_sense(line).has("torque") and not _is_narrower(line)
    } - {""}
    return next(iter(found)) if len(found) == 1 else ""


def _is_narrower(line: str) -> bool:
    """Tell whether a line gives a figure or names one kind of screw."""
    rest = make_sense(line).rest  # without the N of N·m, which marks neutrals too
    return any(map(str.isdigit, line)) or bool(spot("purpose", line) or spot("role", rest))


def _without_mark(line: str) -> str:
    return _MARK.sub("", line)


def speaks_for_all(line: str) -> bool:
    """Tell whether a line states a unit for all torques of its page: "All torques in N·m."."""
    return _ALL.search(fold(line)) is not None and bool(unit_beneath([line]))
