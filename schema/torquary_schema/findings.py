"""The finding codes: what each means, and whether it keeps a figure from being released."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

__all__ = ["FindingCode", "codes", "holds", "meaning"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingCode:
    """One code of `finding_codes.json`: its key, whether it holds a setting, and its meaning."""

    key: str
    holds: bool
    meaning: str


@cache
def codes() -> dict[str, FindingCode]:
    """Return all finding codes by key, in the order of the file."""
    text = (files("torquary_schema") / "finding_codes.json").read_text("utf-8")
    read: dict[str, dict[str, bool | str]] = json.loads(text)
    return {
        key: FindingCode(key=key, holds=entry["holds"] is True, meaning=str(entry["meaning"]))
        for key, entry in read.items()
    }


def holds(code: str) -> bool:
    """Tell whether a finding with this code holds its setting; KeyError for an unknown code."""
    return codes()[code].holds


def meaning(code: str) -> str:
    """Return what the code means, in one sentence; KeyError for an unknown code."""
    return codes()[code].meaning
