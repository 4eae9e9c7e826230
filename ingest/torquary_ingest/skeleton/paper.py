"""Number, edition and date of a document as printed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from torquary_schema.words import Match, spot

_EDITION_LENGTH = 40
"""Letters of an edition at most: what is longer is a sentence."""

_PART = re.compile(r"\s{2,}|[|·•;]|,\s(?=[^\W\d]{4,})|\.\s")
_NUMBER = re.compile(r"[\s:：.#]*((?=[\w./-]*\d)[A-Z0-9][\w./-]*(?:\s(?=[\w./-]*\d)[\w./-]+){0,2})")
_ISO = re.compile(r"(?<!\d)((?:19|20)\d\d)[-./年](0?[1-9]|1[0-2])(?:[-./月](0?[1-9]|[12]\d|3[01]))?(?!\d)")
_DAY_FIRST = re.compile(r"(?<!\d)(?:(0?[1-9]|[12]\d|3[01])[./-])?(0?[1-9]|1[0-2])[./-]((?:19|20)\d\d)(?!\d)")
_YEAR = re.compile(r"(?<!\d)(?:19|20)\d\d(?!\d)")
_CLEAR_DAY = 12
"""A day above it can be no month: "17/05/2024" is May, of "05/04/2024" nobody can tell."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """What a document says of itself, "" for what it does not. `date` is as far as it is certain: "2024-05-17",
    "2024-05" or "2024".
    """

    number: str = ""
    edition: str = ""
    date: str = ""


def read_paper(lines: Iterable[str]) -> Paper:
    """Return number, edition and date that the first telling lines give."""
    lines = tuple(lines)
    edition = next((told for line in lines if (told := _edition_in(line))), "")
    number = next((told for line in lines if (told := _number_in(line))), "")
    return Paper(number=number, edition=edition, date=read_date(edition))


def read_date(text: str) -> str:
    """Return the date in a text, year first, as far as it is certain; "" for none or several."""
    if (found := _ISO.search(text)) is not None:
        return "-".join(part.zfill(2) for part in found.groups() if part)
    if (found := _DAY_FIRST.search(text)) is not None:
        day, month, year = found.groups()
        if not day:
            return f"{year}-{month.zfill(2)}"
        if int(day) > _CLEAR_DAY or "." in found[0]:
            return f"{year}-{month.zfill(2)}-{day.zfill(2)}"
        return year
    years = set(_YEAR.findall(text))
    return years.pop() if len(years) == 1 else ""


def _edition_in(line: str) -> str:
    for match in _words(line, "edition"):
        told = _PART.split(line[match.start :])[0].strip(" .,:")
        if re.search(r"\d|\b[A-Z]\b", told[len(match.printed) :]) and len(told) <= _EDITION_LENGTH:
            return told
    return ""


def _number_in(line: str) -> str:
    """Return the number behind a word for the number of a document."""
    for match in _words(line, "document_number"):
        if (found := _NUMBER.match(line, match.end)) is not None:
            return found[1].rstrip(".,-/")
    return ""


def _words(line: str, concept: str) -> Iterator[Match]:
    return (match for match in spot("document_word", line) if match.concept == concept)
