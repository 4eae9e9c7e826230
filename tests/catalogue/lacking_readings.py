"""Readings by hand that lack what a person can give, and a catalogue of them asked by its commands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from click.testing import CliRunner, Result
from sheets_by_hand import mm2, report, setting, torque

from torquary_catalogue.command import main
from torquary_catalogue.store import open_catalogue
from torquary_catalogue.store.insert import load_report
from torquary_catalogue.store.words import refresh_words
from torquary_schema.values import Box, Device, Finding, Missing, Place, ScopeText, Setting, Terminal

LACKING = {
    name: Finding(code=f"{name}_missing", message=f"nothing printed says which {name} this is for")
    for name in ("device", "terminal", "screw", "unit")
}
SEEN = Finding(code="witnessed", message="the picture of the page agrees")
SIZES = ("1", "2"), ("4", "6"), ("10", "16"), ("25", "35")


def lacking(row: int, *fields: str, findings: Sequence[Finding] = (), **parts: Any) -> Setting:
    """A reading of row `row` that lacks these fields."""
    place = Place(page=1, table=1, row=row, column=3, box=Box(x0=72, top=20.0 * row, x1=90, bottom=20.0 * row + 9))
    given: dict[str, Any] = {
        "state": "held", "place": replace(place, text=f"row {row}"), "conductor": mm2(*SIZES[row % 4]),
        "torque": torque("2.5", "2.5", "2.5"),
        "findings": (*(LACKING[name] for name in fields), SEEN, *findings),
        "missing": tuple(Missing(field=name, looked="Mz.") for name in fields if name != "unit"),
        "scope": (ScopeText(kind="heading", text="Tightening torque N·m"),),
    }  # fmt: skip
    if "device" in fields:
        given["device"] = Device()
    if "terminal" in fields:
        given["terminal"] = Terminal()
    return setting(f"row-{row}", **{**given, **parts})


def put(path: Path, *settings: Setting, **parts: Any) -> Path:
    with open_catalogue(path, writing=True) as catalogue:
        refresh_words(catalogue)
        load_report(catalogue, report(*settings, **parts), again=True, reader=1)
    return path


def run(catalogue: Path, *arguments: str) -> Result:
    silent = arguments[0] in ("held", "find") or "--from" in arguments
    said = () if silent else ("--who", "Ines", "--why", "seen")
    return CliRunner().invoke(main, [*arguments, *said, "--catalogue", str(catalogue)], catch_exceptions=False)


def states(path: Path) -> dict[str, str]:
    with open_catalogue(path) as catalogue:
        return {row["id"]: row["state"] for row in catalogue.rows("SELECT id, state FROM setting ORDER BY number")}
