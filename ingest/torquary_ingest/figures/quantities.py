"""From a parsed torque cell to quantities: bounds, print steps and the unit each was printed with."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Context, Decimal

from lark import Token, Tree

from torquary_ingest.figures.parser import piece_of
from torquary_ingest.figures.tokens import Piece
from torquary_schema.units import UnitMatch

CONTEXT = Context(prec=40)


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A printed figure, range, limit or figure with tolerance, in its printed unit.

    `step` is the worth of the last printed digit, of the finer one of two: 2–2.5 is printed to a tenth.
    `fault` is a finding code for a quantity that must not be used, `doubts` are codes that go with it.
    Offsets are of the folded text.
    """

    start: int
    end: int
    low: Decimal | None
    nominal: Decimal | None
    high: Decimal | None
    step: Decimal
    unit: UnitMatch | None = None
    bare_unit: bool = False
    fault: str = ""
    doubts: tuple[str, ...] = ()
    fraction: str = ""
    spaced: bool = False

    @property
    def limit(self) -> str:
        """Return "min" or "max" for a one-sided limit, "" for others."""
        if self.low is None:
            return "max"
        return "min" if self.high is None else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Figure:
    low: Decimal
    nominal: Decimal
    high: Decimal
    step: Decimal
    start: int
    end: int
    unit: UnitMatch | None
    toleranced: bool
    fault: str
    fraction: str
    spaced: bool


Item = Quantity | Piece
"""What a cell is made of after parsing: quantities, and the loose pieces between them. LP and RP stay."""


def read_items(tree: Tree[Token]) -> list[Item]:
    """Return the items of a parsed cell in printed order; brackets stay as LP and RP pieces."""
    items: list[Item] = []
    for child in tree.children:
        if isinstance(child, Token):
            items.append(piece_of(child))
        elif child.data == "group":
            items.extend(read_items(child))
        elif child.data == "loose":
            items.extend(piece_of(token) for token in child.children if isinstance(token, Token))
        else:
            items.append(_read_quantity(child))
    return items


def _read_quantity(tree: Tree[Token]) -> Quantity:
    if tree.data == "span" or tree.data == "quantity":
        inner = tree.children[0] if tree.data == "quantity" else tree
        assert isinstance(inner, Tree)
        return _read_span(inner)
    figure = next(_read_figure(c) for c in tree.children if isinstance(c, Tree))
    pieces = [piece_of(c) for c in tree.children if isinstance(c, Token)]
    single = _quantity((figure,), start=min(figure.start, *(p.start for p in pieces)))
    fault = single.fault or ("number_unreadable" if figure.toleranced else "")
    end = max(single.end, *(p.end for p in pieces))
    if tree.data == "at_least":
        return replace(single, high=None, nominal=None, fault=fault, end=end)
    return replace(single, low=None, nominal=None, fault=fault, end=end)


def _read_span(tree: Tree[Token]) -> Quantity:
    figures = tuple(_read_figure(c) for c in tree.children if isinstance(c, Tree))
    opening = [piece_of(c).start for c in tree.children if isinstance(c, Token)]
    return _quantity(figures, start=min(figures[0].start, *opening) if opening else figures[0].start)


def _quantity(figures: tuple[_Figure, ...], *, start: int) -> Quantity:
    first, last = figures[0], figures[-1]
    fault = first.fault or last.fault
    doubts: tuple[str, ...] = ()
    if len(figures) == 2:
        if first.toleranced or last.toleranced:
            fault = fault or "number_unreadable"
        if first.unit and last.unit and (first.unit.name, first.unit.certain) != (last.unit.name, last.unit.certain):
            fault = fault or "units_disagree"
        if not fault and first.nominal > last.nominal:
            fault = "range_reversed"
    return Quantity(
        start=start,
        end=last.end,
        low=first.low,
        nominal=first.nominal if len(figures) == 1 else None,
        high=last.high,
        step=min(f.step for f in figures),
        unit=last.unit or first.unit,
        fault=fault,
        doubts=doubts,
        fraction=first.fraction or last.fraction,
        spaced=first.spaced or last.spaced,
    )


def _read_figure(tree: Tree[Token]) -> _Figure:
    pieces = [piece_of(c) for c in tree.children if isinstance(c, Token)]
    tolerances = [c for c in tree.children if isinstance(c, Tree)]
    number_piece = pieces[0]
    assert number_piece.number is not None
    number = number_piece.number
    units = [p.unit for p in pieces if p.unit is not None]
    unit = units[0] if units else None
    value = number.value if number.value is not None else Decimal(0)
    fault = number.doubt or ("" if value > 0 else "number_unreadable")
    if len(units) > 1 and (units[0].name, units[0].certain) != (units[1].name, units[1].certain):
        fault = fault or "units_disagree"  # figure and tolerance in different units
    below = above = Decimal(0)
    for tolerance in tolerances:
        below, above, tolerance_fault = _read_tolerance(tolerance, value)
        fault = fault or tolerance_fault
        if below >= value:
            fault = fault or "number_unreadable"
    inner = [piece_of(t) for tree in tolerances for t in tree.children if isinstance(t, Token)]
    return _Figure(
        low=value - below,
        nominal=value,
        high=value + above,
        step=number.step,
        start=number_piece.start,
        end=max(p.end for p in [*pieces, *inner]),
        unit=unit,
        toleranced=bool(tolerances),
        fault=fault,
        fraction=number_piece.fraction,
        spaced=number_piece.spaced,
    )


def _read_tolerance(tree: Tree[Token], nominal: Decimal) -> tuple[Decimal, Decimal, str]:
    """Return what may be missing below and above the nominal, and a finding code or ""."""
    pieces = [piece_of(c) for c in tree.children if isinstance(c, Token)]
    numbers = [p.number for p in pieces if p.number is not None]
    fault = next((n.doubt for n in numbers if n.doubt), "")
    values = [n.value if n.value is not None else Decimal(0) for n in numbers]
    if tree.data == "even":
        width = values[0]
        if any(p.type == "PERCENT" for p in pieces):
            width = CONTEXT.divide(CONTEXT.multiply(nominal, width), Decimal(100))
        if width <= 0:
            fault = fault or "number_unreadable"
        return width, width, fault
    return values[1], values[0], fault
