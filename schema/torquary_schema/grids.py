"""Published torque grids: what a thread or a conductor is tested or fallen back to.

The IEC grids are test torques and the US grids (NEC informative Annex I) fall-backs where a maker gives no
figure. They serve to notice a reading that cannot be right, never to fill a gap. A thread's torque is keyed
by standard and column together: column III of one standard is not column III of another.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Literal

from torquary_schema.sizes import awg_number, circular_mils
from torquary_schema.torque_factors import factor_nm

UsColumn = Literal["slot_small", "slot_large", "split_bolt", "other_hex"]
ScrewKind = Literal["cap", "set", "countersunk", "head_iso", "head_din"]

_SLOT_WIDTH_MM = Decimal("1.2")
_SLOT_LENGTH_MM = Decimal("6.4")
_US_COLUMNS: dict[str, UsColumn] = {
    "slot width <=": "slot_small",
    "slot width >": "slot_large",
    "hex head external drive - split": "split_bolt",
    "hex head external drive - other": "other_hex",
}
_SCREW_COLUMNS: dict[str, str] = {
    "cap": "socket_ISO_4762_mm",
    "set": "socket_ISO_4026_setscrew_mm",
    "countersunk": "socket_ISO_10642_mm",
    "head_iso": "external_ISO_mm",
    "head_din": "external_DIN_mm",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class GridTorque:
    """A torque of a published grid. `printed_nm` is what the table prints in N·m, None where it prints none.

    `lbf_in` is the printed figure of the US tables. `seen` says "seen in print" or "from memory".
    """

    nm: Decimal
    source: str
    seen: str
    lbf_in: Decimal | None = None
    printed_nm: Decimal | None = None


@cache
def _rows(name: str) -> tuple[dict[str, str], ...]:
    text = (Path(__file__).parent / "grid_tables" / f"{name}.csv").read_text("utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def _inside(row: dict[str, str], diameter_mm: Decimal) -> bool:
    if row["d_over_mm"] == row["d_upto_incl_mm"]:
        return Decimal(row["d_over_mm"]) == diameter_mm  # a row for one thread
    below = Decimal(row["d_over_mm"]) < diameter_mm
    return below and (not row["d_upto_incl_mm"] or diameter_mm <= Decimal(row["d_upto_incl_mm"]))


def _covers(printed_standard: str, standard: str) -> bool:
    """Tell whether "IEC 60898-1 / 61008-1 / 61009-1" names the standard asked for."""
    numbers = [part.replace("IEC", "").strip() for part in printed_standard.split("/")]
    return standard.replace("IEC", "").strip() in numbers


def thread_torque(standard: str, column: str, diameter_mm: Decimal) -> GridTorque | None:
    """Return the test torque of a thread diameter in mm, None where the grid has no value.

    `standard` as "IEC 60947-1", `column` as the Roman numeral printed over it. A diameter belongs to the row
    whose upper bound is at or above it.
    """
    for row in _rows("thread_torque"):
        if _covers(row["standard"], standard) and row["column"] == column and _inside(row, diameter_mm):
            return GridTorque(nm=Decimal(row["torque_nm"]), source=row["source"], seen=row["seen"])
    return None


def thread_torques(diameter_mm: Decimal) -> tuple[GridTorque, ...]:
    """Return what every grid on file gives for a thread diameter in mm: IEC, JIS and trade guidance."""
    found = [
        GridTorque(nm=Decimal(row["torque_nm"]), source=row["source"], seen=row["seen"])
        for row in _rows("thread_torque")
        if _inside(row, diameter_mm)
    ]
    for row in _rows("other_thread_torque"):
        if Decimal(row["thread"].removeprefix("M")) == diameter_mm:
            found += [
                GridTorque(nm=Decimal(row[key]), source=row["source"], seen=row["seen"])
                for key in ("min_nm", "nominal_nm", "max_nm")
                if row[key]
            ]
    return tuple(found)


def us_slot_column(width_mm: Decimal, length_mm: Decimal) -> UsColumn:
    """Return the column of Table I.1 for a slot: one dimension over the limit puts it in the larger column."""
    small = width_mm <= _SLOT_WIDTH_MM and length_mm <= _SLOT_LENGTH_MM
    return "slot_small" if small else "slot_large"


def _gauge(printed: str) -> Decimal:
    return circular_mils(printed if awg_number(printed) is not None else f"{printed} kcmil")


def _us(row: dict[str, str]) -> GridTorque:
    pounds = Decimal(row["lbf_in"])
    return GridTorque(
        nm=pounds * factor_nm("pound_inch"),
        lbf_in=pounds,
        printed_nm=Decimal(row["nm_printed"]),
        source=row["source"],
        seen=row["seen"],
    )


def us_conductor_torque(gauge: str, column: UsColumn) -> GridTorque | None:
    """Return Table I.1 of NEC informative Annex I for a size ("8", "1/0", "250 kcmil"), None outside it.

    ValueError: not an AWG or kcmil size.
    """
    wanted = circular_mils(gauge)
    for row in _rows("us_torque_i1"):
        ends = [_gauge(part) for part in row["conductor_awg_kcmil"].split("-")]
        here = next(name for start, name in _US_COLUMNS.items() if row["column"].startswith(start))
        if here == column and min(ends) <= wanted <= max(ends):
            return _us(row)
    return None


@cache
def us_highest_torque(area: Decimal) -> Decimal | None:
    """Return the highest torque in N·m that Table I.1 gives, in any column, for the size at or above an area.

    The area is in circular mils.
    None above the largest size of the table.
    """
    sizes = {row["conductor_awg_kcmil"]: max(map(_gauge, row["conductor_awg_kcmil"].split("-"))) for row in _i1()}
    reached = min((size for size in sizes.values() if size >= area), default=None)
    return max((_us(row).nm for row in _i1() if sizes[row["conductor_awg_kcmil"]] == reached), default=None)


def _i1() -> tuple[dict[str, str], ...]:
    return _rows("us_torque_i1")


def us_small_slot_torque(slot_length_in: str, *, wide: bool) -> GridTorque | None:
    """Return Table I.2: slotted screws smaller than No. 10, by printed slot length ("5/32", "<5/32", ">9/32").

    `wide`: a slot of 1.2 mm (0.047 in) or more. None where the table has no such row or value.
    """
    for row in _rows("us_torque_i2"):
        if row["slot_length_in"] == slot_length_in and row["column"].startswith("slot width >=") == wide:
            return _us(row)
    return None


def hex_socket_torque(across_flats_in: str) -> GridTorque | None:
    """Return Table I.3: hexagon or square socket by printed width across flats in inch ("3/16"), else None."""
    for row in _rows("us_torque_i3"):
        if row["across_flats_in"] == across_flats_in:
            return _us(row)
    return None


def us_control_circuit_torque() -> GridTorque:
    """Return the least torque for control-circuit devices with copper of 14 AWG or smaller, none marked."""
    pounds = Decimal(7)
    return GridTorque(
        nm=pounds * factor_nm("pound_inch"),
        lbf_in=pounds,
        printed_nm=Decimal("0.8"),
        source="NEC 430.9(C)",
        seen="seen in print",
    )


def across_flats_mm(thread: str, screw: ScrewKind) -> Decimal | None:
    """Return the width across flats in mm of a metric screw ("M8"), None where none is on file.

    "cap" ISO 4762, "set" ISO 4026, "countersunk" ISO 10642 (sockets); "head_iso" ISO 4014/4017 and
    "head_din" DIN 931/933 (outer hexagon; M10 and M12 differ).
    """
    for row in _rows("hex_by_thread"):
        if row["thread"] == thread:
            value = row[_SCREW_COLUMNS[screw]]
            return Decimal(value) if value else None
    return None


def across_flats_inch(screw: str) -> str | None:
    """Return the socket width in inch of a socket head cap screw ("#8", "1/4") after ASME B18.3, else None."""
    return next((row["socket_in_ASME_B18.3"] for row in _rows("hex_inch") if row["screw"] == screw), None)
