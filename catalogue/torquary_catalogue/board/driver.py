"""A torque driver as its file describes it (`driver.schema.json`), in the terms of ISO 6789."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from torquary_catalogue.board.scale import MOST_VALUES, Scale, mark_evenly
from torquary_catalogue.show.figures import unit_named
from torquary_catalogue.written_forms import read_written, wrong_at
from torquary_schema.torque_tools import CYCLES, MONTHS, calibration_due, permitted_deviation

_WAYS = ("mark_every", "marks", "digital_step")
Bit = tuple[str, str]
"""A driver bit: key of the drive vocabulary and size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Driver:
    """One driver. `deviation_percent` counts both ways; `deviation_from` says where it was taken
    from.

    `calibrated` is the day of its last calibration, None where the file gives none; `bits` are None
    where the file does not list them.
    """

    name: str
    scales: tuple[Scale, ...]
    deviation_percent: Decimal | None
    deviation_from: str
    calibrated: date | None
    certificate: str
    most_months: int
    most_cycles: int
    cycles: int | None
    bits: tuple[Bit, ...] | None

    def is_due(self, today: date) -> bool:
        """Tell whether it is due for calibration: by its owner's rule, else 12 months or 5000
        cycles (ISO 6789).
        """
        return self.calibrated is not None and calibration_due(
            self.calibrated,
            today,
            self.cycles or 0,
            most_months=self.most_months,
            most_cycles=self.most_cycles,
        )

    def say_faults(self, today: date) -> Iterator[str]:
        """Yield what is wrong with the driver itself, to be said before the work begins."""
        if self.calibrated is None:
            yield f"driver {self.name}: no day of calibration is given: see its certificate"
        elif self.calibrated > today:
            yield f"driver {self.name}: calibrated {self.calibrated}, which lies in the future"
        elif self.is_due(today):
            cycles = f", {self.cycles} cycles" if self.cycles is not None else ""
            yield (
                f"driver {self.name}: due for calibration (last {self.calibrated}{cycles}; "
                f"every {self.most_months} months or {self.most_cycles} cycles): do not use it until it is calibrated"
            )
        if self.deviation_percent is None:
            yield f"driver {self.name}: neither deviation nor class is given: no verdict on ranges"

    def say_soon_due(self, cycles: int, today: date) -> Iterator[str]:
        """Yield that the driver becomes due while it makes so many cycles more."""
        if self.cycles is None or self.is_due(today) or self.cycles + cycles < self.most_cycles:
            return
        yield (
            f"driver {self.name}: becomes due for calibration during this work "
            f"({self.cycles} cycles made, {cycles} terminals to do, due at {self.most_cycles})"
        )


def read_driver(path: Path) -> Driver:
    """Return the driver in a file; `TorquaryError` (status 2) names the line at fault."""
    record = read_written(path, "driver")
    scales = tuple(_read_scale(path, at, one) for at, one in enumerate(record["scales"]))
    given = record.get("deviation_percent")
    highest = max(scale.range_nm[1] for scale in scales)
    permitted = permitted_deviation(record.get("type", ""), record.get("class", ""), highest)
    return Driver(
        name=record["driver"],
        scales=scales,
        deviation_percent=permitted if given is None else Decimal(given),
        deviation_from="by its file"
        if given is not None
        else _say_class(record)
        if permitted
        else "",
        calibrated=_read_day(path, record.get("calibrated")),
        certificate=record.get("certificate", ""),
        most_months=record.get("interval_months", MONTHS),
        most_cycles=record.get("interval_cycles", CYCLES),
        cycles=record.get("cycles"),
        bits=_read_bits(path, record["bits"]) if "bits" in record else None,
    )


def _say_class(record: Mapping[str, Any]) -> str:
    return f"for type {record['type']} class {record['class']}, from memory: see its certificate"


def _read_scale(path: Path, at: int, record: Mapping[str, Any]) -> Scale:
    place = ("scales", at)
    unit = unit_named(record["unit"])
    if unit is None:
        message = (
            f"{record['unit']!r} is no unit of a scale: write Nm, cNm, lbf-in, lbf-ft or kgf-cm"
        )
        raise wrong_at(path, (*place, "unit"), message)
    ways = [way for way in _WAYS if way in record]
    if len(ways) != 1:
        raise wrong_at(path, place, f"a scale has one of {', '.join(_WAYS)}")
    lowest, highest = Decimal(record["lowest"]), Decimal(record["highest"])
    if lowest >= highest:
        raise wrong_at(path, (*place, "lowest"), "the lowest value is not below the highest")
    if "marks" in record:
        marks = tuple(sorted({Decimal(mark) for mark in record["marks"]}))
        if marks[0] != lowest or marks[-1] != highest:
            raise wrong_at(
                path, (*place, "marks"), "the first and last mark are the lowest and highest value"
            )
        return Scale(unit=unit, lowest=lowest, highest=highest, marks=marks)
    step = Decimal(record[ways[0]])
    if (highest - lowest) / step > MOST_VALUES:
        raise wrong_at(path, (*place, ways[0]), f"the step gives more than {MOST_VALUES} values")
    if ways[0] == "digital_step":
        return Scale(unit=unit, lowest=lowest, highest=highest, step=step)
    return Scale(
        unit=unit, lowest=lowest, highest=highest, marks=mark_evenly(lowest, highest, step)
    )


def _read_day(path: Path, text: str | None) -> date | None:
    if text is None:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise wrong_at(
            path, ("calibrated",), f"{text!r} is no day: write it like 2026-03-01"
        ) from None


def _read_bits(path: Path, texts: list[str]) -> tuple[Bit, ...]:
    from torquary_ingest.figures.drives import read_drive

    bits: list[Bit] = []
    for at, text in enumerate(texts):
        found = read_drive(text, heading="bit")
        if not found:
            raise wrong_at(
                path,
                ("bits", at),
                f"{text!r} is no bit that is known: write it like PZ2 or slot 1x5.5",
            )
        bits += [(one.kind, one.size or "") for one in found]
    return tuple(dict.fromkeys(bits))


def lowest_and_highest(driver: Driver) -> tuple[Decimal, Decimal]:
    """Return the least and greatest torque (N·m) of all its scales."""
    ranges = [scale.range_nm for scale in driver.scales]
    return min(low for low, _ in ranges), max(high for _, high in ranges)
