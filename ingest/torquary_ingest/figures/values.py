"""What a printed torque or conductor cell says, before anything is decided about it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from torquary_ingest.document import Doubt
from torquary_schema.values import Conductor, Torque

CellKind = Literal["figures", "blank", "not_applicable", "ditto", "words"]


@dataclass(frozen=True, slots=True, kw_only=True)
class TorqueFigure:
    """One figure of a torque cell.

    `torque` is the leading expression in N·m: N·m leads when both are printed and agree within print
    rounding, unless another unit is printed first and N·m is the coarser print (then that unit leads).
    `second` is the same figure in a second printed unit. `conductor` is the size printed in the cell for
    this figure ("≤ 25 mm² = 2.5 Nm"). `condition` holds words of the cell that limit the figure and were
    not understood; `thread` the thread printed for this figure ("M5: 2.0 Nm"). `step_nm` is the worth of its
    last printed digit in N·m.
    """

    torque: Torque
    unit: str
    step_nm: Decimal = Decimal(0)
    second: Torque | None = None
    conductor: Conductor | None = None
    condition: str = ""
    thread: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TorqueReading:
    """All figures of a cell. `kind` tells blank, a dash for "not applicable", ditto marks and words apart."""

    kind: CellKind
    figures: tuple[TorqueFigure, ...] = ()
    doubts: tuple[Doubt, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ConductorReading:
    """All conductor ranges of a cell (several where material or stranding differ: "14-10 Cu, 12-10 Al")."""

    kind: CellKind
    conductors: tuple[Conductor, ...] = ()
    doubts: tuple[Doubt, ...] = ()
