"""Puts the quantities of a torque cell together: which unit, which second print, for which conductor."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from torquary_ingest.document import Doubt
from torquary_ingest.figures.agreement import agree, coarser
from torquary_ingest.figures.clauses import (
    Clause,
    attach_units,
    conductor_pieces,
    lend_unit,
    merge_clauses,
    merge_limits,
    share_words,
    split_clauses,
    split_runs,
    unit_name,
)
from torquary_ingest.figures.conductor import read_conductor
from torquary_ingest.figures.limits import join_limit
from torquary_ingest.figures.neighbours import doubtful_neighbours
from torquary_ingest.figures.numbers import DecimalMark
from torquary_ingest.figures.quantities import Item, Quantity
from torquary_ingest.figures.tokens import Piece, Tokeniser
from torquary_ingest.figures.values import TorqueFigure, TorqueReading
from torquary_ingest.unit_registry import newton_metres
from torquary_schema.units import UnitMatch, find_units
from torquary_schema.values import Conductor, Torque

_MESSAGES = {
    "number_ambiguous": "the figure has two readings; ask which mark is the decimal mark",
    "number_unreadable": "the figure cannot be read with certainty; look at the sheet",
    "number_broken": "the figure is interrupted; look at the sheet",
    "range_reversed": "the range runs from high to low; ask which figure is misprinted",
    "units_disagree": "the printed units do not give the same torque; ask which one is right",
    "unit_missing": "no torque unit is printed for the figure",
    "unit_doubtful": "the unit can mean more than one thing; ask which is meant",
    "unit_not_torque": "the unit printed is not one of torque",
    "condition_unread": "words in the cell may limit the figure and were not understood",
    "note_unresolved": "a note mark stands in the cell",
    "conductor_unreadable": "the conductor size in the cell cannot be read",
}
_SMALL_UNIT = Decimal("0.01")


class _Assembler:
    def __init__(self, tokeniser: Tokeniser, unit: str, decimal_mark: DecimalMark) -> None:
        self._tokeniser = tokeniser
        self._mark: DecimalMark = decimal_mark
        self._heading = _heading_units(unit)
        self._heading_text = unit
        self._codes: list[str] = []
        self._doubts: list[Doubt] = []

    def doubt(self, code: str, message: str = "") -> None:
        if code not in self._codes:
            self._codes.append(code)
            self._doubts.append(Doubt(code=code, message=message or _MESSAGES[code]))

    def run(self, items: list[Item]) -> TorqueReading:
        self._doubt_notes(items)
        for code, message in doubtful_neighbours(items):
            self.doubt(code, message)
        clauses = merge_clauses(split_clauses(attach_units(items)))
        figures: list[TorqueFigure] = []
        pending: list[Piece] = []
        for clause in clauses:
            if not clause.quantities:
                pending += [*clause.sizes, *clause.threads, *clause.words]
                continue
            clause.sizes = [p for p in pending if p.type == "SIZE"] + clause.sizes
            clause.threads = [p for p in pending if p.type == "THREAD"] + clause.threads
            clause.words = [p for p in pending if p.type not in ("SIZE", "THREAD")] + clause.words
            pending = []
            figures += self._read_clause(clause)
        if pending:
            self.doubt("condition_unread", "words or a size in the cell belong to no torque")
        figures = join_limit(figures)
        if len(figures) > 1 and any(f.conductor is None and not f.thread and not f.condition for f in figures):
            self.doubt("condition_unread", "several figures stand in the cell and nothing says when each applies")
        return TorqueReading(kind="figures", figures=tuple(figures), doubts=tuple(self._doubts))

    def _doubt_notes(self, items: list[Item]) -> None:
        for item in items:
            if isinstance(item, Piece) and item.type == "NOTE":
                self.doubt("note_unresolved")
            if isinstance(item, Piece) and item.type == "AUGHT":
                self.doubt("number_unreadable")

    def _read_clause(self, clause: Clause) -> list[TorqueFigure]:
        quantities = self._fill_units(lend_unit(clause.quantities))
        known = conductor_pieces(clause.words)
        condition = self._condition(clause, known)
        conductors = self._conductors(clause, known)
        thread = clause.threads[0].text if len(clause.threads) == 1 else ""
        if len(clause.threads) > 1:
            self.doubt("condition_unread", "several threads stand beside one figure")
        pairs = self._pair(merge_limits(quantities))
        if len(pairs) > 1 and not _is_with_limit(pairs):
            self.doubt("condition_unread", "several figures stand in the cell and nothing says when each applies")
        figures: list[TorqueFigure] = []
        for first, second in pairs:
            figure = self._figure(first, second)
            if figure is None:
                continue
            figure = replace(figure, condition=condition, thread=thread)
            figures += [replace(figure, conductor=c) for c in conductors] or [figure]
        return figures

    def _condition(self, clause: Clause, known: list[Piece]) -> str:
        unknown = [w for w in clause.words if w not in known and w.type != "HARMLESS"]
        if unknown:
            self.doubt("condition_unread")
        return " ".join(self._tokeniser.printed_piece(w.start, w.end) for w in unknown)

    def _conductors(self, clause: Clause, words: list[Piece]) -> list[Conductor]:
        pieces = sorted([*clause.sizes, *words], key=lambda p: p.start)
        found: list[Conductor] = []
        for run in split_runs(pieces, clause.quantities):
            text = self._tokeniser.printed_piece(run[0].start, run[-1].end)
            text += ")" * (text.count("(") - text.count(")"))
            reading = read_conductor(text, decimal_mark=self._mark)
            for given in reading.doubts:
                self.doubt(given.code, given.message)
            if not reading.conductors:
                self.doubt("conductor_unreadable")
            found += reading.conductors
        return share_words(found)

    def _fill_units(self, quantities: list[Quantity]) -> list[Quantity]:
        """Give quantities printed without a unit those of the heading, in printed order."""
        bare = [q for q in quantities if q.unit is None]
        units = self._heading
        if not bare:
            return quantities
        if len(bare) < len(quantities):
            self.doubt("unit_missing", "a figure beside one with a unit has none of its own")
            return [q for q in quantities if q.unit is not None]
        if not units:
            self.doubt("unit_not_torque" if self._heading_text.strip() else "unit_missing")
            return []
        if len(units) > 1:
            if len(bare) != len(units) or any(q.fraction == "slash" or q.spaced for q in bare):
                self.doubt("unit_doubtful", "the heading has several units and the cell does not say which is which")
                return []
            return [replace(q, unit=u, bare_unit=True) for q, u in zip(bare, units, strict=True)]
        return [replace(q, unit=units[0], bare_unit=True) for q in bare]

    def _pair(self, quantities: list[Quantity]) -> list[tuple[Quantity, Quantity | None]]:
        pairs: list[tuple[Quantity, Quantity | None]] = []
        for quantity in quantities:
            if pairs and pairs[-1][1] is None and unit_name(pairs[-1][0]) != unit_name(quantity):
                pairs[-1] = (pairs[-1][0], quantity)
            else:
                pairs.append((quantity, None))
        return pairs

    def _usable(self, quantity: Quantity) -> bool:
        """Note every doubt of the quantity; False where no figure can be given at all."""
        assert quantity.unit is not None
        if quantity.unit.kind not in ("torque", "force"):
            self.doubt("unit_not_torque")
            return False
        if not quantity.unit.certain:
            self.doubt("unit_doubtful", f"the unit {quantity.unit.printed!r} can mean more than one thing")
        if quantity.fault:
            self.doubt(quantity.fault)
            return False
        if not quantity.unit.name:
            return False
        if quantity.fraction == "slash" and not quantity.unit.name.startswith(("pound", "ounce")):
            self.doubt("number_ambiguous", "the slash can be a fraction or stand between two figures")
            return False
        if quantity.spaced and newton_metres(Decimal(1), quantity.unit.name) > _SMALL_UNIT:
            self.doubt("number_ambiguous", "the blank can set off thousands or stand between two figures")
            return False
        return True

    def _figure(self, first: Quantity, second: Quantity | None) -> TorqueFigure | None:
        good = self._usable(first)
        if second is None:
            return self._single(first) if good else None
        second_good = self._usable(second)
        if not good:
            return self._single(second) if second_good else None
        if not second_good:
            return self._single(first)
        one, other = self._single(first), self._single(second)
        if not agree(one, other):
            self.doubt("units_disagree", _difference(one.torque, other.torque))
        if other.unit == "newton_metre" and not coarser(other, one):
            one, other = other, one
        return replace(one, second=other.torque)

    def _single(self, quantity: Quantity) -> TorqueFigure:
        assert quantity.unit is not None
        step = newton_metres(quantity.step, quantity.unit.name)
        return TorqueFigure(torque=self._torque(quantity), unit=quantity.unit.name, step_nm=step)

    def _torque(self, quantity: Quantity) -> Torque:
        assert quantity.unit is not None
        unit = quantity.unit.name

        def convert(value: Decimal | None) -> Decimal | None:
            return None if value is None else newton_metres(value, unit)

        return Torque(
            printed=self._tokeniser.printed_piece(quantity.start, quantity.end),
            unit_printed=quantity.unit.printed,
            min_nm=convert(quantity.low),
            nominal_nm=convert(quantity.nominal),
            max_nm=convert(quantity.high),
        )


def _difference(one: Torque, other: Torque) -> str:
    lead, also = (t.nominal_nm or t.min_nm or t.max_nm or Decimal(0) for t in (one, other))
    return (
        f"the {one.unit_printed} figure gives {lead:.4g} N·m, the {other.unit_printed} figure {also:.4g} N·m; "
        "ask which one is right"
    )


def _is_with_limit(pairs: Sequence[tuple[Quantity, Quantity | None]]) -> bool:
    """Tell whether two quantities are a figure and an upper bound: "2.0 (max. 2.5)"."""
    if len(pairs) != 2 or any(second is not None for _, second in pairs):
        return False
    (figure, _), (bound, _) = pairs
    return figure.nominal is not None and bound.nominal is None and bound.low is None and bound.high is not None


def _heading_units(unit: str) -> tuple[UnitMatch, ...]:
    """Return the units of a heading in printed order, one of each."""
    found = [u for u in find_units(unit) if u.kind in ("torque", "force")]
    if any(u.certain for u in found):
        found = [u for u in found if u.kind == "torque"]
    seen: dict[str, UnitMatch] = {}
    for match in found:
        seen.setdefault(match.name or match.printed, match)
    return tuple(seen.values())


def assemble(items: list[Item], tokeniser: Tokeniser, unit: str, decimal_mark: DecimalMark) -> TorqueReading:
    """Return the reading of a parsed cell; `unit` is the heading's, `decimal_mark` the sheet's."""
    return _Assembler(tokeniser, unit, decimal_mark).run(items)
