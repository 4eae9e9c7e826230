"""The finding codes: what each means, whether it holds a figure, and whether it tells of print left unread."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path

__all__ = ["WANTED", "WITNESSED", "FindingCode", "codes", "holds", "leaves_unread", "meaning", "wanted"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingCode:
    """One code of `finding_codes.json`: its key, whether it holds a setting, and its meaning.

    `unread` says that something was printed that may be a torque, and was not read. `wants` names what a person can
    give to settle it (a key of `WANTED`); "" where the print itself is in doubt.
    """

    key: str
    holds: bool
    unread: bool
    meaning: str
    wants: str = ""


WANTED = {
    "device": "which device",
    "terminal": "which terminal",
    "screw": "is the screw an electrical terminal's",
    "quantity": "is it a tightening torque",
    "unit": "which unit the torque is in",
    "size": "which unit the conductor sizes are in",
    "blank": "does the blank cell mean what was read",
    "condition": "are the figures right as read, with what else is printed there",
}
"""What a reading may lack → the question, in the order in which a person would ask."""

WITNESSED = "witnessed"
"""Code of the finding that the picture agrees: no reason to hold; its absence is told, not its presence."""


@cache
def codes() -> dict[str, FindingCode]:
    """Return all finding codes by key, in the order of the file."""
    text = Path(__file__).with_name("finding_codes.json").read_text("utf-8")
    read: dict[str, dict[str, bool | str]] = json.loads(text)
    return {
        key: FindingCode(
            key=key,
            holds=entry["holds"] is True,
            unread=entry.get("unread") is True,
            meaning=str(entry["meaning"]),
            wants=str(entry.get("wants", "")),
        )
        for key, entry in read.items()
    }


def holds(code: str) -> bool:
    """Tell whether a finding with this code holds its setting; KeyError for an unknown code."""
    return codes()[code].holds


def wanted(code: str) -> str:
    """Return what a person can give to settle a finding of this code, a key of `WANTED`; "" for nothing."""
    return codes()[code].wants if code in codes() else ""


def leaves_unread(code: str) -> bool:
    """Tell whether the code says that print was left unread that may be a torque; KeyError for an unknown code."""
    return codes()[code].unread


def meaning(code: str) -> str:
    """Return what the code means, in one sentence; KeyError for an unknown code."""
    return codes()[code].meaning
