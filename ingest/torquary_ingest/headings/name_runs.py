"""The words of a sentence that name a terminal or another screw: "L1, L2 and N", "cover screws"."""

from __future__ import annotations

import re

from torquary_schema.roles import spot_roles
from torquary_schema.units import find_units
from torquary_schema.words import spot

_MARKING = re.compile(r"(?<![\w.,])(?:[LTNUVW]\d(?:/[LT]\d)?|PEN?|FE|A[12]|[A-Z]\d{1,2}|N)(?![\w])")
_BETWEEN_NAMES = re.compile(r"(?:\s|,|/|&|-|–|and|und|et|y|e|en|ed|i|oraz|a|og|och|ja|ve|и|\d)*", re.IGNORECASE)


_NUMBERS = re.compile(r"\.?\s*\d{1,3}(?:, \d{1,3})+(?![\w.,]?\d)|\.?\s*\d{1,3}(?=\s*:)")
"""Numbers that mark terminals behind their name: several joined by commas ("Line 1, 3, 5"), or one before a colon."""


def name_spans(text: str) -> list[tuple[int, int]]:
    """Return the places of words that name terminals or screws, none of them part of a unit."""
    spans = [(m.start, m.end) for m in spot_roles(text)]
    spans += [(m.start, m.end) for m in spot("heading", text) if m.concept == "terminal"]
    spans += [(m.start, m.end) for m in spot("purpose", text)]
    spans += [m.span() for m in _MARKING.finditer(text)]
    units = find_units(text)
    kept = [span for span in spans if not any(u.start < span[1] and span[0] < u.end for u in units)]
    return sorted((start, _end_of_numbers(text, end, [unit.start for unit in units])) for start, end in kept)


def _end_of_numbers(text: str, end: int, units: list[int]) -> int:
    """Return where the numbers behind a name end, or the name itself; numbers before a unit are a quantity."""
    numbers = _NUMBERS.match(text, end)
    if numbers is None or any(not text[numbers.end() : start].strip() for start in units if start >= numbers.end()):
        return end
    return numbers.end()


def name_runs(text: str) -> list[tuple[int, int]]:
    """Return the places of names, those joined by a comma, a stroke or "and" as one."""
    runs: list[tuple[int, int]] = []
    for start, end in name_spans(text):
        if runs and _BETWEEN_NAMES.fullmatch(text[runs[-1][1] : start]):
            runs[-1] = (runs[-1][0], max(end, runs[-1][1]))
        elif not runs or start >= runs[-1][1]:
            runs.append((start, end))
    return runs


def names_said(text: str) -> str:
    """Return the names of a sentence without what stands between them, "" if it names nothing."""
    return " ".join(text[start:end] for start, end in name_runs(text)).strip()
