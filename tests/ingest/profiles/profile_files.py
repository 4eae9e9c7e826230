"""Profiles and sheets of an invented maker, written as text."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from torquary_ingest.profiles import Profile, read_profile
from torquary_ingest.reader import read_sheet
from torquary_schema.values import Setting, SheetReport

HEAD = "Quillhaven Schaltgeräte\nReihe QS\n"
MZ = ("Mz.", "torque", "N·m")


def profile(folder: Path, *headings: tuple[str, ...], maker: str = "Quillhaven", name: str = "mz.json") -> Profile:
    """A profile of these headings (printed, means, unit), read from its file."""
    return read_profile(write(folder, *headings, maker=maker, name=name))


def write(folder: Path, *headings: tuple[str, ...], maker: str = "Quillhaven", name: str = "mz.json") -> Path:
    items = [dict(zip(("printed", "means", "unit"), heading, strict=False)) for heading in headings]
    return write_json(folder, {"torquary_profile": 1, "maker": maker, "headings": items}, name)


def write_json(folder: Path, record: Any, name: str = "mz.json") -> Path:
    path = folder / name
    path.write_text(json.dumps(record, ensure_ascii=False), "utf-8")
    return path


def read(folder: Path, text: str, *profiles: Profile, name: str = "sheet.csv") -> SheetReport:
    path = folder / name
    path.write_text(text, "utf-8")
    return read_sheet(path, profiles=profiles)


def released(report: SheetReport) -> list[tuple[str, str, str]]:
    """Terminal, conductor and torque of the released settings, as printed, and the maximum in N·m."""
    return [
        (one.terminal.printed, one.conductor.printed, f"{one.torque.max_nm:f}")
        for one in report.settings
        if one.state == "released" and one.torque is not None
    ]


def reasons(report: SheetReport) -> list[set[str]]:
    """The finding codes of each held setting."""
    return [codes(one) for one in report.settings if one.state == "held"]


def held_for(report: SheetReport, code: str) -> bool:
    """Tell whether settings are held, and each of them for this reason."""
    return bool(reasons(report)) and all(code in found for found in reasons(report))


def codes(one: Setting | SheetReport) -> set[str]:
    return {finding.code for finding in one.findings}
