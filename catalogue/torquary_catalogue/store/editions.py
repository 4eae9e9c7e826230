"""Which of two editions is the later one, by what is printed of them; only what is sure counts."""

from __future__ import annotations

import re
from typing import Literal

from torquary_schema.words import fold

Order = Literal["later", "earlier", "unclear"]

_PIECE = re.compile(r"\d+|[^\W\d_]+")
_YEAR = re.compile(r"(?:19|20)\d\d")
# A number of a document orders nothing, and what a sheet replaces is not its own edition.
_NO_EDITION = re.compile(r"\b(?:document|doc|no|nr|supersedes|replaces|sustituye|ersetzt|remplace)\b")
_ONE_WORD = {"ed": "edition", "edn": "edition", "rev": "revision", "iss": "issue", "ver": "version", "ausg": "ausgabe"}
"""Words that are written short and in full."""


def compare_editions(one: tuple[str, str], other: tuple[str, str]) -> Order:
    """Tell whether the first of two editions, each as printed and as a date ("2024-05"), is later or earlier.

    "unclear" where nothing tells it, where the two are alike, and where the print and the date contradict.
    """
    orders = {
        order
        for order in (_order(is_later, one[0], other[0]), _order(_is_later_date, one[1], other[1]))
        if order != "unclear"
    }
    return orders.pop() if len(orders) == 1 else "unclear"


def _order(later: object, one: str, other: str) -> Order:
    assert callable(later)
    return "later" if later(one, other) else "earlier" if later(other, one) else "unclear"


def _is_later_date(one: str, other: str) -> bool:
    """Tell it of two dates, year first; what one of them leaves open does not count: 2024 is not before 2024-05."""
    pairs = zip(one.split("-"), other.split("-"), strict=False)
    first = next(((new, old) for new, old in pairs if new != old), None)
    return first is not None and first[0].isdigit() and first[1].isdigit() and int(first[0]) > int(first[1])


def is_later(one: str, other: str) -> bool:
    """Tell whether the first of two editions as printed is surely later: "Edition 4" than "Ed. 3".

    Both must be written in one way, with the same words; figures and single letters count. The year decides first;
    then no figure may go back, for of "01.12." and "15.03." nobody can tell.
    """
    later, earlier = _read(one), _read(other)
    if later is None or earlier is None or later[0] != earlier[0]:
        return False
    ahead, behind = later[1], earlier[1]
    years = [[step for step in steps if _YEAR.fullmatch(step)] for steps in (ahead, behind)]
    if len(years[0]) == len(years[1]) == 1 and years[0] != years[1]:
        return years[0] > years[1]
    pairs = [(_rank(new), _rank(old)) for new, old in zip(ahead, behind, strict=True)]
    return any(new > old for new, old in pairs) and all(new >= old for new, old in pairs)


def _read(edition: str) -> tuple[tuple[str, ...], list[str]] | None:
    """Return the form (words; # for a figure, ? for a single letter) and the figures and letters; None: no order."""
    folded = fold(edition)
    if not folded or _NO_EDITION.search(folded):
        return None
    pieces = [_ONE_WORD.get(piece, piece) for piece in _PIECE.findall(folded)]
    form = tuple("#" if piece.isdigit() else "?" if len(piece) == 1 else piece for piece in pieces)
    return form, [piece for piece, kind in zip(pieces, form, strict=True) if kind in "#?"]


def _rank(step: str) -> tuple[int, str]:
    return (int(step), "") if step.isdigit() else (0, step)
