"""The finding codes: what each means, whether it holds a figure, and whether it tells of print left unread."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

__all__ = ["FindingCode", "codes", "holds", "leaves_unread", "meaning"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingCode:
    """One code of `finding_codes.json`: its key, whether it holds a setting, and its meaning.

    `unread` says that something was printed that may be a torque, and was not read.
    """

    key: str
    holds: bool
    unread: bool
    meaning: str


@cache
def codes() -> dict[str, FindingCode]:
    """Return all finding codes by key, in the order of the file."""
    text = (files("torquary_schema") / "finding_codes.json").read_text("utf-8")
    read: dict[str, dict[str, bool | str]] = json.loads(text)
    return {
        key: FindingCode(
            key=key,
            holds=entry["holds"] is True,
            unread=entry.get("unread") is True,
            meaning=str(entry["meaning"]),
        )
        for key, entry in read.items()
    }


def holds(code: str) -> bool:
    """Tell whether a finding with this code holds its setting; KeyError for an unknown code."""
    return codes()[code].holds


def leaves_unread(code: str) -> bool:
    """Tell whether the code says that print was left unread that may be a torque; KeyError for an unknown code."""
    return codes()[code].unread


def meaning(code: str) -> str:
    """Return what the code means, in one sentence; KeyError for an unknown code."""
    return codes()[code].meaning
