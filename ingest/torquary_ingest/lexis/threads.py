"""Screw threads as printed: "M5", "M 3,5", "M6 x 16", "#10-32", "1/4-20 UNC"."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal

_METRIC = r"[MМΜ]\s?(?P<diameter>\d{1,2}(?:[.,]\d{1,2})?)(?![.,]?\d)(?:\s*[x×]\s*\d+(?:[.,]\d+)?)?(?![\w²³])"
"""A metric thread; its letter may be printed in Cyrillic or Greek."""
_UNIFIED = r"(?:UN[CF]|(?:#\d+|\d+/\d+)-\d+(?:\s*UN[CF])?)(?!\w)"
_IN_TEXT = re.compile(rf"(?<![\w.,])(?:{_METRIC}|{_UNIFIED})")
"""In running text a thread has a capital: "m 5" are metres."""
_METRIC_THREAD = re.compile(_METRIC, re.IGNORECASE)
_COUNT = re.compile(r"\d\s*[x×]\s*")
_THREAD = re.compile(rf"{_METRIC}|{_UNIFIED}", re.IGNORECASE)


def match_metric(text: str, start: int = 0) -> re.Match[str] | None:
    """Return the metric thread that begins at `start`, with its length if printed; None if there is none."""
    return _METRIC_THREAD.match(text, start)


def thread_spans(text: str) -> Iterator[tuple[int, int]]:
    """Yield where the threads of a running text stand, with their lengths if printed."""
    yield from (found.span() for found in _IN_TEXT.finditer(text))


def is_thread(text: str) -> bool:
    """Tell whether a text is a thread and nothing else."""
    return _THREAD.fullmatch(text.strip()) is not None


def is_counted_thread(text: str) -> bool:
    """Tell whether a text is how many screws of a thread there are: "4 × M5"."""
    count = _COUNT.match(text.strip())
    return count is not None and is_thread(text.strip()[count.end() :])


def begin_of_thread(text: str) -> str:
    """Return the metric thread that a text begins with, as printed; "" if it begins with none."""
    found = match_metric(text.lstrip())
    return found[0] if found else ""


def diameter_mm(text: str) -> Decimal | None:
    """Return the diameter in mm of the metric thread that a text begins with; None if it begins with none."""
    found = match_metric(text.lstrip())
    return Decimal(found["diameter"].replace(",", ".")) if found else None
