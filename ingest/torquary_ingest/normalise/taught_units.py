"""The unit that a person stated for a heading, held against what the sheet prints."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from torquary_ingest.document import Doubt, Entry
from torquary_ingest.figures import read_conductor, read_torque
from torquary_ingest.figures.numbers import DecimalMark
from torquary_ingest.figures.values import ConductorReading, TorqueFigure, TorqueReading
from torquary_ingest.headings.tolerances import has_tolerance, stated_tolerance
from torquary_schema.units import UnitKind, find_units
from torquary_schema.values import Torque

SIZES: tuple[UnitKind, ...] = ("area", "gauge")


def read_torque_cell(entry: Entry, mark: DecimalMark) -> TorqueReading:
    """Return what a torque cell says; a person's unit counts only where none is printed, and never against print."""
    tolerance = stated_tolerance(entry.heading) if has_tolerance(entry.heading) else ""
    reading = read_torque(entry.cell.text, unit=entry.unit_printed, decimal_mark=mark)
    if tolerance and reading.kind == "figures":
        # Behind a range or a figure with a tolerance of its own it cannot be read, and that holds it.
        text = f"{entry.cell.text.strip()} {tolerance}"
        reading = read_torque(text, unit=entry.unit_printed, decimal_mark=mark)
    unit = entry.taught.unit if entry.taught is not None else ""
    if not unit or reading.kind != "figures":
        return reading
    doubts = _against(entry, "torque", "force")
    if not doubts and not entry.unit_printed and _lacks(reading.doubts, "unit_missing"):
        reading = read_torque(entry.cell.text, unit=unit, decimal_mark=mark)
        reading = replace(reading, figures=tuple(map(_without_unit, reading.figures)))
        doubts = _told(entry)
    return replace(reading, doubts=(*reading.doubts, *doubts))


def read_conductor_cell(entry: Entry, mark: DecimalMark) -> ConductorReading:
    """Return what a conductor cell says, likewise."""
    reading = read_conductor(entry.cell.text, unit=entry.unit_printed, decimal_mark=mark)
    unit = entry.taught.unit if entry.taught is not None else ""
    if not unit or reading.kind != "figures":
        return reading
    doubts = _against(entry, *SIZES)
    if not doubts and not entry.unit_printed and _lacks(reading.doubts, "conductor_unit_missing"):
        reading = read_conductor(entry.cell.text, unit=unit, decimal_mark=mark)
        doubts = _told(entry)
    return replace(reading, doubts=(*reading.doubts, *doubts))


def _lacks(doubts: Sequence[Doubt], code: str) -> bool:
    return any(doubt.code == code for doubt in doubts)


def _without_unit(figure: TorqueFigure) -> TorqueFigure:
    """What is not printed does not stand where the print is kept."""
    return replace(figure, torque=_bare(figure.torque), second=figure.second and _bare(figure.second))


def _bare(torque: Torque) -> Torque:
    return replace(torque, unit_printed="")


def _against(entry: Entry, *kinds: UnitKind) -> tuple[Doubt, ...]:
    """Return a doubt when a unit is printed for the cell that is not the one the person stated."""
    if entry.taught is None:
        return ()
    stated = {unit.name for unit in find_units(entry.taught.unit)}
    texts = (entry.unit_printed, entry.cell.text)
    printed = [unit for text in texts for unit in find_units(text) if unit.kind in kinds and unit.name not in stated]
    return (_disagree(entry, printed[0].printed),) if printed else ()


def _told(entry: Entry) -> tuple[Doubt, ...]:
    """Return the remark that the unit is a person's word, and the doubt when the sheet prints others elsewhere."""
    if entry.taught is None:
        return ()
    message = (
        f"the unit {entry.taught.unit} is what layout profile {entry.taught.profile} states for the heading "
        f"{entry.taught.printed!r}; the sheet prints none there"
    )
    told = Doubt(code="heading_taught", message=message)
    others = entry.taught.other_units
    return (told, _disagree(entry, others[0])) if others else (told,)


def _disagree(entry: Entry, printed: str) -> Doubt:
    told = entry.taught
    where = f"layout profile {told.profile} states {told.unit} for {told.printed!r}" if told else "a profile states it"
    return Doubt(
        code="units_disagree",
        message=f"{where}, and the sheet prints {printed}; find out which one holds, and correct the profile",
    )
