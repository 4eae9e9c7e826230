"""Signs set in the faces Symbol and ZapfDingbats, which every viewer has: their codes are no letters."""

from __future__ import annotations

import sys
from pathlib import Path

from reportlab.pdfgen.canvas import Canvas

sys.path.insert(0, str(Path(__file__).parent))
from drawn_sheets import HEADS, Write, codes, draw, settle


def signed(face: str, sign: str, figure: str) -> Write:
    """Write a sign of a face by its code, and a figure behind it."""

    def write(canvas: Canvas, x: float, y: float) -> None:
        canvas.setFont(face, 9)
        canvas.drawString(x, y, sign)
        canvas.setFont("Helvetica", 9)
        canvas.drawString(x + 9, y, figure)

    return write


def test_limits_set_in_the_symbol_face_limit_one_side(tmp_path: Path) -> None:
    path = tmp_path / "limits.pdf"
    rows = [("1", "4", signed("Symbol", "≤", "1.8")), ("2", "4", signed("Symbol", "≥", "1.5")), ("PE", "10", "2")]
    draw(path, [HEADS, *rows]).save()
    torques = {label: one.torque for label, one in settle(path).items() if one.torque}
    found = {label: (one.min_nm, one.max_nm, one.limit_nm) for label, one in torques.items()}
    assert {label: tuple(None if v is None else str(v) for v in three) for label, three in found.items()} == {
        "1": (None, None, "1.8"),
        "2": ("1.5", None, None),
        "PE": ("2", "2", None),
    }
    assert {one.state for one in settle(path).values()} == {"released"}


def test_an_arrow_of_the_symbol_face_in_place_of_a_torque_is_held(tmp_path: Path) -> None:
    path = tmp_path / "arrow.pdf"
    draw(path, [HEADS, ("1", "4", "1.2"), ("2", "4", signed("Symbol", "→", "")), ("PE", "10", "2")], ruled=False).save()
    assert "ditto_doubtful" in codes(path)["2"]


def test_a_tick_of_the_dingbats_face_is_no_figure(tmp_path: Path) -> None:
    path = tmp_path / "tick.pdf"
    draw(path, [HEADS, ("1", "4", "1.2"), ("2", "4", signed("ZapfDingbats", "4", "")), ("PE", "10", "2")]).save()
    assert not [one for one in settle(path).values() if one.torque and one.torque.printed.strip() == "4"]
