"""What held readings lack that a person can give, and what stands over them that answers are bound to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from torquary_schema.file_kinds import MAY_BE_DELIMITED, WEB_PAGES, WORKBOOKS, has_ending
from torquary_schema.findings import WITNESSED, codes, holds, wanted
from torquary_schema.words import fold

WITHOUT_PAGES = (*MAY_BE_DELIMITED, *WORKBOOKS, *WEB_PAGES)
"""Endings of files that have no picture to compare a figure with."""
_SEEN = (WITNESSED, "released_unwitnessed")
_HEADINGS = ("heading", "row", "cell", "clause")
"""Kinds of scope that name the property a torque stands under, in this order of preference."""


def lacks(reasons: Iterable[str], missing: Sequence[Mapping[str, Any]]) -> frozenset[str]:
    """Return what a reading with these finding codes and missing proofs lacks: keys of `WANTED`."""
    fields = {wanted(code) for code in reasons if holds_back(code)} | {one["field"] for one in missing}
    return frozenset(field for field in fields if field)


def lacks_nothing_else(reasons: Iterable[str], file: str) -> bool:
    """Tell whether nothing holds a reading but what a person can give: all else was looked at and is well.

    A figure of a printed page must have been compared with its picture.
    """
    found = set(reasons)
    seen = has_ending(file, WITHOUT_PAGES) or any(code in found for code in _SEEN)
    return seen and all(wanted(code) for code in found if holds_back(code))


def holds_back(code: str) -> bool:
    """Tell whether a finding holds; one whose code this version does not know did, as far as we can tell."""
    return code not in codes() or holds(code)


def property_of(scope: Sequence[Mapping[str, Any]] | None) -> str:
    """Return the name that a torque stands under, folded: its heading, else its row's or cell's text."""
    texts = {one["kind"]: one["text"] for one in reversed(scope or ())}
    return next((fold(texts[kind]) for kind in _HEADINGS if kind in texts), "")


def section_of(scope: Sequence[Mapping[str, Any]] | None) -> str:
    """Return the heading that a reading stands under, nearest first; "" for none."""
    kinds = ("section_row", "list_heading", "caption", "section")
    return next((one["text"] for one in scope or () if one["kind"] in kinds), "")
