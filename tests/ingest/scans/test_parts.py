"""Straightening, rules, pieces and words of drawn pictures, without the recogniser."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from scanner import draw_sheet, scan

from torquary_ingest.scans.missed import count_missed
from torquary_ingest.scans.pieces import cut_pieces
from torquary_ingest.scans.rules import erase_rules, find_rules
from torquary_ingest.scans.straighten import find_slant, rotate
from torquary_ingest.scans.words import make_words, tidy
from torquary_ingest.witness.page_recogniser import SeenText


def picture(**how: float) -> NDArray[np.uint8]:
    return np.asarray(scan(draw_sheet(), noise=0, **how))  # type: ignore[arg-type]


@pytest.mark.parametrize("slant", [-4.0, -1.5, -0.3, 0.0, 0.7, 2.0, 4.5])
def test_the_slant_is_found_and_taken_out(slant: float) -> None:
    slanted = picture(slant=slant)
    assert find_slant(slanted) == pytest.approx(slant, abs=0.08)
    assert find_slant(rotate(slanted, find_slant(slanted))) == pytest.approx(0, abs=0.08)


def test_rules_are_found_and_taken_out() -> None:
    ink = np.where(picture() < 128, 255, 0).astype(np.uint8)
    rules, mask = find_rules(ink, 200 / 72)
    across = sorted(round(rule.at) for rule in rules if rule.horizontal)
    down = sorted(round(rule.at) for rule in rules if not rule.horizontal)
    assert across == [60, 80, 100, 120, 140]
    assert down == [30, 110, 220, 310]
    assert all(rule.end - rule.start == pytest.approx(280 if rule.horizontal else 80, abs=1.5) for rule in rules)
    assert find_rules(np.where(erase_rules(picture(), mask) < 128, 255, 0).astype(np.uint8), 200 / 72)[0] == []


def bar(grey: NDArray[np.uint8], x0: int, x1: int, y0: int = 20, y1: int = 34) -> None:
    grey[y0:y1, x0:x1] = 0


def test_pieces_part_at_wide_blanks_and_at_rules() -> None:
    grey = np.full((60, 400), 255, dtype=np.uint8)
    for start in (20, 30, 48, 120, 130):
        bar(grey, start, start + 6)
    box = (10, 12, 200, 42)
    assert [(p.x0, p.x1) for p in cut_pieces(grey, [box], [])] == [(20, 54), (120, 136)]
    assert [(p.x0, p.x1) for p in cut_pieces(grey, [box], [(42.0, 0.0, 60.0)])] == [(20, 36), (48, 54), (120, 136)]
    assert [p.dark_ground for p in cut_pieces(255 - grey, [box], [])] == [True, True]


def test_words_part_at_the_widest_blanks_and_raised_figures_are_marks() -> None:
    grey = np.full((60, 400), 255, dtype=np.uint8)
    for start in (20, 30, 44, 54):
        bar(grey, start, start + 6)
    bar(grey, 62, 65, 18, 25)
    [piece] = cut_pieces(grey, [(10, 10, 90, 44)], [])
    words = make_words([(piece, SeenText("L1 253", 0.97), "L1 258")], 1.0)
    assert [(w.text, [m.text for m in w.marks], round(w.box.x0)) for w in words] == [("L1", [], 20), ("25", ["3"], 44)]
    assert [(w.sure, w.also) for w in words] == [(0.97, ""), (0.97, "258")]
    assert {d.code for w in words for d in w.doubts} == {"scanned_figure"}


@pytest.mark.parametrize(
    ("seen", "meant"), [("22 Ib-in", "22 lb-in"), ("22 1b in", "22 lb in"), ("2，5", "2,5"), ("  a   b ", "a b")]
)
def test_habits_of_the_recogniser_are_undone(seen: str, meant: str) -> None:
    assert tidy(seen) == meant


def test_marks_of_letter_size_outside_what_was_read_are_counted() -> None:
    grey = np.full((120, 400), 255, dtype=np.uint8)
    for start in (20, 30, 44):
        bar(grey, start, start + 6)
    read = cut_pieces(grey, [(10, 10, 90, 44)], [])
    for start in (220, 230):
        bar(grey, start, start + 6, 80, 94)
    bar(grey, 300, 302, 80, 82)
    bar(grey, 340, 354, 20, 34)
    bar(grey, 320, 380, 60, 118)
    ink = np.where(grey < 128, 255, 0).astype(np.uint8)
    assert count_missed(ink, read) == 2
    assert count_missed(ink, [*read, *cut_pieces(grey, [(210, 70, 250, 104)], [])]) == 0
