"""The figures of the sample sheets: printed form and true value come from the same digits."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Any

import simplejson

#: N·m for one of each unit. 1 lbf·in from 1 lb = 0.45359237 kg, g = 9.80665 m/s², 1 in = 0.0254 m (exact).
NEWTON_METRES = {
    "N·m": Decimal("1"),
    "cN·m": Decimal("0.01"),
    "lb·in": Decimal("0.45359237") * Decimal("9.80665") * Decimal("0.0254"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Torque:
    """A torque as its digits: `high` differs from `low` for a range; `unit` is a key of NEWTON_METRES."""

    low: str
    high: str = ""
    unit: str = "N·m"

    def text(self, *, comma: bool = False, dash: str = "–", unit: bool = False) -> str:
        """Return the printed form, with decimal comma or point, with or without its unit."""
        text = f"{self.low}{dash}{self.high}" if self.high else self.low
        return (text.replace(".", ",") if comma else text) + (f" {self.unit}" if unit else "")

    def truth(self) -> dict[str, str]:
        """Return the value in N·m as decimal text."""
        factor = NEWTON_METRES[self.unit]
        return {
            "min_nm": plain(Decimal(self.low) * factor),
            "max_nm": plain(Decimal(self.high or self.low) * factor),
        }


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """A conductor range as its digits, in mm² or AWG (for AWG `low` is the thinner wire)."""

    low: str
    high: str = ""
    system: str = "mm2"

    def text(self, *, comma: bool = False, dash: str = "–", unit: bool = False) -> str:
        """Return the printed form."""
        text = f"{self.low}{dash}{self.high}" if self.high else self.low
        text = text.replace(".", ",") if comma else text
        if not unit:
            return text
        return f"{text} mm²" if self.system == "mm2" else f"{text} AWG"

    def truth(self) -> dict[str, str]:
        """Return the limits as text, keyed as in the record."""
        high = self.high or self.low
        if self.system == "mm2":
            return {"min_mm2": plain(Decimal(self.low)), "max_mm2": plain(Decimal(high))}
        return {"min_awg": self.low, "max_awg": high}


def plain(number: Decimal) -> str:
    """Return a decimal without exponent and trailing noughts."""
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def nm(low: str, high: str = "") -> Torque:
    """Return a torque printed in N·m."""
    return Torque(low=low, high=high)


def lbin(low: str, high: str = "") -> Torque:
    """Return a torque printed in lb·in."""
    return Torque(low=low, high=high, unit="lb·in")


def mm(low: str, high: str = "") -> Size:
    """Return a conductor range printed in mm²."""
    return Size(low=low, high=high)


def awg(low: str, high: str = "") -> Size:
    """Return a conductor range printed in AWG, the thinner wire first."""
    return Size(low=low, high=high, system="awg")


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What a careful person reads from one printed figure. `why` says why it must be held."""

    terminal: str
    torque: Torque | None
    size: Size | None = None
    purpose: str = "electrical_terminal"
    why: str = ""
    family: str = ""

    def truth(self) -> dict[str, Any]:
        """Return the row as it is written to the truth file."""
        return {
            "terminal": self.terminal,
            "family": self.family,
            "conductor": self.size.truth() if self.size else None,
            "torque": self.torque.truth() if self.torque else None,
            "purpose": self.purpose,
            "state": "held" if self.why else "released",
            "why": self.why,
        }


@dataclass(slots=True, kw_only=True)
class Sheet:
    """One sample: its file name, what it shows, and the rows a careful person reads from it."""

    file: str
    shows: str
    maker: str
    rows: list[Row] = field(default_factory=list)

    def add(self, rows: Iterable[Row]) -> None:
        """Add rows in printed order."""
        self.rows.extend(rows)

    def write_truth(self, folder: Path) -> None:
        """Write NAME.truth.json beside the sheet."""
        truth = {
            "file": self.file,
            "maker": self.maker,
            "shows": self.shows,
            "rows": [row.truth() for row in self.rows],
        }
        stem = self.file.rsplit(".", 1)[0]
        text = simplejson.dumps(truth, ensure_ascii=False, indent=1) + "\n"
        (folder / f"{stem}.truth.json").write_text(text, encoding="utf-8", newline="\n")
