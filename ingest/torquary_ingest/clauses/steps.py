"""Steps that give their torque in a line of its own."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.clauses.items import set_items
from torquary_ingest.document.lines import Line
from torquary_ingest.headings.claims import states_torque

_LEAST_WORDS = 5
"""Words of the first line of a step at least: fewer may be the name of a property."""


def lines_of_steps(lines: Sequence[Line]) -> frozenset[int]:
    """Return the lines of steps that say what to do and give its torque in a line of their own, by their first word.

    "Connect the supply to X1." over "Tightening torque: 0.6 N·m" is one step and no list of properties.
    """
    steps = (
        item
        for item in set_items([lines])
        if item.marked and len(item.lines) > 1 and states_torque(item.text)
    )
    told = (
        step
        for step in steps
        if len(step.lines[0].text.split()) >= _LEAST_WORDS and ":" not in step.lines[0].text
    )
    return frozenset(id(line.words[0]) for step in told for line in step.lines)
