"""Sheets of one file name: which of them is in force, by what they say of themselves or a person says of them."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.editions import is_later
from torquary_schema.findings import codes
from torquary_schema.values import Finding
from torquary_schema.words import fold

_SHEETS = """
SELECT digest, file, title, maker, edition, coalesce(f.head, []) AS head FROM sheet
LEFT JOIN sheet_face AS f ON f.sheet = digest
WHERE digest = $digest OR (state = 'read' AND file = (SELECT file FROM sheet WHERE digest = $digest))
ORDER BY loaded_at, digest"""

_PUT_OUT = """
UPDATE sheet SET state = 'superseded', superseded_by = $by, superseded_why = $why WHERE digest = $digest"""
_PUT_OUT_SETTINGS = """
UPDATE setting SET state = 'superseded', min_nm = NULL, nominal_nm = NULL, max_nm = NULL, limit_nm = NULL
WHERE sheet = $digest"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """What a sheet says of itself; `head` are the lines at its head."""

    digest: str
    file: str
    title: str
    maker: str
    edition: str
    head: tuple[str, ...]

    def replaces(self, other: Named) -> bool:
        """Tell whether this shows itself to be a later edition of the other.

        The title is the same, and names a type (a figure in it) or another line of the head is on both: "Technical
        data, edition 4" of one maker does not replace edition 3 of another.
        """
        if not fold(self.title) or fold(self.title) != fold(other.title) or _contradict(self.maker, other.maker):
            return False
        shared = {fold(line) for line in self.head} & {fold(line) for line in other.head}
        speaks = any(sign.isdigit() for sign in self.title) or bool(shared - {fold(self.title)})
        return speaks and is_later(self.edition, other.edition)


def _contradict(one: str, other: str) -> bool:
    return bool(one and other) and fold(one) != fold(other)


@dataclass(frozen=True, slots=True)
class Names:
    """What became of a sheet among those of its file name: digests that it replaced, and what is to be said."""

    replaced: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()


def settle_names(catalogue: Catalogue, digest: str, *, replace: bool, beside: Collection[str]) -> Names:
    """Put what a sheet replaces out of force, or the sheet itself where a later edition of it is in force.

    With `replace` it takes the place of all others of its file name but those `beside`: a person says so.
    """
    this, others = _read_named(catalogue, digest)
    later = next((one for one in others if one.replaces(this)), None)
    if later is not None and not replace:
        _put_out(catalogue, digest, later.digest, "edition")
        return Names(findings=(_describe_later(later),))
    said = [one for one in others if replace and one.digest not in beside]
    shown = [one for one in others if one not in said and this.replaces(one)]
    for why, put_out in (("person", said), ("edition", shown)):
        for one in put_out:
            _put_out(catalogue, one.digest, digest, why)
    left = [one for one in others if one not in said and one not in shown]
    findings = (_describe_shared(this, left),) if left else ()
    return Names(replaced=tuple(one.digest for one in (*said, *shown)), findings=findings)


def why_out_of_force(catalogue: Catalogue, digest: str) -> Finding | None:
    """Return what keeps a sheet of the catalogue out of force; None for one that is in force or may come back."""
    rows = catalogue.rows(
        """SELECT s.state, s.superseded_why, other.title, other.loaded_at FROM sheet AS s
        LEFT JOIN sheet AS other ON other.digest = s.superseded_by WHERE s.digest = ?""",
        [digest],
    )
    if not rows or rows[0]["state"] != "superseded":
        return None
    if rows[0]["superseded_why"] == "person":
        return _describe_person(rows[0])
    this, others = _read_named(catalogue, digest)
    later = next((one for one in others if one.replaces(this)), None)
    return _describe_later(later) if later else None


@dataclass(frozen=True, slots=True)
class Standing:
    """Whether a sheet of the catalogue is in force, and the version of what read it (0: not known).

    `finding` says what keeps it from coming back.
    """

    in_force: bool
    reader: int
    finding: Finding | None = None


def read_standing(catalogue: Catalogue) -> dict[str, Standing]:
    """Return the standing of every sheet that could be read, by digest."""
    rows = catalogue.rows(
        "SELECT digest, state = 'read' AS in_force, coalesce(reader, 0) AS reader FROM sheet WHERE state <> 'refused'"
    )
    return {
        row["digest"]: Standing(
            in_force=row["in_force"],
            reader=row["reader"],
            finding=None if row["in_force"] else why_out_of_force(catalogue, row["digest"]),
        )
        for row in rows
    }


def _read_named(catalogue: Catalogue, digest: str) -> tuple[Named, list[Named]]:
    rows = catalogue.rows(_SHEETS, {"digest": digest})
    named = [Named(**{**row, "head": tuple(row["head"])}) for row in rows]
    (this,) = [one for one in named if one.digest == digest]
    return this, [one for one in named if one is not this]


def _put_out(catalogue: Catalogue, digest: str, by: str, why: str) -> None:
    catalogue.connection.execute(_PUT_OUT, {"digest": digest, "by": by, "why": why})
    catalogue.connection.execute(_PUT_OUT_SETTINGS, {"digest": digest})


def _describe_later(later: Named) -> Finding:
    return _remark("sheet_out_of_force", f"not in force: {later.edition} of it, {later.file}, is in the catalogue")


def _describe_person(row: dict[str, Any]) -> Finding:
    message = (
        f"not in force: “{row['title']}” of the same file name was put in its place with --replace on "
        f"{row['loaded_at']:%Y-%m-%d}; to take it back, load this one with --replace"
    )
    return _remark("sheet_out_of_force", message)


def _describe_shared(this: Named, left: list[Named]) -> Finding:
    names = ", ".join(" ".join(part for part in (f"“{one.title}”", one.edition) if part) for one in left)
    message = (
        f"{len(left) + 1} sheets are named {this.file} and all are in force (this one is “{this.title}”, beside it "
        f"{names}): rename the file, or, if it takes the place of the other, load it with --replace"
    )
    return _remark("sheet_name_shared", message)


def _remark(code: str, message: str) -> Finding:
    assert code in codes()
    return Finding(code=code, message=message, scope="sheet")
