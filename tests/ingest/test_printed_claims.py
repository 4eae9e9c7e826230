"""Figures, sizes and units testify wherever they are printed: sentences, captions, ditto marks, earlier pages."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

import pytest
from reportlab.lib.pagesizes import A4
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest import testify
from torquary_ingest.document import Doubt, Rule
from torquary_ingest.reader import read_sheet
from torquary_ingest.witness import Claim, Witness
from torquary_ingest.witness import Testimony as Answer
from torquary_schema.values import Setting

Draw = Callable[[Canvas], None]


def table(canvas: Canvas, rows: Sequence[Sequence[str]], y: float = 640.0) -> None:
    canvas.setFont("Helvetica", 9)
    for at, row in enumerate(rows):
        for column, text in enumerate(row):
            left, low = 60 + 110 * column, y - 18 * at
            canvas.rect(left, low, 110, 18, stroke=1, fill=0)
            canvas.drawString(left + 4, low + 5, text)


def line(canvas: Canvas, text: str, y: float, x: float = 60.0, size: float = 9.0) -> None:
    canvas.setFont("Helvetica", size)
    canvas.drawString(x, y, text)


def read(folder: Path, draw: Draw) -> tuple[Setting, ...]:
    path = folder / "sheet.pdf"
    canvas = Canvas(str(path), pagesize=A4)
    line(canvas, "Miniature circuit-breaker QX7, maker Quolbeck", 790, size=12)
    draw(canvas)
    canvas.save()
    return read_sheet(path).settings


def codes(setting: Setting) -> set[str]:
    return {finding.code for finding in setting.findings}


@pytest.fixture
def claimed(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The texts that the witness was asked about."""
    seen: list[str] = []
    ask = Witness.check

    def check(self: Witness, page: int, claims: Sequence[Claim], rules: Sequence[Rule] = ()) -> tuple[Answer, ...]:
        seen.extend(claim.text for claim in claims)
        return ask(self, page, claims, rules)

    monkeypatch.setattr(testify.Witness, "check", check)
    return seen


ROWS = (
    ("Terminal", "Conductor mm²", "Tightening torque"),
    ("Line terminals", "1.5–6", "2.5"),
    ("Load terminals", "10–16", "3.5"),
)


def caption(canvas: Canvas) -> None:
    line(canvas, "All tightening torques in N·m", 670)
    table(canvas, ROWS)


def test_a_unit_in_the_caption_is_asked_about(tmp_path: Path, claimed: list[str]) -> None:
    settings = read(tmp_path, caption)
    assert [setting.state for setting in settings] == ["released", "released"]
    assert all("witnessed" in codes(setting) for setting in settings)
    assert {"N·m", "mm²", "2.5", "3.5", "1.5–6", "10–16"} <= set(claimed)


def test_a_unit_in_the_caption_that_the_picture_contradicts_holds_the_figures(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = Doubt(code="text_differs_from_picture", message="the text layer says 'N·m', the picture reads 'cN·m'")
    ask = Witness.check

    def check(self: Witness, page: int, claims: Sequence[Claim], rules: Sequence[Rule] = ()) -> tuple[Answer, ...]:
        honest = ask(self, page, claims, rules)
        lie = Answer(agrees=False, doubts=(other,))
        return tuple(lie if claim.text == "N·m" else told for claim, told in zip(claims, honest, strict=True))

    monkeypatch.setattr(testify.Witness, "check", check)
    settings = read(tmp_path, caption)
    assert [setting.state for setting in settings] == ["held", "held"]
    assert all("text_differs_from_picture" in codes(setting) for setting in settings)


def test_the_figures_of_a_sentence_are_asked_about(tmp_path: Path, claimed: list[str]) -> None:
    settings = read(
        tmp_path, lambda c: line(c, "Tighten the line terminals to 2.0 – 2.5 N·m for conductors of 6 mm².", 700)
    )
    assert [setting.state for setting in settings] == ["released"]
    assert "witnessed" in codes(settings[0])
    said = " ".join(claimed)
    assert all(part in said for part in ("2.0", "–", "2.5", "N·m", "6", "mm²"))
    assert "Tighten" not in said


def test_a_ditto_mark_and_the_figure_that_it_repeats_are_asked_about(tmp_path: Path, claimed: list[str]) -> None:
    rows = (
        ("Terminal", "Conductor mm²", "Torque N·m"),
        ("Line terminals", "1.5–6", "2.5"),
        ("Load terminals", "1.5–6", '"'),
    )
    settings = read(tmp_path, lambda c: table(c, rows))
    assert [setting.state for setting in settings] == ["released", "released"]
    assert '"' in claimed


def test_a_unit_stated_on_an_earlier_page_is_asked_about_there(tmp_path: Path, claimed: list[str]) -> None:
    def draw(canvas: Canvas) -> None:
        table(
            canvas,
            (("Terminal", "Conductor mm²", "Torque N·m"), *(("Line terminals", f"{n}", "2.5") for n in (4, 6))),
            100,
        )
        canvas.showPage()
        table(canvas, [("Load terminals", "10", "3.5"), ("Load terminals", "16", "3.5")], 780)

    settings = read(tmp_path, draw)
    assert len(settings) == 4
    assert all(setting.state == "released" and "witnessed" in codes(setting) for setting in settings)
    assert claimed.count("N·m") == 1
