"""From mm² to AWG and back: customary pairings, several in use, so never more than a pointer to rows."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from torquary_catalogue.find.question import Question
from torquary_catalogue.find.row import Row
from torquary_schema.sizes import Pairing, circular_mils, pairings_of_gauge, pairings_of_mm2

HABIT = "nearest_area"


@dataclass(frozen=True, slots=True, kw_only=True)
class Correspondence:
    """How a size was carried into the system that the sheets print. `text` says so in one line."""

    text: str
    ids: tuple[str, ...]


def carry_across(question: Question, rows: Iterable[Row]) -> Correspondence:
    """Tell which rows of the other system would hold the size, by which correspondence."""
    kept = tuple(rows)
    if question.mm2 is not None:
        round_wires = tuple(row.id for row in kept if row.system == "diameter" and _holds(row, question.mm2))
        if round_wires:
            return Correspondence(
                text=f"The sheet prints diameters; {question.size} was compared with the area of a "
                "round wire, one of several correspondences in use. A stranded conductor is thicker: measure it.",
                ids=round_wires,
            )
        pairs = pairings_of_mm2(question.mm2)
        chosen = _choose(pairs)
        gauges = chosen.gauges if chosen else ()
        ids = tuple(row.id for row in kept if any(_holds_gauge(row, gauge) for gauge in gauges))
        return Correspondence(
            text=_say(question.size, [_name(g) for g in gauges], chosen, _others_mm2(pairs, gauges)), ids=ids
        )
    return _carry_gauge(question, kept)


def _carry_gauge(question: Question, kept: tuple[Row, ...]) -> Correspondence:
    pairs = pairings_of_gauge(question.awg or "")
    chosen = _choose(pairs)
    areas = (chosen.mm2,) if chosen else ()
    ids = tuple(row.id for row in kept if any(_holds(row, area) for area in areas))
    others = sorted({pair.mm2 for pair in pairs} - set(areas))
    return Correspondence(
        text=_say(question.size, [f"{area:f} mm²" for area in areas], chosen, [f"{area:f} mm²" for area in others]),
        ids=ids,
    )


def _choose(pairs: tuple[Pairing, ...]) -> Pairing | None:
    """Take the pairing by nearest area, which can be computed again; never one that is only remembered."""
    seen = [pair for pair in pairs if pair.seen == "seen in print"]
    return next((pair for pair in seen if pair.habit == HABIT), seen[0] if seen else None)


def _others_mm2(pairs: tuple[Pairing, ...], chosen: tuple[str, ...]) -> list[str]:
    others = {gauge for pair in pairs for gauge in pair.gauges} - set(chosen)
    return [_name(gauge) for gauge in sorted(others, key=circular_mils)]


def _name(gauge: str) -> str:
    return gauge if "kcmil" in gauge else f"AWG {gauge}"


def _say(size: str, paired: list[str], chosen: Pairing | None, others: list[str]) -> str:
    if chosen is None:
        return f"{size} is not printed in this system, and no correspondence for it is on file."
    also = f"; others pair it with {', '.join(others)}" if others else ""
    return (
        f"{size} is not printed. It was paired with {' or '.join(paired)} ({chosen.source}), "
        f"one of several correspondences in use{also}. The sizes are not equal."
    )


def _holds(row: Row, area: Decimal) -> bool:
    if row.min_mm2 is row.max_mm2 is None:
        return False
    return (row.min_mm2 is None or row.min_mm2 <= area) and (row.max_mm2 is None or area <= row.max_mm2)


def _holds_gauge(row: Row, gauge: str) -> bool:
    if row.min_awg is row.max_awg is None:
        return False
    order = circular_mils(gauge)
    return (row.min_awg is None or circular_mils(row.min_awg) <= order) and (
        row.max_awg is None or order <= circular_mils(row.max_awg)
    )
