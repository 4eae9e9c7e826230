"""Reports of sheets as lines of text."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from torquary_catalogue.show.figures import write_figures
from torquary_catalogue.show.visible import put_on_one_line
from torquary_schema.places import name_table
from torquary_schema.values import Finding, Place, Setting, SheetReport


def write_report(report: SheetReport) -> list[str]:
    """Return a sheet's settings and findings, one line each."""
    held = sum(setting.state == "held" for setting in report.settings)
    if report.state == "refused":
        head = f"{report.file}: refused"
    else:
        head = f"{report.file}: {len(report.settings) - held} released, {held} held"
    lines = [head, *(f"  ! {write_finding(finding)}" for finding in report.findings)]
    for setting in report.settings:
        lines.append(f"  {_write_setting(setting)}")
        if setting.state == "held":
            lines += [f"    held: {finding.message}" for finding in setting.findings]
    return lines


def _write_setting(setting: Setting) -> str:
    torque = setting.torque
    figures = (torque.min_nm, torque.nominal_nm, torque.max_nm, torque.limit_nm) if torque else (None,) * 4
    parts = (
        write_place(setting.place),
        setting.device.printed,
        setting.terminal.printed,
        setting.conductor.printed,
        f"“{torque.printed}”" if torque else "no torque",
        write_figures(figures) if setting.state == "released" else setting.state,
    )
    return " | ".join(put_on_one_line(part) for part in parts if part)


def write_place(place: Place) -> str:
    """Return page, table and row as "p. 1 t. 2 r. 3"."""
    return _write_numbers(place.page, place.table, place.row, ("p.", "t.", "r."))


def write_row_place(row: Mapping[str, Any]) -> str:
    """Return where a row of held_setting is printed: "page 1 table 2 row 3"."""
    return _write_numbers(row["page"], row["table_number"], row["row_number"], ("page", "table", "row"))


def write_list_place(row: Mapping[str, Any]) -> str:
    """Return the list that a row of held_setting stands in: "page 1 table 2"."""
    return _write_numbers(row["page"], row["table_number"], None, ("page", "table", "row"))


def _write_numbers(page: int | None, table: int | None, row: int | None, words: tuple[str, str, str]) -> str:
    parts = (
        f"{words[0]} {page}" if page is not None else "",
        name_table(table, words[1]) if table is not None else "",
        f"{words[2]} {row}" if row is not None else "",
    )
    return " ".join(part for part in parts if part)


def write_finding(finding: Finding) -> str:
    """Return the place and message of a finding, with its code."""
    where = write_place(finding.place) if finding.place else ""
    return f"{where + ': ' if where else ''}{finding.message} [{finding.code}]"
