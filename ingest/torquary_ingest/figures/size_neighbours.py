"""Sizes of a conductor cell that stand side by side: ends of a range, two prints of one size, or neither."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from torquary_ingest.figures.sizes_read import Item, Sized, System
from torquary_ingest.figures.tokens import Piece
from torquary_schema.sizes import circular_mils


def group_of(system: System) -> str:
    """Return "gauge" for AWG and kcmil, the system itself for others."""
    return "gauge" if system in ("awg", "kcmil") else system


def second_print(sizes: Sequence[Sized], item: Sized) -> bool:
    """Tell whether the size repeats the others in another system."""
    return bool(item.system) and all(group_of(s.system) != group_of(item.system) for s in sizes if s.system)


def other_limit(sizes: Sequence[Sized], item: Sized) -> bool:
    """Tell whether "max …" completes a "min …", in the same system or that of its bracket."""
    limits = {s.limit for s in sizes if group_of(s.system) == group_of(item.system)}
    if item.limit == "max":
        return limits == {"min"}
    # "min AWG 18 (0.75 mm²), max AWG 4 (25 mm²)": the bracket belongs to the limit just read.
    opened = {s.limit for s in sizes if s.limit}
    return not item.limit and opened == {"min", "max"} and limits == {""}


def _may_be_one(before: Item, after: Item) -> bool:
    """One system side by side is a lost dash; a bare size beside one named in the cell may belong to it."""
    assert isinstance(before, Sized)
    assert isinstance(after, Sized)
    return not second_print([before], after) or before.named != after.named


def _are_limits(before: Item, after: Item) -> bool:
    """Tell whether two sizes are the ends of one range, each with its word: "min. 1 mm² max. 6 mm²"."""
    assert isinstance(before, Sized)
    assert isinstance(after, Sized)
    return (before.limit, after.limit) == ("min", "max") and group_of(before.system) == group_of(after.system)


def doubtful_places(items: Sequence[Item]) -> Iterator[str]:
    """Yield a finding code for every place where a dash, a unit or a half of the cell seems to be lost."""
    for before, after in pairwise(items):
        both = isinstance(before, Sized) and isinstance(after, Sized)
        if both and _may_be_one(before, after) and not _are_limits(before, after):
            yield "conductor_unreadable"
        if isinstance(before, Sized) and isinstance(after, Piece) and after.type == "EQ":
            yield "conductor_unreadable"
    for item in items:
        if isinstance(item, Piece) and item.type in ("MM", "AREA"):
            yield "conductor_unit_missing"  # a unit that belongs to no number
    spoken = [i for i in items if not (isinstance(i, Piece) and i.type in ("SEP", "LP", "RP"))]
    for end in (spoken[:1], spoken[-1:]):
        if end and isinstance(end[0], Piece) and end[0].type in ("SLASH", "AND"):
            yield "conductor_unreadable"


def join_neighbours(items: list[Item]) -> list[Item]:
    """Join "24 AWG 10 AWG" and "1/0 AWG 300 MCM": two single gauges with nothing between them."""
    out: list[Item] = []
    for item in items:
        before = out[-1] if out else None
        if isinstance(item, Sized) and isinstance(before, Sized) and _are_ends(before, item):
            low, high = before.low, item.high
            assert low is not None
            assert high is not None
            fault = ""
            if circular_mils(low.gauge) > circular_mils(high.gauge):
                fault = "conductor_unreadable"
            out[-1] = replace(
                before,
                end=item.end,
                high=high,
                fault=fault,
                mcm_behind_awg=before.mcm_behind_awg or item.mcm_behind_awg,
            )
        else:
            out.append(item)
    return out


def _are_ends(first: Sized, second: Sized) -> bool:
    single = first.low == first.high and second.low == second.high
    gauges = group_of(first.system) == "gauge" == group_of(second.system)
    return single and gauges and not first.fault and not second.fault and second.count is None
