"""Imported by the server that forks workers: what every sheet needs is loaded there once, not in each worker."""

from __future__ import annotations

import gc
from contextlib import suppress

from torquary_ingest import one_sheet
from torquary_ingest.figures import read_conductor, read_torque
from torquary_schema.units import find_units
from torquary_schema.validation import check_record
from torquary_schema.words import KINDS, spot

__all__ = ["one_sheet"]


def warm_up() -> None:
    """Fill the caches of words, units, grammars and the schema by asking each once."""
    for kind in KINDS:
        spot(kind, "torque")
    find_units("2.5 N·m")
    read_torque("2.5 ± 0.1 N·m")
    read_conductor("1.5–6 mm²")
    check_record({})


# A fault here is told by the worker that meets it, with the sheet's name.
with suppress(Exception):
    warm_up()

# What is loaded here lives as long as the server: no worker need look through it, nor copy it by looking.
gc.freeze()
