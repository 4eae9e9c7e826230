"""A size of a conductor cell with what stands beside it, and which of several sizes that is for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from torquary_ingest.figures.conductor_words import read_conductor_words
from torquary_ingest.figures.size_neighbours import group_of
from torquary_ingest.figures.sizes_read import Sized
from torquary_schema.sizes import circular_mils
from torquary_schema.words import spot

_MM2_OF_CIRCULAR_MIL = Decimal("0.000506707479")
"""Area of a circle one mil across (ASTM B258)."""

_THICKER = Decimal("1.2")
"""Times a size in mm² that a gauge in use beside it is at most: 6 AWG is 13.3 mm², printed beside 10 or 16 (from the
tables of pairings in `torquary_schema/sizes_tables`)."""


@dataclass(slots=True)
class SizePart:
    """A size with what stands beside it: the same size in a second system, words, which may stand behind the size."""

    sizes: list[Sized] = field(default_factory=list)
    words: list[str] = field(default_factory=list)
    trailing: bool = False



def goes_on(part: SizePart, between: str) -> bool:
    """Tell whether a comma alone parts a size from its print in another system: "Cu 2.5–16 mm², AWG 14–6"."""
    words = read_conductor_words(" ".join(part.words))
    return between == "," and not (words.stranding or words.rest) and words.ferrule is None


def may_be_shared(parts: Sequence[SizePart]) -> bool:
    """Tell whether words may be for more sizes than theirs: for those behind them, or before words that trail.

    "1.5–16 mm², with ferrule up to 10 mm²" says it of the last alone.
    """
    worded = [bool(part.words) for part in parts]
    first = worded.index(True) if any(worded) else len(parts)
    return not all(worded[first:]) or (first > 0 and any(part.trailing for part in parts))


def is_or(text: str) -> bool:
    """Tell whether a word between two sizes offers the second beside the first: "1 × 4 mm² or 2 × 2.5 mm²"."""
    return any(m.concept == "or" and m.end - m.start == len(text.strip()) for m in spot("connective", text))


def is_gauge_of_another(parts: Sequence[SizePart]) -> bool:
    """Tell whether a gauge behind the last of several sizes is thicker than that one, and may be for one before it.

    "Solid 0.2–6 mm², flexible 0.2–4 mm² (AWG 24–10)": 10 AWG is 5.3 mm².
    """
    if len(parts) < 2:
        return False
    metric = [one.high.number for one in parts[-1].sizes if one.system == "mm2" and one.high and one.high.number]
    gauges = [one.high.gauge for one in parts[-1].sizes if group_of(one.system) == "gauge" and one.high]
    areas = [circular_mils(gauge) * _MM2_OF_CIRCULAR_MIL for gauge in gauges if gauge]
    return bool(metric and areas) and max(areas) > _THICKER * max(metric)
