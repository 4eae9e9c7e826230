"""Number formats of a spreadsheet: what a stored number shows (ECMA-376 part 1, 18.8.30 and 18.8.31).

Understood are fixed decimals, percent, literal text and sections for positive, negative, zero; dates are told.
A format beyond that is not guessed: `show_number` says so, and the cell is held.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from decimal import ROUND_HALF_UP, Decimal, InvalidOperation, localcontext
from functools import lru_cache

BUILT_IN: dict[int, str] = {
    0: "General", 1: "0", 2: "0.00", 3: "#,##0", 4: "#,##0.00", 9: "0%", 10: "0.00%", 11: "0.00E+00",
    12: "# ?/?", 13: "# ??/??", 14: "mm-dd-yy", 15: "d-mmm-yy", 16: "d-mmm", 17: "mmm-yy", 18: "h:mm AM/PM",
    19: "h:mm:ss AM/PM", 20: "h:mm", 21: "h:mm:ss", 22: "m/d/yy h:mm", 37: "#,##0 ;(#,##0)",
    38: "#,##0 ;[Red](#,##0)", 39: "#,##0.00;(#,##0.00)", 40: "#,##0.00;[Red](#,##0.00)", 45: "mm:ss",
    46: "[h]:mm:ss", 47: "mmss.0", 48: "##0.0E+0", 49: "@",
}  # fmt: skip
"""Formats that a file names by number only. 27 to 36 and 50 to 58 are dates of East Asian languages."""

_PIECE = re.compile(r'"([^"]*)"|\\(.)|_.|\*.|\[([^\]]*)\]|(General|AM/PM|A/P)|([0#?.,%@]+)|(E[+-])|(.)', re.I | re.S)
_NUMBER = re.compile(r"(?P<whole>[0#,]*)(?:\.(?P<part>[0#?]*))?(?P<percent>%?)")
_LOCALE = re.compile(r"\$(?P<sign>[^-]*)-?[0-9A-Fa-f]*\Z")
_COLOURS = frozenset({"black", "blue", "cyan", "green", "magenta", "red", "white", "yellow"})
_DIGITS = 15
_GENERAL_WIDTH = 11


@dataclass(frozen=True, slots=True, kw_only=True)
class Format:
    """A format taken apart: `kind` "general", "number", "text", "date" or "unknown".

    A number has literal text `before` and `after`, the least and most decimals, `percent`, and the least
    whole digits. `blank` means that the format shows nothing at all, `colour` names the colour of the print.
    """

    kind: str
    before: str = ""
    after: str = ""
    whole: int = 1
    least: int = 0
    most: int = 0
    percent: bool = False
    blank: bool = False
    colour: str = ""


def is_date_number(number: int) -> bool:
    """Tell whether a format known by number alone is a date."""
    return 27 <= number <= 36 or 50 <= number <= 58


@lru_cache(maxsize=512)
def read_format(code: str) -> tuple[Format, ...]:
    """Return the sections of a format code, in its order: positive, negative, zero, text."""
    return tuple(_read_section(section) for section in _split_sections(code)[:4])


def show_number(raw: str, code: str) -> str | None:
    """Return what a stored number shows, decimal mark "." and without thousands marks; None if not certain.

    The marks for decimals and thousands belong to the reader's computer, not to the file.
    """
    try:
        value = Decimal(raw)
    except InvalidOperation:
        return None
    if not value.is_finite() or abs(value.adjusted()) > 30:
        return None
    at, format_ = _choose(value, code)
    with localcontext() as context:
        context.prec = _DIGITS
        context.rounding = ROUND_HALF_UP
        value = +value
    if at == 1:
        value = abs(value)
    if format_.kind in ("general", "text"):
        return format_.before + _show_general(value) + format_.after
    return _show_fixed(value, format_) if format_.kind == "number" else None


def show_text(text: str, code: str) -> str | None:
    """Return what a stored text shows: only the fourth section, or one with "@", changes it; None if not certain."""
    format_ = _for_text(code)
    if format_ is None:
        return text
    if format_.kind == "text":
        return format_.before + text + format_.after
    return (format_.before + format_.after).strip() if format_.blank else None


def colour_of(raw: str | None, code: str) -> str:
    """Return the name of the colour that a format gives a stored number, or a text (None); "" for none."""
    if raw is None:
        format_ = _for_text(code)
        return format_.colour if format_ else ""
    try:
        return _choose(Decimal(raw), code)[1].colour
    except InvalidOperation:
        return ""


def _for_text(code: str) -> Format | None:
    sections = read_format(code)
    if len(sections) == 4 or sections[-1].kind == "text":
        return sections[-1]
    return None


def _choose(value: Decimal, code: str) -> tuple[int, Format]:
    """Return which section of a format shows a number, from 0, and the section."""
    numbers = read_format(code)[:3]
    at = 0
    if len(numbers) > 1 and value < 0:
        at = 1
    elif len(numbers) > 2 and value == 0:
        at = 2
    return at, numbers[at]


def show_date(raw: str, *, from_1904: bool) -> str:
    """Return a day number as year-month-day; the number itself when it is none."""
    try:
        days = Decimal(raw)
        start = datetime(1904, 1, 1) if from_1904 else datetime(1899, 12, 30)
        return (start + timedelta(days=int(days))).strftime("%Y-%m-%d")
    except (InvalidOperation, OverflowError, ValueError):
        return raw


def is_date(code: str) -> bool:
    """Tell whether a format shows a date or a time."""
    return any(section.kind == "date" for section in read_format(code))


def _show_general(value: Decimal) -> str:
    text = f"{value.normalize():f}"
    if "." in text and len(text) > _GENERAL_WIDTH:
        kept = max(0, _GENERAL_WIDTH - len(text.split(".")[0]) - 1)
        rounded = value.quantize(Decimal(1).scaleb(-kept), rounding=ROUND_HALF_UP)
        text = f"{rounded.normalize():f}"
    return "0" if text in ("-0", "") else text


def _show_fixed(value: Decimal, format_: Format) -> str:
    if format_.blank:
        return (format_.before + format_.after).strip()
    if format_.percent:
        value = value * 100
    rounded = value.quantize(Decimal(1).scaleb(-format_.most), rounding=ROUND_HALF_UP)
    sign = "-" if rounded < 0 else ""
    whole, _, part = f"{abs(rounded):f}".partition(".")
    while len(part) > format_.least and part.endswith("0"):
        part = part[:-1]
    whole = whole.lstrip("0").rjust(format_.whole, "0")
    number = f"{whole}.{part}" if part else whole  # "0.##" shows 16 as "16.": the mark says nothing
    return f"{sign}{format_.before}{number}{'%' if format_.percent else ''}{format_.after}".strip()


def _split_sections(code: str) -> list[str]:
    sections = [""]
    for match in _PIECE.finditer(code):
        if match[0] == ";":
            sections.append("")
        else:
            sections[-1] += match[0]
    return sections


def _read_section(section: str) -> Format:
    """Take one section apart; anything that is not plainly a number, text or date is unknown."""
    literals = ["", ""]
    pattern = ""
    date = unknown = general = False
    colour = ""
    for match in _PIECE.finditer(section):
        quoted, escaped, bracket, word, digits, exponent, other = match.groups()
        if quoted is not None or escaped is not None:
            literals[bool(pattern or general)] += quoted if quoted is not None else escaped
        elif bracket is not None:
            sign, fits, is_clock = _read_bracket(bracket)
            colour = bracket.lower() if fits and not sign and not is_clock else colour
            literals[bool(pattern or general)] += sign
            date, unknown = date or is_clock, unknown or not fits
        elif word is not None:
            general, date = general or word.lower() == "general", date or word.lower() != "general"
        elif digits is not None:
            unknown = unknown or bool(pattern)
            pattern += digits
        elif exponent is not None:
            unknown = True
        elif other is not None and other.lower() in "ymdhsbge":
            date = True
        elif other is not None:
            literals[bool(pattern or general)] += other
        else:
            unknown = unknown or (match[0][0] == "*" and match[0][1].isalnum())  # fills the cell with a letter
    if date:
        return Format(kind="date", colour=colour)
    if unknown or (general and pattern):
        return Format(kind="unknown", colour=colour)
    return replace(_make(pattern, literals, general=general), colour=colour)


def _read_bracket(bracket: str) -> tuple[str, bool, bool]:
    """Return the literal sign of a bracket, whether it is understood, and whether it is a clock's."""
    if bracket.lower() in _COLOURS or re.fullmatch(r"color\d+", bracket, re.I):
        return "", True, False
    if re.fullmatch(r"h+|m+|s+", bracket, re.I):
        return "", True, True
    locale = _LOCALE.match(bracket)
    return (locale["sign"], True, False) if locale else ("", False, False)


def _make(pattern: str, literals: list[str], *, general: bool) -> Format:
    before, after = literals
    if general:
        return Format(kind="general", before=before, after=after)
    if pattern == "@":
        return Format(kind="text", before=before, after=after)
    if not pattern:
        return Format(kind="number", before=before, after=after, blank=True)
    found = _NUMBER.fullmatch(pattern)
    if not found or found["whole"].endswith(","):
        return Format(kind="unknown")  # scaling by thousands, fractions, placeholders for blanks
    part = found["part"] or ""
    if "?" in part:
        return Format(kind="unknown")
    return Format(
        kind="number",
        before=before,
        after=after,
        whole=found["whole"].count("0"),
        least=part.count("0"),
        most=len(part),
        percent=bool(found["percent"]),
    )
