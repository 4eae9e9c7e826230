"""Whether what a person explained of a column fits what is printed there."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from torquary_ingest.document import Doubt, TaughtHeading
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.lexis.figures import has_figure
from torquary_schema.sizes import IEC_60228

FIGURES = ("torque", "conductor")
# What tells that a table is about terminals, so that its columns may be their torques.
OF_TERMINALS = (
    "terminal", "conductor", "conductor_min", "conductor_max", "thread", "strip_length", "clamp", "drive", "bit",
    "stranding", "ferrule",
)  # fmt: skip
_UNSURE = ("unknown", "blank", "name", "other")
_FRACTION = re.compile(r"\d[.,]\d")
_RANGE = re.compile(r"^\D{0,3}(\d+(?:[.,]\d+)?)\s*(?:[-–—−…÷~]|\.{2,3}|to|bis|à|a)\s*(\d+(?:[.,]\d+)?)\D*$")
# Tightening torques are given within a factor of two or so, conductor sizes over many (common practice).
_WIDEST = 3
_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")
_MANY = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """What a column is without the person's word: by its headings alone, with its cells, and their texts."""

    by_headings: str
    with_cells: str
    false_friend: bool
    texts: tuple[str, ...]


def judge(taught: Sequence[TaughtHeading], printed: Printed) -> tuple[str, tuple[Doubt, ...]]:
    """Return the field of an explained column, and the doubts where the print speaks against the person.

    The print wins where it says what the figures are; all that is read beside the column is then held.
    """
    field = taught[0].field
    against = _find_against(taught, printed)
    if not against:
        return field, ()
    message = (
        f"layout profile {taught[0].profile} takes the heading {taught[0].printed!r} for {field}, but {against}; "
        "correct the profile or take the heading out of it"
    )
    stays = base(printed.with_cells) in FIGURES and not printed.false_friend
    return printed.with_cells if stays else field, (Doubt(code="taught_contradicted", message=message),)


def doubt_lone_word(taught: TaughtHeading, named: str) -> Doubt:
    """Return the doubt of a column that only a person calls a torque or size: `named` is one of the sheet's, or ""."""
    kind = "torques" if base(taught.field) == "torque" else "conductor sizes"
    reason, remedy = (
        (f"the sheet prints the {kind} under {named!r} and no unit here", "take the heading out of the profile")
        if named
        else ("nothing in the table speaks of terminals", "explain in the profile which heading names them")
    )
    message = (
        f"layout profile {taught.profile} takes {taught.printed!r} for {taught.field}, but {reason}; {remedy}, or "
        "decide by the sheet"
    )
    return Doubt(code="taught_contradicted", message=message)


def base(field: str) -> str:
    """Return the concept without its side: torque_min is a torque."""
    return field.removesuffix("_min").removesuffix("_max")


def _find_against(taught: Sequence[TaughtHeading], printed: Printed) -> str:
    """Return what speaks against the person's word, in words; "" if nothing does."""
    means = base(taught[0].field)
    if len({heading.field for heading in taught}) > 1:
        return f"{taught[1].printed!r} in the same column for {taught[1].field}"
    if printed.false_friend:
        return "the heading speaks of another kind of torque or figure"
    by_headings, with_cells = base(printed.by_headings), base(printed.with_cells)
    if by_headings in FIGURES and by_headings != means:
        return f"what is printed over the column says {by_headings}"
    if with_cells not in (by_headings, means) and with_cells not in _UNSURE:
        return f"the cells under it are of the kind {with_cells}"
    return _look_under(means, printed.texts)


def _is_wide(text: str) -> bool:
    """Tell whether a text without a torque unit is a range as sizes have, and torques do not."""
    found = _RANGE.match(text.strip())
    if found is None or make_sense(text).unit("torque"):
        return False
    low, high = (Decimal(side.replace(",", ".")) for side in found.groups())
    return high > _WIDEST * low


def _are_sizes(texts: Sequence[str]) -> bool:
    """Tell whether bare figures, three or more of them, are cross-sections of IEC 60228 and nothing else."""
    found = {number for text in texts for number in _NUMBER.findall(text)}
    bare = not any(make_sense(text).unit("torque") for text in texts)
    return bare and len(found) >= _MANY and all(Decimal(number.replace(",", ".")) in IEC_60228 for number in found)


def _look_under(means: str, texts: Sequence[str]) -> str:
    """Figures are no names, and names are no figures."""
    if not texts:
        return ""
    if means == "torque" and any(map(_is_wide, texts)):
        return f"what stands under it spans too wide for a torque ({next(filter(_is_wide, texts))!r})"
    if means == "torque" and _are_sizes(texts):
        return f"the figures under it are the standard conductor sizes ({texts[0]!r})"
    if means in (*FIGURES, "count", "rated_current", "strip_length"):
        return "" if any(map(has_figure, texts)) else f"no figure stands under it ({texts[0]!r})"
    names = means in ("terminal", "device", "maker", "series", "model", "family", "clamp", "purpose")
    senses = [make_sense(text) for text in texts]
    broken = any(_FRACTION.search(text) for text in texts) or any(sense.units for sense in senses)
    if names and broken and all(sense.figure for sense in senses):
        return f"figures stand under it ({texts[0]!r})"
    return ""
