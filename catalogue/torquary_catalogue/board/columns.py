"""The columns of a board list: what each holds, and the headings it may stand under
(`columns.json`).
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from torquary_schema.vocabulary import keys
from torquary_schema.words import fold

UNUSED = "none"
"""What a heading means whose column is not used."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column of a board list. `allowed` are what its cells may hold; empty: any text."""

    key: str
    headings: tuple[str, ...]
    meaning: str
    example: str
    needed: bool
    allowed: tuple[str, ...]


@cache
def columns() -> Mapping[str, Column]:
    """Return the columns by key, in the order in which an empty list has them."""
    text = (files("torquary_catalogue.board") / "columns.json").read_text("utf-8")
    return {key: _read(key, entry) for key, entry in json.loads(text).items()}


def _read(key: str, entry: Mapping[str, Any]) -> Column:
    named = entry.get("vocabulary")
    allowed = (
        tuple(word.replace("_", " ") for word in keys(named)) if named else entry.get("allowed", ())
    )
    return Column(
        key=key,
        headings=tuple(entry["headings"]),
        meaning=entry["meaning"],
        example=entry["example"],
        needed=entry.get("needed", False),
        allowed=tuple(allowed),
    )


@cache
def _keys_by_heading() -> Mapping[str, str]:
    return {fold(heading): one.key for one in columns().values() for heading in one.headings}


def column_of(heading: str, explained: Mapping[str, str]) -> str | None:
    """Return the key of the column under a heading (`UNUSED`: not to be used), None for one that is not known.

    `explained` are headings that a person explained, folded → key; they go before ours.
    """
    folded = fold(heading)
    return explained.get(folded) or _keys_by_heading().get(folded)
