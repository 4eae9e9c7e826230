"""Closed vocabularies: families, roles, clamps, drives, stranding, materials, purposes, states.

Each is a data file in `vocabulary/` with a definition and a standard for every key.
"""

from __future__ import annotations

import json
import re
import unicodedata
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal, get_args

__all__ = ["SIDES", "VOCABULARIES", "Entry", "VocabularyName", "define", "keys", "roles_of_markings", "vocabulary"]

VocabularyName = Literal["family", "role", "clamp", "drive", "stranding", "material", "purpose", "condition", "state"]
VOCABULARIES: tuple[VocabularyName, ...] = get_args(VocabularyName)

SIDES = frozenset({"line_in", "load_out"})
"""Roles that tell the side of a device; the others tell the conductor or the circuit."""

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
_JOINTS = re.compile(r"\s*[,;&…、，]\s*|\s+(?:TO|AND|UND|BIS|À|ET|Y|E)\s+|\.{2,3}|\s+/\s+|\s+")
_SPACED_HYPHEN = re.compile(r"\s+-\s+")
_NUMBER = re.compile(r"\d{2,3}")
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
    text = (Path(__file__).parent / "vocabulary" / f"{name}.json").read_text("utf-8")
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


def roles_of_markings(printed_label: str) -> tuple[str, ...]:
    """Return the roles that the printed markings stand for, in their order; () when any of them says nothing.

    "L1, L2, L3" → line, "L1, N" → line and neutral, "1/L1" → line_in, "A1-A2" → coil, "13-14" → aux_no
    (EN 50005), "95/96" → trip_signal. Plain one-digit markings such as "1" or "2" tell no role: every block counts
    its points. A hyphen joins markings of one role: "L-N" is a voltage between two.
    """
    label = unicodedata.normalize("NFKC", printed_label).translate(_MINUS).strip().upper()
    known = _markings()
    parts = [label] if label in known else _split(_SPACED_HYPHEN.sub("-", label), known)
    if len(parts) == 1 and parts[0] in _LONE_LETTERS:
        return ()
    numbers = [part for part in parts if _NUMBER.fullmatch(part)]
    functions = _auxiliary(numbers) if numbers else ()
    named = [known.get(part, "") for part in parts if part not in numbers]
    if "" in named or bool(numbers) > bool(functions):
        return ()
    return tuple(dict.fromkeys((*named, *functions)))


def _split(label: str, known: dict[str, str]) -> list[str]:
    """Part a label into markings: "L1-L3", "1/L1 - 5/L3", "L1/L2/L3", "13-14"; "L+" stays whole, and so does "L-N"."""
    found: list[str] = []
    for piece in _JOINTS.split(label):
        whole = piece in known
        parts = [piece] if whole else [one for part in piece.split("-") for one in _part_strokes(part, known)]
        one_role = "-" not in piece or len({known.get(part) for part in parts}) == 1
        found += parts if whole or one_role else [piece]
    return [part for part in found if part]


def _part_strokes(piece: str, known: dict[str, str]) -> list[str]:
    return [piece] if piece in known else piece.split("/")


def _auxiliary(parts: list[str]) -> tuple[str, ...]:
    """Tell the kinds of auxiliary contacts from markings of two or three digits, by EN 50005."""
    sequences, functions = {part[:-1] for part in parts}, tuple(part[-1] for part in parts)
    if sequences == {_TRIP_SEQUENCE} and set(functions) <= set("12345678"):  # "90" is a size
        return ("trip_signal",)
    if len(sequences) == 1 and functions in _CHANGE_OVERS:
        return (_CHANGE_OVERS[functions],)
    pairs = list(zip(parts[::2], parts[1::2], strict=False))
    if len(parts) % 2 or any(first[:-1] != second[:-1] for first, second in pairs):
        return ()
    kinds = [_FUNCTIONS.get((first[-1], second[-1]), "") for first, second in pairs]
    return () if "" in kinds else tuple(dict.fromkeys(kinds))
