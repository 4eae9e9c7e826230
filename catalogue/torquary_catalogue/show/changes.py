"""Changes from one edition to the next as lines of text, and as a mapping."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from torquary_catalogue.changes import KINDS, Change, Changes, Kind
from torquary_catalogue.show.figures import write_figures
from torquary_catalogue.show.sheets import write_row_place
from torquary_catalogue.show.visible import put_on_one_line
from torquary_catalogue.store.compared import Printed

_SAID: dict[Kind, str] = {"otherwise": "printed otherwise", "same": "the same"}
_NAMED = ("device_printed", "terminal_printed", "conductor_printed")
_PLACE = ("page", "table_number", "row_number")
_FIGURES = ("min_nm", "nominal_nm", "max_nm", "limit_nm")


def write_changes(changes: Changes, sheets: Mapping[str, Mapping[str, Any]]) -> list[str]:
    """Return what changed, a line each; `sheets` are rows of `read_sheet` by digest. What is the same is counted."""
    head = " → ".join(_name(sheets[digest]) for digest in (changes.old, changes.new))
    counts = ", ".join(f"{changes.count(kind)} {_SAID.get(kind, kind)}" for kind in KINDS if changes.count(kind))
    lines = [f"{head}: {counts or 'no rows'}"]
    return lines + [f"  {_write_row(row)}" for row in changes.rows if row.kind != "same"]


def _name(sheet: Mapping[str, Any]) -> str:
    edition = sheet["edition"] or sheet["edition_date"]
    return f"{sheet['file']} ({edition})" if edition else str(sheet["file"])


def _write_row(row: Change) -> str:
    one = row.new or row.old
    assert one is not None
    told = [_write_side(side) for side in (row.old, row.new) if side is not None]
    return f"{_SAID.get(row.kind, row.kind)}: {_write_names(one)}: {' → '.join(told)}{_write_other_names(row)}"


def _write_names(one: Printed) -> str:
    return " | ".join(put_on_one_line(getattr(one, name)) for name in _NAMED if getattr(one, name))


def _write_other_names(row: Change) -> str:
    if row.old is None or row.new is None or _write_names(row.old) == _write_names(row.new):
        return ""
    return f"; before for {_write_names(row.old)}"


def _write_side(one: Printed) -> str:
    figure = write_figures((one.figures[0], one.figures[1], one.figures[2], one.figures[3])) or "no figure"
    state = "" if one.state == "released" else f"{one.state}, "
    decided = f", decided by {one.decided_by}" if one.decided_by else ""
    printed = f", printed “{put_on_one_line(one.torque_printed)}”" if one.torque_printed else ""
    return f"{state}{figure} ({write_row_place({name: getattr(one, name) for name in _PLACE})}{printed}{decided})"


def changes_to_dict(changes: Changes, sheets: Mapping[str, Mapping[str, Any]]) -> dict[str, Any]:
    """Return what changed for --json; torques in N·m."""
    named = ("digest", "file", "edition", "edition_date")
    return {
        "old": {name: sheets[changes.old][name] for name in named},
        "new": {name: sheets[changes.new][name] for name in named},
        "counts": {kind: changes.count(kind) for kind in KINDS},
        "rows": [
            {"kind": row.kind, "old": _side_to_dict(row.old), "new": _side_to_dict(row.new)} for row in changes.rows
        ],
    }


def _side_to_dict(one: Printed | None) -> dict[str, Any] | None:
    if one is None:
        return None
    names = ("id", "state", *_NAMED, "torque_printed", *_PLACE)
    return {name: getattr(one, name) for name in names} | dict(zip(_FIGURES, one.figures, strict=True))
