"""Which kinds of conductor a text tells of which size: "rigid 1.5–35 mm², flexible 1.5–25 mm²"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby, pairwise

from torquary_ingest.clauses.clause import Clause, Stretch
from torquary_ingest.document import Doubt
from torquary_ingest.figures.conductor_words import read_conductor_words

_ON_BOTH_SIDES = Doubt(
    code="condition_unread",
    message="kinds of conductor stand before the size and behind it, and nothing says which are of which size",
)
_Run = tuple[bool, tuple[Stretch, ...]]
"""Kinds (False) or sizes (True) that stand together, nothing of the other sort between them."""


def tell_kinds(clause: Clause) -> Clause:
    """Return a clause, each of its sizes with the kinds of conductor that the text tells of it.

    Kinds stand before their sizes or behind them, as the first of them does; a metal told at first is of all sizes.
    """
    runs = _runs(clause)
    if len(runs) < 2:
        return clause
    if _stand_on_both_sides(runs):
        return replace(clause, doubts=(*clause.doubts, _ON_BOTH_SIDES))
    said = _behind(runs) if runs[0][0] else _before(runs)
    return replace(clause, sizes=tuple(replace(one, said=said.get(one.start, "")) for one in clause.sizes))


def _stand_on_both_sides(runs: Sequence[_Run]) -> bool:
    """Tell whether kinds stand before sizes and others behind the last: "rigid 1.5–10 mm² 1–6 mm² flexible"."""
    if runs[0][0] or runs[-1][0]:
        return False
    return all(read_conductor_words(_text(kinds)).stranding for _, kinds in (runs[-3], runs[-1]))


def _runs(clause: Clause) -> list[_Run]:
    placed = [*((one.start, True, one) for one in clause.sizes), *((one.start, False, one) for one in clause.kinds)]
    ordered = sorted(placed, key=lambda each: each[0])
    return [
        (sized, tuple(one for _, _, one in group)) for sized, group in groupby(ordered, key=lambda each: each[1])
    ]


def _before(runs: Sequence[_Run]) -> dict[int, str]:
    """Return the kinds told of the sizes behind them, by the size's offset; what follows the last size is of it too."""
    texts = [_text(group) for sized, group in runs if not sized]
    sizes = [group for sized, group in runs if sized]
    if len(texts) > len(sizes):
        texts[-2:] = [f"{texts[-2]} {texts[-1]}"]
    metal = _metal_in(runs[0][1])
    texts = [text if read_conductor_words(text).material else f"{text} {metal}".strip() for text in texts]
    return {one.start: text for text, group in zip(texts, sizes, strict=True) for one in group}


def _behind(runs: Sequence[_Run]) -> dict[int, str]:
    """Return the kinds told of the sizes before them, by the size's offset."""
    texts = [_text(group) for sized, group in runs if not sized]
    sizes = [group for sized, group in runs if sized]
    return {one.start: text for text, group in zip(texts, sizes, strict=False) for one in group}


def _text(kinds: Sequence[Stretch]) -> str:
    """Return kinds that stand together as one text; those with more than a blank between them are several."""
    parted = [_parting(one, after) for one, after in pairwise(kinds)]
    return "".join(f"{one.text}{parting}" for one, parting in zip(kinds, [*parted, ""], strict=True))


def _parting(one: Stretch, after: Stretch) -> str:
    return " " if after.start - one.end <= 1 else " / "


def _metal_in(kinds: Sequence[Stretch]) -> str:
    return " ".join(one.text for one in kinds if read_conductor_words(one.text).material)
