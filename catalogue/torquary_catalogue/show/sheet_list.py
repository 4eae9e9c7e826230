"""Sheets of the catalogue and decisions on record as lines of text."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from torquary_catalogue.show.sheets import write_finding
from torquary_catalogue.store.record import SHOWN_DIGITS, Made
from torquary_schema.values import Finding

_STATES = {"read": "in force", "superseded": "superseded", "withdrawn": "withdrawn", "refused": "not readable"}
_ID = 10
"""Signs of a reading's id that are shown: as many as of a sheet's."""


def write_sheets(rows: Sequence[Mapping[str, Any]]) -> list[str]:
    """Return the sheets (rows of `read_sheets`), two lines each: what it is, and what is in force of it."""
    lines = []
    for row in rows:
        lines += [f"{row['digest'][:SHOWN_DIGITS]}  {row['file']}: {write_state(row)}", f"    {_write_identity(row)}"]
        lines.append(f"    {_write_counts(row)}; last loaded {row['last_loaded']:%Y-%m-%d}")
    return lines


def sheet_to_dict(row: Mapping[str, Any]) -> dict[str, Any]:
    """Return a sheet for --json."""
    return {**row, "loaded_at": row["loaded_at"].isoformat(), "last_loaded": row["last_loaded"].isoformat()}


def write_sheet(row: Mapping[str, Any], made: Iterable[Made]) -> list[str]:
    """Return one sheet with its names, what was read where a person corrected it, and the decisions about it."""
    lines = write_sheets([row])
    lines += [f"    loaded as {one['folder']}/{one['file']}" for one in row["names"]]
    read = {name: was for name, was in (row["as_read"] or {}).items() if was != row[name]}
    corrected = ", ".join(f"{name.replace('_', ' ')} {was or 'not said'}" for name, was in read.items())
    lines += [f"    as read: {corrected}"] if corrected else []
    return lines + [f"    {line}" for line in write_decisions(made)]


def write_state(row: Mapping[str, Any]) -> str:
    """Return the state of a sheet, with the one that superseded it."""
    by = f" by {row['superseded_by_file']} ({row['superseded_by'][:SHOWN_DIGITS]})" if row["superseded_by_file"] else ""
    return f"{_STATES[row['state']]}{by}"


def _write_identity(row: Mapping[str, Any]) -> str:
    named = (
        ("maker", row["maker"]),
        ("title", row["title"]),
        ("number", row["document_number"]),
        ("edition", row["edition"]),
        ("date", row["edition_date"]),
    )
    return ", ".join(f"{name} {text or 'not said'}" for name, text in named)


def _write_counts(row: Mapping[str, Any]) -> str:
    if row["state"] in ("superseded", "withdrawn"):
        return f"{row['settings']} setting(s), out of force"
    if row["why_refused"] and not row["settings"]:
        return str(row["why_refused"])
    parts = [f"{row['released']} released", f"{row['held']} held"]
    parts += [f"{row['rejected']} rejected"] if row["rejected"] else []
    parts += [f"{row['added']} added by hand"] if row["added"] else []
    unread = f"; {row['why_refused']}" if row["why_refused"] else ""
    return f"{row['settings']} setting(s): {', '.join(parts)}{unread}"


def write_decisions(made: Iterable[Made]) -> list[str]:
    """Return decisions, a few lines each: who, when and about what; before, after and why; what took it back."""
    lines = []
    for one in made:
        about = f", reading {one.setting[:_ID]}" if one.setting else f", with {one.other_file}" if one.other else ""
        undoes = f" decision {one.undoes}" if one.undoes is not None else ""
        head = f"{one.number}  {one.decided_at:%Y-%m-%d %H:%M}  {one.who}: {one.kind}{undoes}, {one.file}{about}"
        lines += [head, f"    before: {one.before}", f"    after: {one.after}", f"    why: {one.why}"]
        lines += [f"    taken back by decision {one.undone_by}"] if one.undone_by is not None else []
    return lines


def write_found(findings: Iterable[Finding]) -> list[str]:
    """Return what follows from a decision, a line each."""
    return [f"  ! {write_finding(finding)}" for finding in findings]
