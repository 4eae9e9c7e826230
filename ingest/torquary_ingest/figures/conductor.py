"""`read_conductor`: what a printed conductor cell says, in the system it is printed in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache

from torquary_ingest.document import Doubt
from torquary_ingest.figures.asides import part_asides
from torquary_ingest.figures.conductor_words import read_conductor_words
from torquary_ingest.figures.kinds import cell_kind, looks_like_date, unreadable_character
from torquary_ingest.figures.numbers import DecimalMark
from torquary_ingest.figures.parser import parse
from torquary_ingest.figures.size_neighbours import (
    doubtful_places,
    group_of,
    join_neighbours,
    other_limit,
    second_print,
)
from torquary_ingest.figures.size_parts import SizePart, goes_on, is_gauge_of_another, is_or, may_be_shared
from torquary_ingest.figures.sizes_read import Item, Size, Sized, System, read_items
from torquary_ingest.figures.tokens import Piece, Tokeniser
from torquary_ingest.figures.values import ConductorReading
from torquary_ingest.unit_registry import round_wire_mm2
from torquary_schema.glyphs import fold_glyphs
from torquary_schema.units import find_units
from torquary_schema.values import Conductor

_MESSAGES = {
    "conductor_unreadable": "the conductor size cannot be read with certainty; look at the sheet",
    "conductor_unit_missing": "nothing says whether the size is in mm², AWG or a diameter",
    "number_ambiguous": "the size has two readings; ask which mark is the decimal mark",
    "number_unreadable": "the size cannot be read as a number; look at the sheet",
    "number_broken": "the size is interrupted by a blank or a line end; look at the sheet",
    "range_reversed": "the sizes run from large to small; ask which is misprinted",
    "condition_unread": "words beside the size may limit it and were not understood",
    "note_unresolved": "a note mark stands in the cell",
    "mcm_behind_awg": "MCM stands behind a number that is an AWG size; read as AWG",
}
_UNIT_TYPES = {"mm2": "AREA", "awg": "AWG", "kcmil": "KCMIL", "millimetre": "MM"}
_GAUGE = ("gauge", "gage", "ga")
"""Words for a gauge, which say nothing more where AWG is printed: "8 gauge copper" under "Wire AWG"."""
_COUNTS = ("1", "2", "3", "4", "5", "6")
"""Conductors in one terminal."""
_DIAMETER_SIGNS = "ØøΦφ⌀∅"


def _doubted(code: str, message: str = "") -> ConductorReading:
    return ConductorReading(kind="figures", doubts=(Doubt(code=code, message=message or _MESSAGES[code]),))


@lru_cache(maxsize=4096)
def read_conductor(text: str, *, unit: str = "", decimal_mark: DecimalMark = "") -> ConductorReading:
    """Return the conductor ranges of a cell, and the doubts that hold them.

    `unit` is the unit printed in heading, band or caption ("mm²", "AWG / kcmil"); a unit in the cell wins.
    No system is converted into another. Never raises for any text.
    """
    bad = unreadable_character(text)
    if bad is not None:
        return ConductorReading(kind="figures", doubts=(bad,))
    kind = cell_kind(text)
    if kind is not None:
        arrow = Doubt(code="ditto_doubtful", message="an arrow may mean the value above or below")
        return ConductorReading(kind=kind.kind, doubts=(arrow,) if kind.arrow else ())
    folded = fold_glyphs(text).text
    if looks_like_date(folded):
        return _doubted("date_for_range", f"{text.strip()!r} is a date; ask what was printed before")
    if not any(c.isdecimal() for c in folded):
        return _read_words(text)
    return _read_sizes(text, unit, decimal_mark)


def _read_words(text: str) -> ConductorReading:
    words = read_conductor_words(text)
    if not words.known:
        return ConductorReading(kind="words")
    conductor = Conductor(
        printed=text.strip(), material=words.material, stranding=words.stranding, ferrule=words.ferrule
    )
    return ConductorReading(kind="words", conductors=(conductor,))


def _read_sizes(text: str, unit: str, decimal_mark: DecimalMark) -> ConductorReading:
    tokeniser = Tokeniser(text, decimal_mark)
    heading = _heading_systems(unit)
    pieces = _count_in_brackets([_name_unit(p) for p in tokeniser.pieces()], heading)
    pieces = _limit_at_end(pieces)
    if any(p.type == "BROKEN" for p in pieces):
        return _doubted("number_broken")
    if not any(p.type in ("NUM", "AUGHT", "GLUED") for p in pieces):
        return ConductorReading(
            kind="words", doubts=(Doubt(code="conductor_unreadable", message=_MESSAGES["conductor_unreadable"]),)
        )
    tree = parse("conductor", pieces)
    if tree is None:
        return _doubted("conductor_unreadable", f"{text.strip()!r} cannot be read as a conductor size")
    return _Builder(tokeniser, text).build(read_items(tree, heading))


def _name_unit(piece: Piece) -> Piece:
    if piece.type != "UNIT" or piece.unit is None:
        return piece
    return replace(piece, type=_UNIT_TYPES.get(piece.unit.name, "UNIT"))


def _count_in_brackets(pieces: list[Piece], heading: tuple[System, ...]) -> list[Piece]:
    """Return the pieces with a number in brackets before the first size taken for a count: "(2) 1/0-250 kcmil".

    Under two systems it may be the size in the other one: "(14) 2.5".
    """
    opening = [p.type for p in pieces[:4]]
    if opening[:3] != ["LP", "NUM", "RP"] or opening[3:] not in (["NUM"], ["AUGHT"], ["HASH"], ["AWG"]):
        return pieces
    two_systems = len({group_of(system) for system in heading}) > 1
    if two_systems or pieces[1].text not in _COUNTS:
        return pieces
    return [pieces[1], replace(pieces[2], type="TIMES"), *pieces[3:]]


def _limit_at_end(pieces: list[Piece]) -> list[Piece]:
    """Return the pieces with the one limit of a cell, where it ends it, for its size: "1.5 mm² maximum"."""
    limits = [p for p in pieces if p.type in ("MAX", "MIN")]
    ends = len(limits) == 1 and pieces[-1] is limits[0] and limits[0].type == "MAX"
    return [*pieces[:-1], replace(pieces[-1], type="LESS")] if ends else pieces


def _heading_systems(unit: str) -> tuple[System, ...]:
    names = {"mm2": "mm2", "awg": "awg", "kcmil": "kcmil"}
    found: list[System] = []
    for match in find_units(unit):
        if match.name == "millimetre" and any(sign in unit for sign in _DIAMETER_SIGNS):
            found.append("diameter")
        elif match.name in names:
            found.append("mm2" if match.name == "mm2" else ("awg" if match.name == "awg" else "kcmil"))
    return tuple(dict.fromkeys(found))


class _Builder:
    def __init__(self, tokeniser: Tokeniser, text: str) -> None:
        self._tokeniser = tokeniser
        self._text = text
        self._codes: dict[str, Doubt] = {}

    def doubt(self, code: str) -> None:
        self._codes.setdefault(code, Doubt(code=code, message=_MESSAGES[code]))

    def build(self, items: list[Item]) -> ConductorReading:
        outside, asides = part_asides(items)
        parts = self._parts(outside)
        if may_be_shared(parts) or is_gauge_of_another(parts):
            self.doubt("condition_unread")  # "10, 16 mm² solid": for one size or for both
        conductors = [c for part in parts for c in self._conductor(part, alone=len(parts) == 1)]
        conductors += self._beside(asides, conductors)
        if any(c.system for c in conductors):
            conductors = [c for c in conductors if c.system]
        return ConductorReading(kind="figures", conductors=tuple(conductors), doubts=tuple(self._codes.values()))

    def _beside(self, asides: list[list[Item]], outside: list[Conductor]) -> list[Conductor]:
        """Return what brackets give for a kind of conductor; the one metal before them is theirs too."""
        metals = {c.material for c in outside}
        metal = metals.pop() if len(metals) == 1 else ()
        parts = [part for inside in asides for part in self._parts(inside)]
        found = [c for part in parts for c in self._conductor(part, alone=False)]
        return [replace(c, material=c.material or metal) for c in found]

    def _parts(self, items: list[Item]) -> list[SizePart]:
        joined = join_neighbours(items)
        for code in doubtful_places(joined):
            self.doubt(code)
        return self._gather(joined)

    def _gather(self, items: Iterable[Item]) -> list[SizePart]:
        parts = [SizePart()]
        closed, between = False, ""
        for item in items:
            part = parts[-1]
            if isinstance(item, Sized):
                repeats = second_print(part.sizes, item) and (not closed or goes_on(part, between))
                if part.sizes and not repeats and not other_limit(part.sizes, item):
                    if part.words and not closed:
                        self.doubt("condition_unread")  # a word between two sizes: of which?
                    part = SizePart()
                    parts.append(part)
                part.sizes.append(item)
                closed, between = False, ""
            elif item.type in ("SEP", "SLASH", "AND"):
                closed = closed or bool(part.words and part.sizes) or item.type == "SEP"
                between += item.text
            elif item.type == "WORD" and part.sizes and is_or(item.text):
                closed = True
            elif item.type == "WORD":
                if closed and part.sizes:
                    parts.append(SizePart())
                    closed = False
                parts[-1].trailing = bool(parts[-1].sizes)
                parts[-1].words.append(item.text)
            elif item.type == "NOTE":
                self.doubt("note_unresolved")
        self._share_words(parts)
        return [p for p in parts if p.sizes or p.words]

    def _share_words(self, parts: list[SizePart]) -> None:
        """A last part that is only words ("…, copper") cannot be told to speak for one or for all."""
        for part in [p for p in parts if p.words and not p.sizes]:
            sized = [p for p in parts if p.sizes]
            if len(sized) == 1:
                sized[0].words += part.words
                part.words = []
            else:
                self.doubt("condition_unread")

    def _conductor(self, part: SizePart, *, alone: bool) -> list[Conductor]:
        if not part.sizes:
            return []
        words = read_conductor_words(" ".join(part.words))
        gauges = all(group_of(sized.system) == "gauge" for sized in part.sizes)
        if words.rest and not (gauges and words.rest.casefold() in _GAUGE):
            self.doubt("condition_unread")
        for sized in part.sizes:
            if sized.fault:
                self.doubt(sized.fault)
            if sized.mcm_behind_awg:
                self.doubt("mcm_behind_awg")
        printed = self._text.strip() if alone else self._slice(part)
        base = Conductor(
            printed=printed,
            material=words.material,
            stranding=words.stranding,
            ferrule=words.ferrule,
            count=next((s.count for s in part.sizes if s.count), None),
        )
        good = [s for s in part.sizes if not s.fault]
        return [share_bound(_fill(base, good))]

    def _slice(self, part: SizePart) -> str:
        return self._tokeniser.printed_piece(min(s.start for s in part.sizes), max(s.end for s in part.sizes))


def _fill(base: Conductor, sizes: list[Sized]) -> Conductor:
    """Return the conductor with every printed system filled in; the first printed one names the system."""
    filled = base
    for sized in sizes:
        if filled.system is None and sized.system:
            filled = replace(filled, system=sized.system)
        low, high = _bounds(sized)
        if group_of(sized.system) == "gauge":
            filled = replace(
                filled,
                min_awg=sized.low.gauge if sized.low else filled.min_awg,
                max_awg=sized.high.gauge if sized.high else filled.max_awg,
            )
        elif sized.system:
            filled = replace(
                filled,
                min_mm2=low if low is not None and filled.min_mm2 is None else filled.min_mm2,
                max_mm2=high if high is not None else filled.max_mm2,
            )
    return filled


def share_bound(conductor: Conductor) -> Conductor:
    """Return a size printed in two systems, one bound alone in each: "up to 95 mm² (3/0 AWG)" gives no least gauge."""
    metric, gauge = (conductor.min_mm2, conductor.max_mm2), (conductor.min_awg, conductor.max_awg)
    if _is_bound(metric) and gauge[0] == gauge[1] is not None:
        return replace(conductor, min_awg=None) if metric[0] is None else replace(conductor, max_awg=None)
    if _is_bound(gauge) and metric[0] == metric[1] is not None:
        return replace(conductor, min_mm2=None) if gauge[0] is None else replace(conductor, max_mm2=None)
    return conductor


def _is_bound(sides: tuple[object, object]) -> bool:
    return sides.count(None) == 1


def _bounds(sized: Sized) -> tuple[Decimal | None, Decimal | None]:
    def area(size: Size | None) -> Decimal | None:
        if size is None or size.number is None:
            return None
        return round_wire_mm2(size.number) if sized.system == "diameter" else size.number

    return area(sized.low), area(sized.high)
