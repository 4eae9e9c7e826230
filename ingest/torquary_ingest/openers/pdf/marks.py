"""Note marks printed as characters behind a word, and the order of letters written from right to left."""

from __future__ import annotations

import re

from torquary_ingest.openers.pdf.letters import NOTE_SIGNS, RAISED_DIGITS

UNIT_BEFORE_EXPONENT = re.compile(r"(?:^|[^A-Za-zÀ-ÿ.·])(?:mm|cm|in|мм|см)$|(?:^|[\d\s])m$")
"""A unit of length behind which a raised 2 or 3 is an exponent; the m of N·m is none."""

LEADING_MARK = re.compile(r"^(?:[0-9]{1,2}|[a-e]|[⁰¹²³⁴⁵⁶⁷⁸⁹ᵃᵇᶜᵈᵉ]{1,2}|[*†‡※]{1,2}[0-9]{0,2})[)⁾]?$")
"""A note mark that may stand before what it speaks of."""

_HEAD = re.compile(r"^((?:[⁰¹²³⁴⁵⁶⁷⁸⁹ᵃᵇᶜᵈᵉ]{1,2}[)⁾]?)(?=\d)|[*†‡※]{1,2}\)?(?=\d+[.,]\d))")
"""A sign before a whole number may be a mark of its own ("*1"), as notes are numbered."""

_RAISED_TAIL = re.compile(r"(?<=[^\s⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺])([⁰¹²³⁴⁵⁶⁷⁸⁹ᵃᵇᶜᵈᵉ][⁰¹²³⁴⁵⁶⁷⁸⁹ᵃᵇᶜᵈᵉ,⁾)]*)$")
_SIGN_TAIL = re.compile(r"(?<=[^\s*†‡※])([*†‡※]+\)?)$")


def split_head(text: str) -> tuple[str, str]:
    """Part a figure from the raised figures or note signs printed before it: ("20", "1") for "¹20"."""
    found = _HEAD.match(text)
    return (text[found.end() :], found.group(1).translate(RAISED_DIGITS)) if found else (text, "")


def split_marks(text: str) -> tuple[str, tuple[str, ...]]:
    """Part a word from the raised figures and note signs printed behind it: ("2.3", ("1",)) for "2.3¹".

    The square and cube of a unit stay; so does a power of ten.
    """
    marks: list[str] = []
    if all(part in NOTE_SIGNS for part in text.rstrip(")")):
        return text, ()
    if found := _SIGN_TAIL.search(text):
        marks.append(found.group(1))
        text = text[: found.start()]
    if found := _RAISED_TAIL.search(text):
        before, tail = text[: found.start()], found.group(1)
        if before.count("(") > before.count(")") and tail.endswith((")", "⁾")):
            # The bracket of "(mm²)" closes the one before; it is no part of a mark "2)".
            return (before + tail, tuple(marks)) if len(tail) == 2 else (text, tuple(marks))
        if tail[0] in "²³" and UNIT_BEFORE_EXPONENT.search(before) and tail[1:2] not in (")", "⁾"):
            before, tail = before + tail[0], tail[1:]
        power = re.search(r"(?:[×x·*]|^)10$", before) is not None
        if tail and not power:
            marks = [part for part in tail.translate(RAISED_DIGITS).split(",") if part] + marks
            text = before
    return text, tuple(marks)


def order_letters(text: str) -> str:
    """Turn letters that stand from right to left on paper into reading order; figures keep their own."""
    tokens = re.findall(r"[0-9]+(?:[.,:/][0-9]+)*|[A-Za-z]+|.", text)
    mirror = str.maketrans("()[]{}<>", ")(][}{><")
    return "".join(
        token if token[0].isalnum() and token.isascii() else token.translate(mirror) for token in tokens[::-1]
    )
