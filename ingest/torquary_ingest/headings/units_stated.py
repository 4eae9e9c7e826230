"""Units that a band row, caption or page line states for the figures that follow."""

from __future__ import annotations

import re
from collections.abc import Iterable

from torquary_ingest.headings.sense import make_sense

_SHORT = 40
_FIGURE_BEFORE = re.compile(r"[\d½¼¾⅛⅜⅝⅞%]\s*[\])]?\s*$")


def stated_unit(text: str, *kinds: str) -> str:
    """Return the printed units of these kinds that stand without a figure; "" if there is none.

    "all torques in cN·m" states a unit; "tighten to 2.5 N·m" gives a figure and states nothing.
    """
    found = [
        match.printed
        for match in make_sense(text).units
        if match.kind in kinds and not _FIGURE_BEFORE.search(text[: match.start])
    ]
    return " ".join(dict.fromkeys(found))


def nearest_unit(lines: Iterable[str], *kinds: str) -> str:
    """Return the unit that the last line stating one gives; "" if none does.

    A long line has to speak of torques or conductors: one about something else may name a unit in passing.
    """
    for line in reversed(list(lines)):
        unit = stated_unit(line, *kinds)
        if unit and (len(line) <= _SHORT or make_sense(line).has("torque", "conductor")):
            return unit
    return ""
