"""`read_conductor`: what a printed conductor cell says."""

from __future__ import annotations

from dataclasses import dataclass

from torquary_ingest.document import Doubt
from torquary_ingest.figures.numbers import DecimalMark
from torquary_ingest.figures.values import ConductorReading


@dataclass(frozen=True, slots=True, kw_only=True)
class ConductorWords:
    """What words beside a size say of the conductor; `known` if they say anything."""

    stranding: tuple[str, ...] = ()
    material: tuple[str, ...] = ()
    ferrule: bool | None = None
    known: bool = False


def conductor_words(text: str) -> ConductorWords:
    return ConductorWords()


def read_conductor(text: str, *, unit: str = "", decimal_mark: DecimalMark = "") -> ConductorReading:
    """Return the conductor ranges of a cell, and the doubts that hold them."""
    return ConductorReading(kind="figures", doubts=(Doubt(code="conductor_unreadable", message="x"),))
