"""`read_torque`: what a printed torque cell says, with a doubt beside everything that is not certain."""

from __future__ import annotations

import re
from functools import lru_cache

from torquary_ingest.document import Doubt
from torquary_ingest.figures.assembly import assemble
from torquary_ingest.figures.kinds import cell_kind, looks_like_date, unreadable_character
from torquary_ingest.figures.numbers import DecimalMark
from torquary_ingest.figures.parser import parse
from torquary_ingest.figures.quantities import read_items
from torquary_ingest.figures.spans import collapse_sizes, open_brackets
from torquary_ingest.figures.tokens import Tokeniser
from torquary_ingest.figures.values import TorqueReading
from torquary_ingest.lexis.figures import has_figure
from torquary_schema.glyphs import fold_glyphs
from torquary_schema.units import find_units

_UNFIT = {
    "BROKEN": ("number_broken", "the figure is interrupted by a blank or a line end; look at the sheet"),
    "GLUED": ("number_unreadable", "a letter or mark is stuck to the digits; look at the sheet"),
    "JUNK": ("number_unreadable", "a sign in the cell was not understood; look at the sheet"),
}
_DOUBLED = re.compile(r"(?:(.)\1){3,}")  # "22..55": 2.5 printed twice, each glyph beside its double


def _doubted(code: str, message: str) -> TorqueReading:
    return TorqueReading(kind="figures", doubts=(Doubt(code=code, message=message),))


@lru_cache(maxsize=4096)
def read_torque(text: str, *, unit: str = "", decimal_mark: DecimalMark = "") -> TorqueReading:
    """Return the figures of a torque cell in N·m, and the doubts that hold them.

    `unit` is the unit printed in heading, band or caption ("N·m", "N-m (lbf-in.)"); a unit in the cell
    wins. `decimal_mark` is the sheet's convention (`find_decimal_mark`). A reading without doubts is
    certain. Never raises for any text.
    """
    bad = unreadable_character(text)
    if bad is not None:
        return TorqueReading(kind="figures", doubts=(bad,))
    kind = cell_kind(text)
    if kind is not None:
        doubts = (Doubt(code="ditto_doubtful", message="an arrow may mean the value above or below"),)
        return TorqueReading(kind=kind.kind, doubts=doubts if kind.arrow else ())
    folded = fold_glyphs(text).text
    if looks_like_date(folded):
        return _doubted("date_for_range", f"{text.strip()!r} is a date; ask what was printed before")
    if not has_figure(folded):
        return TorqueReading(kind="words")
    if _DOUBLED.fullmatch("".join(folded.split())):
        return _doubted("number_unreadable", f"every character of {text.strip()!r} is printed twice")
    return _read_figures(text, unit, decimal_mark)


def _read_figures(text: str, unit: str, decimal_mark: DecimalMark) -> TorqueReading:
    tokeniser = Tokeniser(text, decimal_mark)
    pieces = open_brackets(collapse_sizes(tokeniser.pieces()))
    for piece in pieces:
        if piece.type in _UNFIT:
            return _doubted(*_UNFIT[piece.type])
    if not any(p.type == "NUM" for p in pieces):
        if any(p.type in ("AUGHT", "GLUED") for p in pieces):
            return _doubted("number_unreadable", f"{text.strip()!r} cannot be read as a torque")
        return TorqueReading(kind="words")
    tree = parse("torque", pieces)
    if tree is None:
        return _doubted("number_unreadable", f"{text.strip()!r} cannot be read as a figure, range or limit")
    return assemble(read_items(tree), tokeniser, unit, decimal_mark)


def torque_like(text: str) -> bool:
    """Tell, cheaply, whether a text may hold a torque: digits and a torque unit that is not in doubt."""
    return has_figure(text) and any(u.kind == "torque" for u in find_units(text))
