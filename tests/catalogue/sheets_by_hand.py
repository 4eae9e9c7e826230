"""Sheets made by hand for the catalogue's tests: invented makers, no file needed."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from torquary_schema.values import (
    Box,
    Conductor,
    Device,
    Drive,
    Finding,
    Place,
    Setting,
    SheetReport,
    Terminal,
    Torque,
)


def torque(printed: str, low: str | None, high: str | None, unit: str = "N·m") -> Torque:
    lowest, highest = (None if side is None else Decimal(side) for side in (low, high))
    return Torque(
        printed=printed,
        unit_printed=unit,
        min_nm=lowest,
        nominal_nm=lowest if low == high else None,
        max_nm=highest,
    )


def mm2(low: str | None, high: str | None, **more: Any) -> Conductor:
    lowest, highest = (None if side is None else Decimal(side) for side in (low, high))
    return Conductor(printed=f"{low}–{high} mm²", system="mm2", min_mm2=lowest, max_mm2=highest, **more)


def awg(thin: str | None, thick: str | None, **more: Any) -> Conductor:
    return Conductor(printed=f"{thin}–{thick} AWG", system="awg", min_awg=thin, max_awg=thick, **more)


def setting(name: str, **parts: Any) -> Setting:
    given: dict[str, Any] = {
        "state": "released",
        "purpose": "electrical_terminal",
        "device": Device(printed="Breaker BK-16", family="mcb", series="BK", model="BK-16"),
        "terminal": Terminal(
            printed="Outgoing", roles=("load_out",), thread="M5", drive=(Drive(kind="cross_z", size="2"),)
        ),
        "conductor": mm2("1.5", "16"),
        "torque": torque("2.5", "2.5", "2.5"),
        "place": Place(
            page=1, table=1, row=2, box=Box(x0=72, top=100, x1=300, bottom=112), text="1.5–16 2.5"
        ),
        **parts,
    }
    return Setting(id=name, **given)


def report(*settings: Setting, digest: str = "a" * 64, **parts: Any) -> SheetReport:
    given: dict[str, Any] = {
        "file": "harbour_breakers.pdf",
        "state": "read",
        "title": "Harbour breakers",
        "maker": "Quillhaven Switchgear",
        "edition": "2024-03",
        "pages": 2,
        **parts,
    }
    return SheetReport(digest=digest, settings=settings, **given)


def held(name: str, **parts: Any) -> Setting:
    doubt = Finding(code="unit_missing", message="No unit is printed for 8.8: see the sheet and correct it.")
    return setting(
        name, state="held", torque=torque("8.8", "8.8", "8.8", unit=""), findings=(doubt,), **parts
    )


AS_LAYOUT_1 = """
CREATE TABLE earlier AS
SELECT * EXCLUDE (
    roles, scope, conditions, read_state, beside, says, amps, sheet_number, said, maker_words, series_words
), roles[1] AS role FROM setting;
DROP TABLE setting;
ALTER TABLE earlier RENAME TO setting;
DROP TABLE decision_record;
ALTER TABLE decision DROP COLUMN number;
CREATE TABLE earlier AS SELECT * EXCLUDE (as_read, number) FROM sheet;
DROP TABLE sheet;
ALTER TABLE earlier RENAME TO sheet;
UPDATE catalogue_format SET version = 1"""
"""Gives a catalogue of today the settings and the number of the first layout."""
