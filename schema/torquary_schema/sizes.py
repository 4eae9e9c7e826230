"""Conductor sizes: AWG and kcmil areas, the IEC 60228 list, and the pairings of mm² with AWG in use.

AWG diameters follow ASTM B258: d = 5 mil × 92^((36−n)/39). A circular mil is a circle one mil across, so
that both systems lie on one scale, by which they are put in order; 1 kcmil is 0.506707479 mm².
Nothing here converts a printed size: a pairing is named together with its source.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from decimal import Context, Decimal
from functools import cache, lru_cache
from pathlib import Path

_CONTEXT = Context(prec=40)
_KCMIL = re.compile(r"(\d{2,4})\s*kcmil")
_AREA = re.compile(r"(\d+(?:\.\d+)?)\s*kcmil")
_THINNEST_AWG = 56


@dataclass(frozen=True, slots=True, kw_only=True)
class Pairing:
    """One customary pairing of a metric size with gauge sizes.

    `habit` names the practice, `source` where it stands, `seen` whether it stood in print or is from memory.
    """

    mm2: Decimal
    gauges: tuple[str, ...]
    habit: str
    source: str
    seen: str


def awg_number(size: str) -> int | None:
    """Return n of ASTM B258 for an AWG size as text ("14" → 14, "1/0" → 0, "4/0" → −3), None for others."""
    text = size.strip()
    aught = re.fullmatch(r"([1-4])/0", text)
    if aught:
        return 1 - int(aught[1])
    if re.fullmatch(r"0{1,4}", text):
        return 1 - len(text)
    if re.fullmatch(r"[1-9]\d?", text) and int(text) <= _THINNEST_AWG:
        return int(text)
    return None


@lru_cache(maxsize=256)
def circular_mils(size: str) -> Decimal:
    """Return the area of "14", "1/0", "250 kcmil" or "211.6 kcmil" in circular mils: its diameter in mils, squared.

    ValueError: neither AWG (after ASTM B258) nor kcmil.
    """
    thick = _AREA.fullmatch(size.strip())
    if thick:
        return Decimal(thick[1]) * 1000
    number = awg_number(size)
    if number is None:
        raise ValueError(f"{size!r} is not a size in AWG or kcmil")
    exponent = _CONTEXT.divide(Decimal(36 - number), Decimal(39))
    mils = _CONTEXT.multiply(Decimal(5), _CONTEXT.power(Decimal(92), exponent))
    return _CONTEXT.multiply(mils, mils)


def is_gauge(text: str) -> bool:
    """Tell whether the text is a size as we write it: "14", "1/0", "250 kcmil"."""
    return awg_number(text) is not None or _KCMIL.fullmatch(text.strip()) is not None


def write_aught(size: str) -> str:
    """Return "0", "00", "000", "0000" as "1/0" to "4/0"; other sizes as they are."""
    return f"{len(size)}/0" if re.fullmatch(r"0{1,4}", size) else size


def _rows(name: str) -> list[dict[str, str]]:
    text = (Path(__file__).parent / "sizes_tables" / name).read_text("utf-8")
    return list(csv.DictReader(text.splitlines()))


IEC_60228: tuple[Decimal, ...] = tuple(Decimal(row["mm2"]) for row in _rows("iec60228.csv"))
"""The standard cross-sections of IEC 60228:2004, Tables 1 to 4, in mm² from 0.5 to 630."""


@cache
def pairings() -> tuple[Pairing, ...]:
    """Return every pairing of mm² with AWG or kcmil that is on file, thin to thick."""
    return tuple(
        Pairing(
            mm2=Decimal(row["mm2"]),
            gauges=tuple(_write_gauge(part) for part in row["awg"].split(",")),
            habit=row["habit"],
            source=row["source"],
            seen=row["seen"],
        )
        for row in _rows("mm2_awg.csv")
    )


def _write_gauge(printed: str) -> str:
    return re.sub(r"(\d)\s*MCM", r"\1 kcmil", printed.strip())


def pairings_of_mm2(area: Decimal) -> tuple[Pairing, ...]:
    """Return the pairings of a metric size; several habits disagree, so all are given."""
    return tuple(p for p in pairings() if p.mm2 == area)


def pairings_of_gauge(size: str) -> tuple[Pairing, ...]:
    """Return the pairings in which the AWG or kcmil size stands."""
    return tuple(p for p in pairings() if size in p.gauges)
