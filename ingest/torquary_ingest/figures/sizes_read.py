"""From a parsed conductor cell to sizes: which system each number is printed in, thin to thick."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Literal

from lark import Token, Tree

from torquary_ingest.figures.parser import piece_of
from torquary_ingest.figures.tokens import Piece
from torquary_schema.sizes import IEC_60228, awg_number, circular_mils, write_aught

System = Literal["mm2", "awg", "kcmil", "diameter", ""]
_SMALLEST_KCMIL = 200
_GAUGES: tuple[System, ...] = ("awg", "kcmil")
_SYSTEMS: dict[str, System] = {"AREA": "mm2", "AWG": "awg", "KCMIL": "kcmil", "HASH": "awg", "DIAM": "diameter"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """One printed size. `gauge` is the size as we write it ("14", "1/0", "250 kcmil"), `number` its digits."""

    system: System
    number: Decimal | None
    text: str
    gauge: str = ""
    mcm_behind_awg: bool = False
    fault: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sized:
    """A printed size or range in one system; an open side is None. `fault` is a finding code or "".

    `named` tells that the cell itself, not its heading, says which system it is.
    """

    start: int
    end: int
    low: Size | None
    high: Size | None
    system: System
    count: int | None = None
    fault: str = ""
    mcm_behind_awg: bool = False
    named: bool = True

    @property
    def limit(self) -> str:
        """Return "min" or "max" for a one-sided limit, "" for others."""
        if self.low is None:
            return "max"
        return "min" if self.high is None else ""


Item = Sized | Piece


def read_items(tree: Tree[Token], heading: tuple[System, ...]) -> list[Item]:
    """Return sizes and loose pieces in printed order. `heading` holds the systems its heading names.

    Under a heading with mm² and a gauge, two bare sizes are taken in the heading's order; one alone is not
    told apart.
    """
    children = list(_children(tree))
    groups = [tuple(s for s in heading if (s in _GAUGES) == gauge) for gauge in _order_of_groups(heading)]
    if len(groups) < 2:
        return [_read_sized(c, heading) if isinstance(c, Tree) else piece_of(c) for c in children]
    bare = [c for c in children if isinstance(c, Tree) and not any(p.type in _SYSTEMS for p in _pieces(c))]
    items: list[Item] = []
    for child in children:
        if isinstance(child, Token):
            items.append(piece_of(child))
        else:
            at = bare.index(child) if child in bare and len(bare) == 2 else None
            items.append(_read_sized(child, groups[at] if at is not None else ()))
    return items


def _children(tree: Tree[Token]) -> Iterator[Tree[Token] | Token]:
    for child in tree.children:
        if isinstance(child, Token):
            yield child
        elif child.data in ("group", "loose"):
            yield from _children(child)
        else:
            yield child


def _order_of_groups(heading: tuple[System, ...]) -> list[bool]:
    """Return True for gauges and False for other systems, in the order in which the heading names them."""
    return list(dict.fromkeys(s in _GAUGES for s in heading))


def _size_trees(tree: Tree[Token]) -> Iterator[Tree[Token]]:
    """Yield the size trees below the tree from left to right."""
    for child in tree.children:
        if isinstance(child, Tree):
            if child.data == "size":
                yield child
            else:
                yield from _size_trees(child)


def _pieces(tree: Tree[Token]) -> list[Piece]:
    return [piece_of(t) for t in tree.scan_values(lambda v: isinstance(v, Token))]


def _read_sized(tree: Tree[Token], heading: tuple[System, ...]) -> Sized:
    pieces = _pieces(tree)
    sizes = [_read_size(s) for s in _size_trees(tree)]
    behind = _SYSTEMS.get(pieces[-1].type) if tree.data == "counted" else None
    if behind is not None:  # "2 x (1 ... 2.5) mm²": the unit is that of all in the bracket
        sizes = [size if size.system else replace(size, system=behind) for size in sizes]
    sized = _join(sizes, heading, pieces[0].start, max(p.end for p in pieces))
    if tree.data in ("counted", "counted_at_most"):
        counter = next(piece.number for piece in pieces if piece.type == "NUM")
        whole = counter is not None and counter.value is not None and counter.value in (1, 2, 3, 4, 5, 6)
        count = int(counter.value) if whole and counter is not None and counter.value is not None else None
        sized = replace(sized, count=count, fault=sized.fault or ("" if whole else "conductor_unreadable"))
    if tree.data == "at_least":
        return replace(sized, high=None)
    if tree.data in ("at_most", "counted_at_most"):
        return replace(sized, low=None)
    return sized


def _read_size(tree: Tree[Token]) -> Size:
    pieces = _pieces(tree)
    systems = [_SYSTEMS[p.type] for p in pieces if p.type in _SYSTEMS]
    number = next(p for p in pieces if p.type in ("NUM", "AUGHT"))
    length = any(p.type == "MM" for p in pieces)
    fault = ""
    if number.type == "NUM":
        assert number.number is not None
        fault = number.number.doubt
        if number.fraction:
            fault = "conductor_unreadable"
        if number.spaced:
            fault = "number_ambiguous"  # thousands, or two sizes
    if length and "diameter" not in systems:
        fault = fault or "conductor_unit_missing"
    named = set(systems)
    mcm_behind_awg = False
    if number.type == "AUGHT":
        mcm_behind_awg = "kcmil" in named
        named = (named - {"kcmil"}) | {"awg"}
    if len(named) > 1:
        fault = fault or "conductor_unreadable"
    system: System = next(iter(named)) if len(named) == 1 else ""
    value = number.number.value if number.number is not None else None
    return Size(system=system, number=value, text=number.text, mcm_behind_awg=mcm_behind_awg, fault=fault)


def _join(sizes: list[Size], heading: tuple[System, ...], start: int, end: int) -> Sized:
    named = [s.system for s in sizes if s.system]
    if not named and len(sizes) == 2 and not heading and _runs_like_awg(*sizes):
        named = ["awg"]
    system: System = named[0] if named else (heading[0] if heading else "")
    mixed = {"awg", "kcmil"} <= set(heading)
    filled = [_settle(s if s.system else replace(s, system=system), mixed) for s in sizes]
    fault = next((s.fault for s in filled if s.fault), "")
    if not system:
        fault = fault or "conductor_unit_missing"
    kinds = {"gauge" if s.system in ("awg", "kcmil") else s.system for s in filled}
    if len(kinds) > 1:
        fault = fault or "conductor_unreadable"
    low, high = filled[0], filled[-1]
    if not fault and system in ("awg", "kcmil") and circular_mils(low.gauge) > circular_mils(high.gauge):
        low, high = high, low
    elif not fault and low.number is not None and high.number is not None and system in ("mm2", "diameter"):
        fault = "range_reversed" if low.number > high.number else ""
    return Sized(
        start=start,
        end=end,
        low=low,
        high=high,
        system=filled[0].system,
        fault=fault,
        mcm_behind_awg=any(s.mcm_behind_awg for s in filled),
        named=bool(named),
    )


def _runs_like_awg(first: Size, second: Size) -> bool:
    """Tell whether two bare numbers can only be AWG: they fall, and one is no IEC 60228 cross-section."""
    if first.number is None or second.number is None or first.number <= second.number:
        return False
    whole = all(awg_number(s.text) is not None for s in (first, second))
    return whole and any(s.number not in IEC_60228 for s in (first, second))


def _settle(size: Size, mixed: bool) -> Size:
    """Return the size with its gauge written our way, or with a fault where the number does not fit."""
    if size.fault:
        return size
    if size.system in ("mm2", "diameter"):
        good = size.number is not None and size.number > 0
        return size if good else replace(size, fault="conductor_unreadable")
    if size.system == "awg":
        written = write_aught(size.text)
        if awg_number(written) is not None:
            return replace(size, gauge=written)
        if not mixed:
            return replace(size, fault="conductor_unreadable")
    if size.system in ("awg", "kcmil"):
        return _settle_kcmil(size, mixed)
    return size


def _settle_kcmil(size: Size, mixed: bool) -> Size:
    number = size.number
    if number is not None and number == number.to_integral_value() and _SMALLEST_KCMIL <= number <= 2000:
        return replace(size, system="kcmil", gauge=f"{int(number)} kcmil")
    written = write_aught(size.text)
    if awg_number(written) is not None and mixed:
        return replace(size, system="awg", gauge=written)
    return replace(size, fault="conductor_unreadable")
