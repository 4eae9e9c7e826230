"""Sheets photographed from a little aside, in uneven light, on a table."""

from __future__ import annotations

from pathlib import Path

import cv2
import numpy as np
import pytest
from PIL import Image
from scanner import FIGURES, draw_sheet, save, scan

from torquary_ingest.reader import read_sheet
from torquary_ingest.scans.flatten import flatten


def photograph(sheet: Image.Image, tilt: float) -> Image.Image:
    """Lay the sheet on a dark table, seen from aside: `tilt` is the share by which the far side is shorter."""
    grey = np.asarray(sheet.convert("L"))
    high, wide = grey.shape
    margin = round(0.08 * wide)
    corners = [(0, 0), (wide, 0), (wide, high), (0, high)]
    shorter = tilt * wide / 2
    seen = [(shorter, 0.3 * shorter), (wide - shorter, 0), (wide, high), (0.2 * shorter, high - 0.2 * shorter)]
    moved = np.array([(x + margin, y + margin) for x, y in seen], np.float32)
    matrix = cv2.getPerspectiveTransform(np.array(corners, np.float32), moved)
    size = (wide + 2 * margin, high + 2 * margin)
    shown = cv2.warpPerspective(grey, matrix, size, flags=cv2.INTER_CUBIC, borderValue=70).astype(np.float64)
    light = np.linspace(0.7, 1.0, size[0])[None, :] * np.linspace(1.0, 0.9, size[1])[:, None]
    return Image.fromarray((shown * light).clip(0, 255).astype(np.uint8))


@pytest.mark.parametrize("tilt", [0.04, 0.1])
def test_figures_of_a_tilted_sheet_are_proposed_right(tmp_path: Path, tilt: float) -> None:
    path = save(tmp_path / "sheet.png", photograph(scan(draw_sheet(), dpi=300), tilt), dpi=300)
    report = read_sheet(path)
    assert [(s.terminal.printed, s.torque.printed) for s in report.settings if s.torque] == FIGURES
    assert {setting.state for setting in report.settings} == {"held"}
    assert any("set square" in finding.message for finding in report.findings)


def test_a_plain_scan_and_a_steep_view_are_left_as_they_are() -> None:
    sheet = scan(draw_sheet())
    assert flatten(np.asarray(sheet)) is None
    assert flatten(np.asarray(photograph(sheet, 0.6))) is None
