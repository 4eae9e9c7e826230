"""What a cell is before it is parsed: blank, a dash, ditto marks, a date, or damaged text."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from torquary_ingest.document import Doubt
from torquary_ingest.figures.phrases import phrases
from torquary_ingest.figures.values import CellKind
from torquary_schema.glyphs import fold_glyphs
from torquary_schema.words import spot

_ARROWS = re.compile(r"[\s↓↑←→⇓⇑⇐⇒▼▲↧↥⬇⬆⬅|]*[↓↑←→⇓⇑⇐⇒▼▲↧↥⬇⬆⬅][\s↓↑←→⇓⇑⇐⇒▼▲↧↥⬇⬆⬅|]*")
_EMPTY_MARK = re.compile(r"[-‐‑‒–—―−_.\s/\u00ad]+")
_DAMAGED = re.compile(r"\ufffd|\(cid:\d+\)|[\ue000-\uf8ff\U000f0000-\U0010ffff]|[\x01-\x08\x0e-\x1f\x7f]")
_TURNING = re.compile(r"[\u202b\u202d\u202e\u2067]")
"""Marks that turn the letters behind them round (Unicode Standard Annex 9): "5.2" behind U+202E shows as 2.5."""

_YEAR_FIRST = re.compile(r"\s*(?:19|20)\d\d([-/.])\d{1,2}\1\d{1,2}\b.*", re.DOTALL)
_THREE_PARTS = re.compile(
    r"\s*\d{1,2}([-/.])\d{1,2}\1(?:\d{4}|\d\d)\.?\s*(?:\d{1,2}:\d\d(?::\d\d)?\s*)?(?:[^\d]{0,12})"
)
_CJK_DATE = re.compile(r"\d{1,2}\s*[月월]\s*(?:\d{1,2}\s*[日일])?")
_CLOCK = re.compile(r"\s*\d{1,2}:\d\d(?::\d\d)?(?:\s*[ap]m)?\s*", re.IGNORECASE)
_SERIAL = re.compile(r"\s*(?:3[5-9]|4\d|5[0-5])\d{3}\s*")


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """The kind of a cell without figures; `arrow` where the ditto mark is an arrow."""

    kind: CellKind
    arrow: bool = False


def unreadable_character(text: str) -> Doubt | None:
    """Return the doubt for a cell with NUL bytes, characters never decoded or turned round, None if it has none."""
    if "\x00" in text:
        return Doubt(code="nul_byte", message="a NUL byte stands in the cell; figures may be lost there")
    if _DAMAGED.search(text):
        return Doubt(code="character_unreadable", message="a character of the cell could not be decoded")
    if _TURNING.search(text):
        message = "a mark in the cell turns the letters behind it round; look at the sheet"
        return Doubt(code="character_unreadable", message=message)
    return None


def cell_kind(text: str) -> Kind | None:
    """Return the kind of a cell that holds no figures of its own, None for every other cell."""
    bare = fold_glyphs(text).text.strip().casefold()
    if not bare:
        return Kind(kind="blank")
    stripped = bare.strip("()[] ")
    if _says_as_above(bare) or _says_as_above(stripped):
        return Kind(kind="ditto")
    if _ARROWS.fullmatch(bare):
        return Kind(kind="ditto", arrow=True)
    if _EMPTY_MARK.fullmatch(bare) or stripped in phrases("NOTHING"):
        return Kind(kind="not_applicable")
    return None


def says_none(text: str) -> bool:
    """Tell whether a cell says that there is no figure: a dash, "n/a"."""
    kind = cell_kind(text)
    return kind is not None and kind.kind == "not_applicable"


def _says_as_above(bare: str) -> bool:
    """Tell whether the whole text is a ditto word or mark, dashes round the mark left out ("— " —")."""
    inner = bare.strip("-–—− ") or bare
    return any(
        match.concept == "ditto" and match.printed.strip() in (bare, inner)
        for text in (bare, inner)
        for match in spot("connective", text)
    )


@cache
def _named_date() -> re.Pattern[str]:
    months = "|".join(re.escape(m) for m in phrases("MONTHS"))
    before = rf"\d{{1,4}}\.?\s*[-. /]?\s*(?:{months})\.?(?![^\W\d_])"
    behind = rf"(?<![^\W\d_])(?:{months})\.?\s*[-. /']\s*\d{{1,4}}"
    return re.compile(
        rf"\s*(?:{before}(?:\s*[-. /]\s*\d{{2,4}})?|{behind}(?:\s*,?\s*\d{{4}})?)\s*(?:\D{{0,12}})", re.IGNORECASE
    )


def looks_like_date(folded: str) -> bool:
    """Tell whether the whole cell is a date, a time of day or a spreadsheet's day number.

    A spreadsheet turns "2-3" into 2-Mar or 45353 (days from 1900; 35000 to 55999 is 1995 to 2053).
    """
    patterns = (_YEAR_FIRST, _THREE_PARTS, _named_date(), _CLOCK, _SERIAL)
    return any(p.fullmatch(folded) for p in patterns) or _CJK_DATE.search(folded) is not None
