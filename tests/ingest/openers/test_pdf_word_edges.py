"""How near glyphs stand in one word, and how small or high a sign is that hangs on it: the last that do, the first
that do not. All is drawn in 20 points, so that a hundredth of the size is a fifth of a point."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

import pytest
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.document import Page
from torquary_ingest.openers.pdf import PdfOpener
from torquary_ingest.plugins import OpenWish

SIZE = 20.0


@pytest.fixture
def set_two(tmp_path: Path) -> Callable[..., Page]:
    """Draws two texts, the second so many sizes behind the first and above its line, at a share of its size."""

    def draw(first: str, second: str, gap: float, *, rise: float = 0.0, share: float = 1.0) -> Page:
        stream = io.BytesIO()
        canvas = Canvas(stream, pagesize=(595, 842), invariant=True)
        canvas.setFont("Helvetica", SIZE)
        canvas.drawString(100, 700, first)
        canvas.setFont("Helvetica", SIZE * share)
        canvas.drawString(100 + stringWidth(first, "Helvetica", SIZE) + gap * SIZE, 700 + rise * SIZE, second)
        canvas.showPage()
        canvas.save()
        (tmp_path / "drawn.pdf").write_bytes(stream.getvalue())
        return PdfOpener().open(tmp_path / "drawn.pdf", OpenWish(every_page=True)).pages[0]

    return draw


def said(page: Page) -> list[tuple[str, list[str]]]:
    return [(word.text, [doubt.code for doubt in word.doubts]) for word in page.words]


@pytest.mark.parametrize(
    ("gap", "words"),
    [
        (0.055, [("25", [])]),
        (0.065, [("25", ["number_broken"])]),  # two cells' figures, or one number
        (0.165, [("25", ["number_broken"])]),
        (0.175, [("2", []), ("5", [])]),
        (-0.29, [("25", [])]),
        (-0.31, [("2", ["text_overprinted"]), ("5", ["text_overprinted"])]),  # no kerning pulls back so far
    ],
)
def test_figures_drawn_apart_are_joined_doubted_or_parted(
    set_two: Callable[..., Page], gap: float, words: list[tuple[str, list[str]]]
) -> None:
    assert said(set_two("2", "5", gap)) == words


@pytest.mark.parametrize(("gap", "count"), [(0.165, 1), (0.175, 2), (-0.29, 1), (-0.31, 2)])
def test_letters_drawn_apart_are_a_word_within_a_narrow_blank(
    set_two: Callable[..., Page], gap: float, count: int
) -> None:
    assert len(set_two("Mai", "n", gap).words) == count


def marks(page: Page) -> dict[str, list[str]]:
    return {word.text: [mark.text for mark in word.marks] for word in page.words}


@pytest.mark.parametrize(("share", "hangs"), [(0.77, True), (0.79, False)])
def test_a_small_sign_hangs_a_little_apart_where_a_large_one_does_not(
    set_two: Callable[..., Page], share: float, *, hangs: bool
) -> None:
    page = set_two("Torque", "1", 0.2, rise=0.35, share=share)
    assert marks(page) == ({"Torque": ["1"]} if hangs else {"Torque": [], "1": []})


@pytest.mark.parametrize(("rise", "hangs"), [(0.125, True), (0.115, False)])
def test_a_sign_of_full_size_hangs_where_it_is_raised(
    set_two: Callable[..., Page], rise: float, *, hangs: bool
) -> None:
    page = set_two("2.5", "1", 0.05, rise=rise)
    assert marks(page) == ({"2.5": ["1"]} if hangs else {"2.5": [], "1": []})
