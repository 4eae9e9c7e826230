"""Figures that are no settings: torques of other things, and those that nothing says a screw is set to."""

from __future__ import annotations

from torquary_ingest.document import Entry, Reading
from torquary_ingest.evidence.gate import Weighed
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.normalise.torques import TorqueFinding
from torquary_schema.places import name_table
from torquary_schema.values import Finding

_SAID_OF_SCREWS = frozenset({"quantity", "screw", "terminal"})
"""What a figure lacks of which nothing tells that a screw is set to it."""


def says_nothing(reading: Reading, weighed: Weighed) -> bool:
    """Tell whether a figure of a list has nothing beside it but a unit, and nothing says that a screw is set to it."""
    missing = {one.field for one in weighed.missing}
    told = any(_tells(entry) for entry in reading.entries if entry.cell.text.strip())
    return reading.place.table is not None and missing >= _SAID_OF_SCREWS and not told


def _tells(entry: Entry) -> bool:
    """Tell whether an entry is something beside the figure, or the figure stands under a word for torque."""
    return not entry.field.startswith("torque") or make_sense(entry.heading).has("torque", "torque_max", "torque_min")


def not_placed(reading: Reading, torques: TorqueFinding) -> Finding:
    """Return the finding that names such a figure: parameters of a drive would be held by the hundred."""
    place = reading.place
    where = f"{name_table(place.table or 0)} on page {place.page}"
    said = "nothing says what is set to it; look whether it is for a terminal"
    message = f"{where} prints {torques.printed!r}, and {said}"
    return Finding(code="figure_not_placed", scope="table", message=message, place=place, printed=place.text)


def other_torque(reading: Reading, torques: TorqueFinding, weighed: Weighed) -> Finding:
    """Return the finding that names a torque of a machine, tool or test."""
    message = f"{torques.printed!r} is a torque that no terminal is set to ({weighed.other!r}); not recorded"
    return Finding(code="other_torque", scope="table", message=message, place=reading.place, printed=reading.place.text)
