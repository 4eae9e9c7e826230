"""Closed vocabularies: families, roles, clamps, drives, stranding, materials, purposes, states.

Each is a data file in `vocabulary/` with a definition and a standard for every key.
"""

from __future__ import annotations

import json
import re
import unicodedata
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Literal, get_args

__all__ = ["VOCABULARIES", "Entry", "VocabularyName", "define", "keys", "role_of_marking", "vocabulary"]

VocabularyName = Literal["family", "role", "clamp", "drive", "stranding", "material", "purpose", "condition", "state"]
VOCABULARIES: tuple[VocabularyName, ...] = get_args(VocabularyName)

_MINUS = str.maketrans({"−": "-", "–": "-", "‐": "-", "‑": "-"})
# EN 50005: the second digit of an auxiliary terminal tells its function.
_FUNCTIONS = {
    ("1", "2"): "aux_nc",
    ("3", "4"): "aux_no",
    ("5", "6"): "aux_nc_late",
    ("7", "8"): "aux_no_early",
}
_CHANGE_OVERS = {("1", "2", "4"): "aux_co", ("1", "4"): "aux_co", ("5", "6", "8"): "aux"}
_TRIP_SEQUENCE = "9"
_JOINTS = re.compile(r"\s*[,;&…、，]\s*|\s+(?:TO|AND|UND|BIS|À|ET|Y|E)\s+|\.{2,3}|\s+-\s+|\s+/\s+|\s+")
# Letters that also number the points of a block (A, B, C …): a role only where several stand together.
_LONE_LETTERS = frozenset("RSTUVW")


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One word of a vocabulary.

    `standard` names the published source, or "common practice" where there is none. `markings` are the
    printed terminal markings (roles), `sizes` the standard's sizes and `size_unit` how they count (drives),
    `conductor_class` the class of IEC 60228 (stranding), `wider` the keys that say less (roles).
    """

    key: str
    term: str
    definition: str
    standard: str
    markings: tuple[str, ...] = ()
    sizes: tuple[str, ...] = ()
    size_unit: str = ""
    conductor_class: int | None = None
    wider: tuple[str, ...] = ()


@cache
def vocabulary(name: VocabularyName) -> dict[str, Entry]:
    """Return a vocabulary by key; FileNotFoundError for an unknown name."""
    text = (files("torquary_schema") / "vocabulary" / f"{name}.json").read_text("utf-8")
    return {
        key: Entry(
            key=key,
            term=entry["term"],
            definition=entry["definition"],
            standard=entry["standard"],
            markings=tuple(entry.get("markings", ())),
            sizes=tuple(entry.get("sizes", ())),
            size_unit=entry.get("size_unit", ""),
            conductor_class=entry.get("conductor_class"),
            wider=tuple(entry.get("wider", ())),
        )
        for key, entry in json.loads(text)["entries"].items()
    }


def keys(name: VocabularyName) -> tuple[str, ...]:
    """Return the keys of a vocabulary in the order of its file."""
    return tuple(vocabulary(name))


def define(name: VocabularyName, key: str) -> str:
    """Return the definition of a key; KeyError for an unknown key."""
    return vocabulary(name)[key].definition


@cache
def _markings() -> dict[str, str]:
    return {
        marking: entry.key for entry in vocabulary("role").values() if entry.key != "main" for marking in entry.markings
    }


def role_of_marking(printed_label: str) -> str | None:
    """Return the role that the printed markings stand for, or None when they say nothing or disagree.

    "L1, L2, L3" → line, "1/L1" → line_in, "A1-A2" → coil, "13-14" → aux_no (EN 50005), "95/96" →
    trip_signal. Plain one-digit markings such as "1" or "2" tell no role: every block counts its points.
    """
    label = unicodedata.normalize("NFKC", printed_label).translate(_MINUS).strip().upper()
    known = _markings()
    parts = [label] if label in known else _split(label, known)
    if len(parts) == 1 and parts[0] in _LONE_LETTERS:
        return None
    if len(parts) > 1 and all(re.fullmatch(r"\d{2,3}", part) for part in parts):
        return _auxiliary(parts)
    roles = {known.get(part) for part in parts}
    return roles.pop() if len(roles) == 1 else None


def _split(label: str, known: dict[str, str]) -> list[str]:
    """Part a label into markings: "L1-L3", "1/L1 - 5/L3", "L1/L2/L3", "13-14"; "L+" stays whole."""
    found: list[str] = []
    for piece in _JOINTS.split(label):
        if piece in known:
            found.append(piece)
            continue
        for part in piece.split("-"):
            found += [part] if part in known else part.split("/")
    return [part for part in found if part]


def _auxiliary(parts: list[str]) -> str | None:
    """Tell the kind of auxiliary contact from markings of two or three digits, by EN 50005."""
    sequences, functions = {part[:-1] for part in parts}, tuple(part[-1] for part in parts)
    if sequences == {_TRIP_SEQUENCE}:
        return "trip_signal"
    if len(sequences) == 1 and functions in _CHANGE_OVERS:
        return _CHANGE_OVERS[functions]
    pairs = list(zip(parts[::2], parts[1::2], strict=False))
    if len(parts) % 2 or any(first[:-1] != second[:-1] for first, second in pairs):
        return None
    kinds = {_FUNCTIONS.get((first[-1], second[-1])) for first, second in pairs}
    if None in kinds:
        return None
    return kinds.pop() if len(kinds) == 1 else "aux"
