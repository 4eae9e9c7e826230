"""The torque cells of a reading put together: minimum with maximum, one unit against the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from torquary_ingest.document import Doubt, Entry
from torquary_ingest.figures.agreement import agree, say
from torquary_ingest.figures.limits import as_limit, join_limit
from torquary_ingest.figures.numbers import DecimalMark
from torquary_ingest.figures.values import TorqueFigure, TorqueReading
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.normalise.taught_units import read_torque_cell
from torquary_schema.values import Torque


@dataclass(frozen=True, slots=True, kw_only=True)
class TorqueFinding:
    """What the torque cells of a reading give. `silent` means that no torque is printed or claimed.

    `leading` is the entry that the figures are from; the others say the same in another unit.
    """

    figures: tuple[TorqueFigure, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    printed: str = ""
    unit_printed: str = ""
    silent: bool = False
    leading: Entry | None = None


def combine_torques(entries: Sequence[Entry], mark: DecimalMark) -> TorqueFinding:
    """Return the figures of all torque cells of one reading, leading unit first, with what is doubtful."""
    read = [(entry, read_torque_cell(entry, mark)) for entry in entries]
    printed = " | ".join(entry.cell.text.strip() for entry in entries if entry.cell.text.strip())
    unit = " ".join(dict.fromkeys(entry.unit_printed for entry in entries if entry.unit_printed))
    filled = [(entry, reading) for entry, reading in read if reading.kind != "blank"]
    if not filled:
        doubt = Doubt(code="torque_missing", message="no torque is printed in this row; look at the sheet")
        return TorqueFinding(doubts=(doubt,), printed=printed, unit_printed=unit)
    spoken = [(entry, reading) for entry, reading in filled if reading.kind != "not_applicable"]
    if not spoken or all(_is_no_torque(entry, reading) for entry, reading in spoken):
        return TorqueFinding(silent=True, printed=printed, unit_printed=unit)
    doubts = [doubt for _, reading in spoken for doubt in reading.doubts]
    doubts += [
        _words_doubt(entry) for entry, reading in spoken if reading.kind in ("words", "ditto") and not reading.doubts
    ]
    doubts += [*_reversed_doubts(spoken), *_two_sided_doubts(spoken)]
    columns = [figures for figures in _with_limits(spoken) if figures]
    if len(spoken) < len(filled) or not columns:
        doubts += [] if columns or doubts else [_words_doubt(spoken[0][0])]
    figures, compared = _compare(columns)
    limited = tuple(map(as_limit, figures))
    leading = next((e for e, r in spoken if figures and r.figures and r.figures[0].unit == figures[0].unit), None)
    doubts += compared
    return TorqueFinding(figures=limited, doubts=tuple(doubts), printed=printed, unit_printed=unit, leading=leading)


def _is_no_torque(entry: Entry, reading: TorqueReading) -> bool:
    """Words such as "hand-tight" say that there is no torque to set."""
    return reading.kind == "words" and make_sense(entry.cell.text).false_friend


def _words_doubt(entry: Entry) -> Doubt:
    return Doubt(
        code="number_unreadable",
        message=f"{entry.cell.text.strip()!r} stands where a torque belongs; read it from the sheet",
    )


def _with_limits(spoken: Sequence[tuple[Entry, TorqueReading]]) -> list[tuple[TorqueFigure, ...]]:
    """Return the figures by columns; one to set beside one not to exceed ("Torque rec. | max.") is one with a limit."""
    if [entry.field for entry, _ in spoken] in (["torque", "torque_max"], ["torque_max", "torque"]):
        ordered = sorted(spoken, key=lambda pair: pair[0].field)
        bound = [_limit(None, figure) for figure in ordered[1][1].figures]
        joined = join_limit([*ordered[0][1].figures, *bound])
        if len(joined) == 1:
            return [tuple(joined)]
    return _by_side(spoken)


def _by_side(spoken: Sequence[tuple[Entry, TorqueReading]]) -> list[tuple[TorqueFigure, ...]]:
    """Return one tuple of figures per column or pair of columns: minimum and maximum become one range."""
    lows = [(e, r) for e, r in spoken if e.field == "torque_min" and len(r.figures) == 1]
    highs = [(e, r) for e, r in spoken if e.field == "torque_max" and len(r.figures) == 1]
    found: list[tuple[TorqueFigure, ...]] = []
    for entry, reading in spoken:
        if entry.field == "torque_max" and (entry, reading) in highs:
            low = next((r for _, r in lows if r.figures[0].unit == reading.figures[0].unit), None)
            found.append((_limit(low.figures[0] if low else None, reading.figures[0]),))
        elif entry.field == "torque_min" and (entry, reading) in lows:
            if not any(r.figures[0].unit == reading.figures[0].unit for _, r in highs):
                found.append((_limit(reading.figures[0], None),))
        else:
            found.append(reading.figures)
    return found


def _reversed_doubts(spoken: Sequence[tuple[Entry, TorqueReading]]) -> list[Doubt]:
    """Return a doubt for a lowest torque above the highest one: the columns or their figures are swapped."""
    sides = [
        [f for entry, reading in spoken if entry.field == side and len(reading.figures) == 1 for f in reading.figures]
        for side in ("torque_min", "torque_max")
    ]
    return [
        Doubt(
            code="range_reversed",
            message=f"the lowest torque {low.torque.printed!r} is above the highest {high.torque.printed!r}; "
            "look at the sheet which is meant",
        )
        for low in sides[0]
        for high in sides[1]
        if low.unit == high.unit and (low.torque.min_nm or 0) > (high.torque.max_nm or low.torque.min_nm or 0)
    ]


def _two_sided_doubts(spoken: Sequence[tuple[Entry, TorqueReading]]) -> list[Doubt]:
    """Return a doubt for a range printed where the heading names one limit: the other end must not be dropped."""
    return [
        Doubt(
            code="number_ambiguous",
            message=f"{entry.cell.text.strip()!r} is a range under {entry.heading.strip()!r}, which names one limit; "
            "look at the sheet which is meant",
        )
        for entry, reading in spoken
        if entry.field in ("torque_min", "torque_max")
        for figure in reading.figures[:1]
        if None not in (low := figure.torque.min_nm, high := figure.torque.max_nm) and low != high
    ]


def _limit(low: TorqueFigure | None, high: TorqueFigure | None) -> TorqueFigure:
    """Return the range between two one-sided columns; an absent side stays open."""
    base = low or high
    if base is None:
        raise ValueError("a range needs at least one side")
    low_nm = low.torque.min_nm if low else None
    high_nm = high.torque.max_nm if high else None
    if low_nm is not None and high_nm is not None and low_nm > high_nm:
        return base
    nominal = low_nm if low_nm is not None and low_nm == high_nm else None
    printed = " – ".join(side.torque.printed for side in (low, high) if side is not None)
    torque = Torque(
        printed=printed, unit_printed=base.torque.unit_printed, min_nm=low_nm, nominal_nm=nominal, max_nm=high_nm
    )
    step = min(side.step_nm for side in (low, high) if side is not None)
    return replace(base, torque=torque, step_nm=step)


def _compare(columns: list[tuple[TorqueFigure, ...]]) -> tuple[tuple[TorqueFigure, ...], tuple[Doubt, ...]]:
    """Return the leading column's figures; every other column must say the same."""
    if not columns:
        return (), ()
    leading = next((c for c in columns if c[0].unit == "newton_metre"), columns[0])
    doubts: list[Doubt] = []
    figures = list(leading)
    for other in columns:
        if other is leading:
            continue
        if len(other) != len(leading):
            doubts.append(_disagree(leading[0].torque, other[0].torque))
            continue
        for i, (one, two) in enumerate(zip(leading, other, strict=True)):
            if not agree(one, two):
                doubts.append(_disagree(one.torque, two.torque))
            elif one.unit != two.unit:
                figures[i] = replace(one, second=two.torque)
    return tuple(figures), tuple(doubts)


def _disagree(one: Torque, two: Torque) -> Doubt:
    return Doubt(
        code="units_disagree",
        message=f"{say(one)} and {say(two)} stand side by side and are "
        "not the same torque; find out which one holds",
    )
