"""Columns headed by a tripping characteristic hold types, and a Spanish gauge of a wire is a size and no current."""

from __future__ import annotations

from pathlib import Path

import pytest

from torquary_ingest.reader import read_sheet


@pytest.mark.parametrize("headings", ["B characteristic,C characteristic", "Charakteristik B,Charakteristik C"])
def test_types_stand_under_their_characteristic(tmp_path: Path, headings: str) -> None:
    sheet = tmp_path / "quay.csv"
    sheet.write_text(
        f"Device,{headings},Terminal,Cross-section mm²,Tightening torque N·m\n"
        "Miniature circuit-breaker,QB 16,QC 16,Line,1–16,2.0\n"
        "Miniature circuit-breaker,QB 32,QC 32,Line,1.5–25,2.5\n",
        "utf-8",
    )
    settings = read_sheet(sheet).settings
    assert [(one.state, one.device.model) for one in settings] == [
        ("released", "QB 16 / QC 16"), ("released", "QB 32 / QC 32"),
    ]  # fmt: skip


def test_the_gauge_of_a_wire_is_no_rated_current(tmp_path: Path) -> None:
    sheet = tmp_path / "muelle.csv"
    sheet.write_text(
        "Aparato;Borne;Calibre AWG;Par de apriete lb·in\nInterruptor termomagnético QT 20;Línea;14–6;22\n", "utf-8"
    )
    (one,) = read_sheet(sheet).settings
    assert (one.conductor.min_awg, one.conductor.max_awg, one.device.rated_current) == ("14", "6", None)
    assert one.device.family == "mcb"
