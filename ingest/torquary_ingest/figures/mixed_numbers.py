"""Printed fractions and mixed numbers: "5 1/2", "1⁄2" (one-character fractions are folded to this form)."""

from __future__ import annotations

import re
from decimal import Decimal

from torquary_ingest.figures.numbers import Number

_DENOMINATORS = {2, 4, 8, 16, 32, 64}
_GLYPH_DENOMINATORS = _DENOMINATORS | {3, 5, 6, 7, 9, 10}
_BLANK = " \t\u2009"
FRACTION = re.compile(rf"(?:(\d+)([{_BLANK}]+))?(\d+)[{_BLANK}]*([/⁄])[{_BLANK}]*(\d+)(?![\d]|[.,]\d|/)")


def read_fraction(match: re.Match[str]) -> tuple[Number, str] | None:
    """Return a fraction's number and kind, None where the digits around the slash are no proper fraction."""
    whole, top, slash, bottom = match[1], int(match[3]), match[4], int(match[5])
    allowed = _GLYPH_DENOMINATORS if slash == "⁄" else _DENOMINATORS
    if bottom not in allowed or not 0 < top < bottom or match[3][0] == "0":
        return None
    value = Decimal(whole or "0") + Decimal(top) / Decimal(bottom)
    doubt = "number_unreadable" if whole and len(whole) > 1 and whole[0] == "0" else ""
    number = Number(value=value, step=Decimal(1) / Decimal(bottom), printed=match[0], doubt=doubt)
    return number, "glyph" if slash == "⁄" else ("mixed" if whole else "slash")
