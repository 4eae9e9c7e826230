"""Note marks as characters: raised figures and letters, stars and daggers, and the texts they hang on."""

from __future__ import annotations

import re

NOTE_SIGNS = frozenset("*†‡※")
"""Signs that are a note mark wherever they hang on a text."""

_RAISED = "⁰¹²³⁴⁵⁶⁷⁸⁹ᵃᵇᶜᵈᵉ"
_SIGNS = "".join(sorted(NOTE_SIGNS))
_PLAIN = str.maketrans(f"{_RAISED}⁽⁾", "0123456789abcde()")

LEADING_MARK = re.compile(rf"^(?:[0-9]{{1,2}}|[a-e]|[{_RAISED}]{{1,2}}|[{_SIGNS}]{{1,2}}[0-9]{{0,2}})[)⁾]?$")
"""A note mark that may stand before what it speaks of."""

_HEAD = re.compile(rf"^((?:[{_RAISED}]{{1,2}}[)⁾]?)(?=\d)|[{_SIGNS}]{{1,2}}\)?(?=\d+[.,]\d))")
"""A sign before a whole number may be a mark of its own ("*1"), as notes are numbered."""

_RAISED_TAIL = re.compile(rf"(?<=[^\s⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺])([{_RAISED}][{_RAISED},⁾)]*)$")
_SIGN_TAIL = re.compile(rf"(?<=[^\s{_SIGNS}])([{_SIGNS}]+\)?)$")
_LENGTH = re.compile(r"(?:^|[^A-Za-zÀ-ÿ.·])(?:mm|cm|in|мм|см)$|(?:^|[\d\s])m$")
_POWER = re.compile(r"(?:[×x·*]\s?|^)10$")


def lower(text: str) -> str:
    """Return the text with its raised figures, letters and brackets as plain ones: "1)" for "¹⁾"."""
    return text.translate(_PLAIN)


def takes_exponent(text: str) -> bool:
    """Tell whether a text ends in a unit of length: a raised 2 or 3 is its exponent. The m of N·m is none."""
    return _LENGTH.search(text) is not None


def takes_power(text: str) -> bool:
    """Tell whether a text ends in the ten of a power ("3 × 10"): raised figures are its exponent."""
    return _POWER.search(text) is not None


def split_head(text: str) -> tuple[str, str]:
    """Part a figure from the raised figures or note signs printed before it: ("20", "1") for "¹20"."""
    found = _HEAD.match(text)
    return (text[found.end() :], lower(found[1])) if found else (text, "")


def split_tail(text: str) -> tuple[str, tuple[str, ...]]:
    """Part a text from the raised figures and note signs printed behind it: ("2.3", ("1",)) for "2.3¹".

    The square and cube of a unit stay; so does a power of ten, and a text of signs alone.
    """
    if all(part in NOTE_SIGNS for part in text.rstrip(")")):
        return text, ()
    signs = _SIGN_TAIL.search(text)
    before = text[: signs.start()] if signs else text
    before, raised = _split_raised(before)
    return before, (*raised, *((signs[1],) if signs else ()))


def _split_raised(text: str) -> tuple[str, tuple[str, ...]]:
    found = _RAISED_TAIL.search(text)
    if found is None or takes_power(text[: found.start()]):
        return text, ()
    before, tail = text[: found.start()], found[1]
    if before.count("(") > before.count(")") and tail.endswith((")", "⁾")):
        return text, ()  # the bracket of "(mm²)" closes the one before; it is no part of a mark "2)"
    if tail[0] in "²³" and takes_exponent(before) and tail[1:2] not in (")", "⁾"):
        before, tail = before + tail[0], tail[1:]
        if tail == ",":  # it parts no marks: "25 mm², torque"
            return before + tail, ()
    return before, tuple(part for part in lower(tail).split(",") if part)
