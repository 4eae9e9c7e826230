"""What a figure is not named by: the sheet's own type where its item tells of another. Sheets are our own."""

from __future__ import annotations

from pathlib import Path

from torquary_ingest.reader import read_sheet
from torquary_schema.values import Setting


def settings_of(path: Path, text: str) -> list[Setting]:
    path.write_text(text, encoding="utf-8")
    return list(read_sheet(path).settings)


def released(path: Path, text: str) -> dict[str, str]:
    return {one.torque.printed: one.terminal.printed for one in settings_of(path, text) if one.state == "released"}


def test_a_note_about_a_sister_is_not_for_the_sheet_s_own_type(tmp_path: Path) -> None:
    page = (
        "<h1>BQ-275 battery isolator</h1><p>Input stud IN: 14 N·m, ring lug up to 95 mm².</p>"
        "<p>BQ-500 has the same layout. Its input stud is M12: 28 N·m, ring lug up to 120 mm².</p>"
    )
    devices = {one.torque.printed: one.device.printed for one in settings_of(tmp_path / "t.html", page)}
    assert "BQ-500" in devices["28 N·m"]
    assert "BQ-275" not in devices["28 N·m"]
    assert "BQ-500" not in devices["14 N·m"]
