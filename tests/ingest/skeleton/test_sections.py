"""Sections with levels over all pages, and which of them a place stands in."""

from __future__ import annotations

import pytest
from set_pages import page, sheet

from torquary_ingest.document import Document, HeadingLine
from torquary_ingest.skeleton import Skeleton, make_skeleton
from torquary_ingest.skeleton.headings import depth_of
from torquary_ingest.skeleton.languages import language_of
from torquary_schema.values import Box

BODY = [(f"ordinary words of the sheet in a line of its own, number {n}", 9.0, 600.0 + 14 * n) for n in range(9)]


def skeleton(document: Document) -> Skeleton:
    return make_skeleton(document, ())


def chain(made: Skeleton, number: int, top: float) -> list[tuple[int, str]]:
    return [(section.level, section.heading) for section in made.sections_over(number, top)]


def test_larger_and_bold_headings_are_further_out() -> None:
    first = page(("Main switch MS 80", 18, 60), ("Connection", 12, 120), ("*Main terminals", 9, 200), *BODY)
    second = page(("*Auxiliary terminals", 9, 60), ("Storage", 12, 300), *BODY, number=2)
    made = skeleton(sheet(first, second))
    over = [(1, "Main switch MS 80"), (2, "Connection")]
    assert chain(made, 1, 250) == [*over, (3, "Main terminals")]
    assert chain(made, 2, 20) == [*over, (3, "Main terminals")], "a list goes on under the heading of the page before"
    assert chain(made, 2, 100) == [*over, (3, "Auxiliary terminals")]
    assert chain(made, 2, 400) == [(1, "Main switch MS 80"), (2, "Storage")]
    assert chain(made, 1, 50) == []


def test_of_one_style_numbers_give_the_level() -> None:
    lines = [("1 Safety", 12, 60), ("2 Wiring", 12, 120), ("2.1 Mains", 12, 180), ("2.1.1 Screws", 12, 240)]
    made = skeleton(sheet(page(*lines, ("2.2 Motor", 12, 300), ("Annex", 12, 360), *BODY)))
    assert chain(made, 1, 270) == [(1, "2 Wiring"), (2, "2.1 Mains"), (3, "2.1.1 Screws")]
    assert chain(made, 1, 330) == [(1, "2 Wiring"), (2, "2.2 Motor")]
    assert chain(made, 1, 400) == [(1, "Annex")]


def test_a_heading_of_a_page_that_was_only_glimpsed_heads_the_next() -> None:
    seen = HeadingLine(
        page=2, text="3 Contactor XC-18", size=14, bold=False, box=Box(x0=50, top=700, x1=200, bottom=714)
    )
    pages = page(("Manual", 20, 60), *BODY), page(*BODY, number=3)
    document = sheet(*pages)
    made = make_skeleton(Document(file="x", kind="pdf", pages=pages, page_count=3, glimpsed=(seen,)), ())
    assert chain(made, 3, 40) == [(1, "Manual"), (2, "3 Contactor XC-18")]
    assert chain(skeleton(document), 3, 40) == [(1, "Manual")]


def test_a_heading_that_names_a_device_may_give_its_rated_current() -> None:
    body = [(f"Ordinary words of the sheet in a line, number {n}", 9.0, 300.0 + 14 * n) for n in range(12)]
    first, second = ("*Счётчик ЭТ-3 прямого включения 5(80) А", 14, 60), ("*Счётчик ЭТ-4Т, 5 А", 14, 60)
    other = page(("*Предел 5 А", 14, 60), *body, number=3)
    made = skeleton(sheet(page(first, *body), page(second, *body, number=2), other))
    assert [section.heading for section in made.sections] == [first[0].lstrip("*"), second[0].lstrip("*")]


def test_lists_of_contents_running_lines_and_sentences_head_nothing() -> None:
    contents = [(f"{n}.1 Part number {n} ...... {n + 3}", 12, 60.0 + 20 * n) for n in range(1, 9)]
    running = ("Main switch MS 80", 12, 30)
    pages = [page(running, *contents), page(running, ("Read this whole page first.", 12, 80), *BODY, number=2)]
    assert skeleton(sheet(*pages, page(running, *BODY, number=3))).sections == ()


@pytest.mark.parametrize(
    ("text", "depth"),
    [("3.2.1 Wiring", 3), ("3 Wiring", 1), ("3. Wiring", 1), ("2.5 N·m for all", 0), ("Wiring", 0), ("24 V DC", 0)],
)
def test_how_deep_a_number_is(text: str, depth: int) -> None:
    assert depth_of(text) == depth


@pytest.mark.parametrize(
    ("text", "language"),
    [
        ("Tighten the screws of the terminals and do not open the cover for the first year on site.", "en"),
        ("Die Schrauben der Klemmen sind mit dem Schlüssel anzuziehen und nicht zu lösen, für die Dauer.", "de"),
        ("Serrez les vis des bornes avec une clé et ne pas ouvrir le capot, pour les travaux sur place.", "fr"),
        ("端子ねじを締め付けるときは、カバーを開けないでください。", "ja"),
        ("Винтовете на клемите се затягат с ключ и не са за други цели, при монтаж на уреда.", "bg"),
        ("Винты клемм затягивать ключом и не отпускать, при монтаже и для работы в щите.", "ru"),
        ("Гвинти клем та з'єднань не відпускати, при монтажі та для роботи в щиті, що має захист.", "uk"),
        ("Csak az a csavar húzható meg, amely a kapocs és az ház között van, és nem kell hogy laza legyen.", "hu"),
        ("L1 L2 L3 2.5 N·m 1.5 mm² Ω", ""),
    ],
)
def test_the_language_of_a_page(text: str, language: str) -> None:
    assert language_of(text) == language
