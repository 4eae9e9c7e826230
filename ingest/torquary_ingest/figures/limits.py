"""A torque to set and one not to exceed, printed side by side: one figure with its limit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from torquary_ingest.figures.values import TorqueFigure
from torquary_schema.values import Torque


def is_bound(torque: Torque) -> bool:
    """Tell whether a torque is an upper bound alone: "max. 2.5 N·m"."""
    return torque.max_nm is not None and torque.min_nm is None and torque.nominal_nm is None


def as_limit(figure: TorqueFigure) -> TorqueFigure:
    """Return a highest torque that stands alone as a limit: it says what not to exceed, and no setting."""
    torque = figure.torque
    if not is_bound(torque):
        return figure
    return replace(figure, torque=replace(torque, max_nm=None, limit_nm=torque.max_nm))


def join_limit(figures: Sequence[TorqueFigure]) -> list[TorqueFigure]:
    """Return "2.0 N·m, max. 2.5 N·m" as one figure with a limit; other figures as they are.

    Both are in one unit and say nothing else, and the limit is not below the figure.
    """
    if len(figures) != 2:
        return list(figures)
    first, bound = figures
    same = first.unit == bound.unit and not any((f.conductor, f.thread, f.condition) != (None, "", "") for f in figures)
    nominal, highest = first.torque.nominal_nm, bound.torque.max_nm
    if not same or nominal is None or highest is None or not is_bound(bound.torque) or highest < nominal:
        return list(figures)
    printed = f"{first.torque.printed}, {bound.torque.printed}"
    return [replace(first, torque=replace(first.torque, printed=printed, limit_nm=highest))]
