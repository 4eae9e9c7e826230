"""Printed torque, conductor and drive cells to values, with a doubt beside whatever is not certain.

The readers are imported when they are first asked for, because the grammars take time to load.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from torquary_ingest.figures.values import CellKind, ConductorReading, TorqueFigure, TorqueReading

if TYPE_CHECKING:
    from torquary_ingest.figures.conductor import read_conductor
    from torquary_ingest.figures.drives import read_drive
    from torquary_ingest.figures.numbers import find_decimal_mark, read_number
    from torquary_ingest.figures.torque import read_torque, torque_like

__all__ = [
    "CellKind",
    "ConductorReading",
    "TorqueFigure",
    "TorqueReading",
    "find_decimal_mark",
    "read_conductor",
    "read_drive",
    "read_number",
    "read_torque",
    "torque_like",
]

_HOMES = {
    "find_decimal_mark": "numbers",
    "read_conductor": "conductor",
    "read_drive": "drives",
    "read_number": "numbers",
    "read_torque": "torque",
    "torque_like": "torque",
}


def __getattr__(name: str) -> object:
    home = _HOMES.get(name)
    if home is None:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{home}"), name)
