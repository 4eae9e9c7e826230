"""One column of a table as its headings and cells name it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from torquary_ingest.document import Cell, Doubt, Mark, TaughtHeading

OF_VALUES = re.compile(r"(?<!\w)(?:k?V|m?A|k?A|k?W|Hz)(?:\s?(?:AC|DC))?\s*[\])]?$")
"""The end of a heading over voltages, currents or powers: "Uc V AC"."""

# Where several concepts stand in one heading, the first of these says what the column holds.
FIELD_ORDER = (
    "torque", "torque_min", "torque_max", "strip_length", "drive", "bit", "thread", "conductor_min",
    "conductor_max", "conductor", "stranding", "rated_current", "ferrule", "material", "clamp", "count",
    "terminal", "model", "series", "device", "maker", "family", "purpose", "edition", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column: its field, the printed unit and the heading text; `index` counts from 0.

    `qualifier` is what the heading says beyond field and unit ("Main circuit", "flexible"), joined by " / ".
    `size` is a heading cell that is itself a conductor size (a matrix with sizes across).
    `marks` and `doubts` are those of the heading's cells, `lines` their lines from top to bottom. `taught` is what
    a layout profile says of the heading, `contradictions` why it cannot be so.
    """

    index: int
    field: str
    unit: str = ""
    heading: str = ""
    qualifier: str = ""
    size: Cell | None = None
    qualifier_cells: tuple[Cell, ...] = ()
    marks: tuple[Mark, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    lines: tuple[str, ...] = ()
    taught: TaughtHeading | None = None
    contradictions: tuple[Doubt, ...] = ()
