"""A torque cell cut into clauses, and the figures of a clause brought together: units, limits, sizes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from torquary_ingest.figures.conductor_words import read_conductor_words
from torquary_ingest.figures.quantities import Item, Quantity
from torquary_ingest.figures.tokens import Piece
from torquary_schema.values import Conductor


@dataclass(slots=True)
class Clause:
    """A stretch of the cell between separators."""

    quantities: list[Quantity] = field(default_factory=list)
    sizes: list[Piece] = field(default_factory=list)
    threads: list[Piece] = field(default_factory=list)
    words: list[Piece] = field(default_factory=list)

    @property
    def bare(self) -> bool:
        """Tell whether nothing in the clause limits its figures."""
        return not (self.sizes or self.threads or any(w.type != "HARMLESS" for w in self.words))


def unit_name(quantity: Quantity) -> str:
    """Return what tells the quantity's unit from others: canonical name, else the print, "" without one."""
    return "" if quantity.unit is None else (quantity.unit.name or quantity.unit.printed)


def _is_bracket(item: Item) -> bool:
    return isinstance(item, Piece) and item.type in ("LP", "RP")


def attach_units(items: list[Item]) -> list[Item]:
    """Give a unit in brackets of its own ("5.0±20% (kgf-cm)", "0.36 [N.m]") to the figure before it."""
    out: list[Item] = []
    for item in items:
        if isinstance(item, Piece) and item.type == "UNIT":
            back = next((i for i in range(len(out) - 1, -1, -1) if not _is_bracket(out[i])), None)
            before = out[back] if back is not None else None
            if isinstance(before, Quantity) and before.unit is None and back is not None:
                out[back] = replace(before, unit=item.unit, end=before.end)
                continue
        out.append(item)
    return out


def split_clauses(items: Iterable[Item]) -> list[Clause]:
    """Return the clauses of a cell; clauses in which nothing stands are left out."""
    clauses = [Clause()]
    for item in items:
        clause = clauses[-1]
        if isinstance(item, Quantity):
            clause.quantities.append(item)
        elif item.type == "SEP":
            clauses.append(Clause())
        elif item.type == "SIZE":
            clause.sizes.append(item)
        elif item.type == "THREAD":
            clause.threads.append(item)
        elif item.type in ("WORD", "UNIT", "HARMLESS"):
            clause.words.append(item)
    return [c for c in clauses if c.quantities or not c.bare]


def merge_clauses(clauses: list[Clause]) -> list[Clause]:
    """Join a clause that is only the same figure in another unit, or its other limit, to the one before."""
    out: list[Clause] = []
    for clause in clauses:
        if out and clause.bare and len(clause.quantities) == 1 and len(out[-1].quantities) == 1:
            before, here = out[-1].quantities[0], clause.quantities[0]
            other_unit = unit_name(before) != unit_name(here)
            both_bare = before.unit is None and here.unit is None
            other_limit = {before.limit, here.limit} == {"min", "max"}
            if (other_unit and before.unit and here.unit) or both_bare or other_limit:
                out[-1].quantities.append(here)
                continue
        out.append(clause)
    return out


def lend_unit(quantities: list[Quantity]) -> list[Quantity]:
    """Give the unit of "min. 0.5 max. 0.8 Nm" to both limits."""
    out = list(quantities)
    for at in range(len(out) - 1):
        first, second = out[at], out[at + 1]
        if {first.limit, second.limit} == {"min", "max"} and first.unit is None and second.unit is not None:
            out[at] = replace(first, unit=second.unit)
    return out


def merge_limits(quantities: list[Quantity]) -> list[Quantity]:
    """Join "min. 0.5" and "max. 0.8 Nm" to one range; a unit printed once counts for both."""
    out: list[Quantity] = []
    for quantity in quantities:
        before = out[-1] if out else None
        if before is not None and {before.limit, quantity.limit} == {"min", "max"}:
            same = unit_name(before) == unit_name(quantity)
            if same:
                low, high = (before, quantity) if before.limit == "min" else (quantity, before)
                reversed_range = low.low is not None and high.high is not None and low.low > high.high
                out[-1] = replace(
                    before,
                    low=low.low,
                    high=high.high,
                    end=quantity.end,
                    step=min(before.step, quantity.step),
                    fault=before.fault or quantity.fault or ("range_reversed" if reversed_range else ""),
                )
                continue
        out.append(quantity)
    return out


def split_runs(pieces: list[Piece], quantities: list[Quantity]) -> list[list[Piece]]:
    """Return the pieces in runs that no torque figure interrupts."""
    runs: list[list[Piece]] = []
    for piece in pieces:
        before = runs[-1][-1] if runs else None
        if before is not None and not any(before.end <= q.start < piece.start for q in quantities):
            runs[-1].append(piece)
        else:
            runs.append([piece])
    return runs


def share_words(found: list[Conductor]) -> list[Conductor]:
    """Words before and a size behind a figure ("solid: 2.0 Nm (10 mm²)") speak of one conductor."""
    worded = [c for c in found if c.system is None]
    sized = [c for c in found if c.system is not None]
    if len(worded) != 1 or len(sized) != 1:
        return found
    words = worded[0]
    return [
        replace(
            sized[0],
            material=sized[0].material or words.material,
            stranding=sized[0].stranding or words.stranding,
            ferrule=sized[0].ferrule if sized[0].ferrule is not None else words.ferrule,
        )
    ]


def conductor_pieces(words: list[Piece]) -> list[Piece]:
    """Return the words that speak of stranding, material or ferrules, read together ("without ferrule")."""
    text = " ".join(w.text for w in words)
    covered = read_conductor_words(text).covered
    known: list[Piece] = []
    at = 0
    for word in words:
        letters = [at + i for i, c in enumerate(word.text) if c.isalnum()]
        if letters and all(i in covered for i in letters):
            known.append(word)
        at += len(word.text) + 1
    return known
