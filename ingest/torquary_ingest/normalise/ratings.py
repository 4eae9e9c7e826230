"""The rated current that a line over a list gives its devices: "Ratings 25 to 63 A"."""

from __future__ import annotations

import re
from collections.abc import Iterable

from torquary_schema.values import ScopeText

_OVER = ("section_row", "caption", "list_heading", "section")
_CURRENT = re.compile(r"\d+(?:[.,]\d+)?(?:\s*(?:[-–—…/,;&]|\b\w{1,3}\b)\s*\d+(?:[.,]\d+)?)*\s*A(?!\w|\s*/)")
"""Figures, with signs or small words between them, and the ampere."""


def rating_over(scope: Iterable[ScopeText], device: str) -> str | None:
    """Return the current in the nearest line over a list that gives one; None for none, or where `device` has it."""
    lines = (one.text for one in scope if one.kind in _OVER)
    found = next((match[0] for line in lines if (match := _CURRENT.search(line)) is not None), None)
    return found if found is not None and found not in device else None
