"""Printed digits to `Decimal`, with what is uncertain about them said and never guessed."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from torquary_schema.glyphs import fold_glyphs

DecimalMark = Literal[".", ",", ""]

NUMBER = (
    r"\d{1,3}(?:[\u2009']\d{3})+(?:[.,]\d+)?(?![\d])"  # thousands set off by a thin blank or an apostrophe
    r"|\d+(?:[.,]\d+)*"
)
_MOST_DIGITS = 10
"""Digits of a number at most: ten billion of any unit is no torque and no size, and a catalogue could not keep it."""

_PLAIN = re.compile(r"\d+")
_ONE_MARK = re.compile(r"(\d+)([.,])(\d+)")
_GROUPED = re.compile(r"[1-9]\d{0,2}(?:([.,])\d{3})(?:\1\d{3})*")
_BOTH = re.compile(r"([1-9]\d{0,2}(?:([.,])\d{3})+)([.,])(\d+)")
_SPACED = re.compile(r"([1-9]\d{0,2}(?:[\u2009 ']\d{3})+)(?:([.,])(\d+))?")
_IN_TEXT = re.compile(rf"(?<![\d.,A-Za-z/])(?:{NUMBER})(?![\d.,]*\d)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A printed number. `step` is the worth of its last printed digit (0.1 for "2.5", 1 for "20").

    `value` is None where the digits make no number. `doubt` is a finding code, "" if the value is certain.
    """

    value: Decimal | None
    step: Decimal
    printed: str
    doubt: str = ""


def _made(digits: str, printed: str, doubt: str = "") -> Number:
    decimals = len(digits.partition(".")[2])
    return Number(value=Decimal(digits), step=Decimal(1).scaleb(-decimals), printed=printed, doubt=doubt)


def _unreadable(printed: str) -> Number:
    return Number(value=None, step=Decimal(1), printed=printed, doubt="number_unreadable")


def read_number(printed: str, decimal_mark: DecimalMark = "") -> Number:
    """Return the number printed as digits and marks, without sign or unit.

    `decimal_mark` is the sheet's convention. "1.250" and "1,250" without one are `number_ambiguous`;
    "0.500" has only one reading. Groups that are not thousands ("0.821.2"), and more than `_MOST_DIGITS`, are
    `number_unreadable`.
    """
    text = printed
    if sum(sign.isdigit() for sign in text) > _MOST_DIGITS:
        return _unreadable(printed)
    if _PLAIN.fullmatch(text):
        # A leading nought before other digits is a lost mark ("05" for "0.5"), not a number.
        return _unreadable(printed) if len(text) > 1 and text[0] == "0" else _made(text, printed)
    spaced = _SPACED.fullmatch(text)
    if spaced:
        return _spaced(spaced, printed, decimal_mark)
    both = _BOTH.fullmatch(text)
    if both and both[2] != both[3]:
        doubt = "number_ambiguous" if decimal_mark == both[2] else ""
        return _made(f"{re.sub('[.,]', '', both[1])}.{both[4]}", printed, doubt)
    one = _ONE_MARK.fullmatch(text)
    if one:
        return _one_mark(one[1], one[2], one[3], printed, decimal_mark)
    grouped = _GROUPED.fullmatch(text)
    if grouped:
        doubt = "number_ambiguous" if decimal_mark == grouped[1] else ""
        return _made(re.sub("[.,]", "", text), printed, doubt)
    return _unreadable(printed)


def _spaced(found: re.Match[str], printed: str, decimal_mark: DecimalMark) -> Number:
    whole = re.sub(r"\D", "", found[1])
    if not found[2]:
        return _made(whole, printed)
    doubt = "number_ambiguous" if decimal_mark and found[2] != decimal_mark else ""
    return _made(f"{whole}.{found[3]}", printed, doubt)


def _one_mark(whole: str, mark: str, fraction: str, printed: str, decimal_mark: DecimalMark) -> Number:
    if len(whole) > 1 and whole[0] == "0":
        return _unreadable(printed)
    could_group = len(fraction) == 3 and whole != "0" and len(whole) <= 3
    if not could_group or decimal_mark == mark:
        return _made(f"{whole}.{fraction}", printed)
    if decimal_mark:
        return _made(whole + fraction, printed)
    return _made(f"{whole}.{fraction}", printed, "number_ambiguous")


def find_decimal_mark(texts: Iterable[str]) -> DecimalMark:
    """Return the decimal mark that all numbers of a sheet's cells agree on, "" if none or both occur.

    Only numbers that have one reading testify: "2,5", "0,500", "1.200,0". "1.250" says nothing, and
    neither does a number with three parts (a date, a version, a chapter).
    """
    marks: set[str] = set()
    for text in texts:
        for match in _IN_TEXT.finditer(fold_glyphs(text).text):
            marks |= _testimony(match[0])
    if len(marks) == 1:
        return "." if "." in marks else ","
    return ""


def _testimony(number: str) -> set[str]:
    both = _BOTH.fullmatch(number)
    if both and both[2] != both[3]:
        return {both[3]}
    one = _ONE_MARK.fullmatch(number)
    if one and (len(one[3]) != 3 or one[1] == "0" or len(one[1]) > 3):
        return {one[2]}
    spaced = _SPACED.fullmatch(number)
    if spaced and spaced[2] and len(spaced[3]) != 3:
        return {spaced[2]}
    return set()
