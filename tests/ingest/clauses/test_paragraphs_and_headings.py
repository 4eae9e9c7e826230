"""How near, how large and how long lines are to be one paragraph, or to head what follows: the last that are, the
first that are not. The text is set in 10 points."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from torquary_ingest.clauses.items import Item, set_items
from torquary_ingest.document import Page, Word
from torquary_ingest.document.lines import set_lines
from torquary_schema.values import Box

TIGHTEN = "Tighten the screws of the main terminals with a torque"
Text = tuple[str, float] | tuple[str, float, float] | tuple[str, float, float, float]


def items(*texts: Text) -> list[Item]:
    """Set texts (text, top, left, size); one that begins with "*" is bold, letters are half as wide as the size."""
    words = []
    for text, top, *rest in texts:
        x, size = (*rest, *(50.0, 10.0)[len(rest) :])
        for part in text.lstrip("*").split():
            box = Box(x0=x, top=top, x1=x + size / 2 * len(part), bottom=top + size)
            words.append(Word(text=part, box=box, size=size, baseline=top + 0.8 * size, bold=text.startswith("*")))
            x = box.x1 + size / 3
    return set_items([set_lines(Page(number=1, width=600.0, height=800.0, words=tuple(words)))])


def count(*texts: Text) -> int:
    return len(items(*texts))


def heads(found: Sequence[Item]) -> list[str]:
    return [one.text for one in found[-1].over]


@pytest.mark.parametrize(("white", "paragraphs"), [(7.9, 1), (8.1, 2)])
def test_the_lines_of_a_paragraph_stand_less_than_a_line_apart(white: float, paragraphs: int) -> None:
    assert count((TIGHTEN, 100.0), ("of 2.5 N·m.", 110.0 + white)) == paragraphs


@pytest.mark.parametrize(("size", "paragraphs"), [(9.5, 1), (9.3, 2)])
def test_the_lines_of_a_paragraph_are_of_one_size(size: float, paragraphs: int) -> None:
    assert count((TIGHTEN, 100.0), ("of 2.5 N·m.", 112.0, 50.0, size)) == paragraphs


@pytest.mark.parametrize(("indent", "paragraphs"), [(29.0, 1), (31.0, 2)])
def test_a_line_of_a_paragraph_is_hardly_indented(indent: float, paragraphs: int) -> None:
    assert count((TIGHTEN, 100.0), ("of 2.5 N·m.", 112.0, 50.0 + indent)) == paragraphs


@pytest.mark.parametrize(("words", "paragraphs"), [(4, 2), (5, 1)])
def test_a_few_bold_words_over_plain_text_are_a_name(words: int, paragraphs: int) -> None:
    name = " ".join(("Screws", "of", "the", "main", "terminals")[:words])
    assert count((f"*{name}", 100.0), ("are tightened with a wrench", 112.0)) == paragraphs


@pytest.mark.parametrize(("letters", "paragraphs"), [(12, 1), (13, 2)])
def test_a_line_that_ends_long_before_the_margin_ends_its_item(letters: int, paragraphs: int) -> None:
    """50 points are more than 0.85 of 58.3 (eleven letters and a blank), and less of 63.3."""
    assert count(("Terminalss", 100.0), (f"A {'x' * (letters - 2)}", 112.0)) == paragraphs


@pytest.mark.parametrize(("left", "own"), [(54.0, 2), (56.0, 1)])
def test_a_bullet_further_in_goes_on_with_the_one_over_it(left: float, own: int) -> None:
    assert count(("• Tighten the main terminals", 100.0), ("– with a torque of 2.5 N·m", 112.0, left)) == own


@pytest.mark.parametrize(("gap", "own"), [(79.0, 1), (81.0, 2)])
def test_a_marker_stands_within_eight_sizes_of_its_text(gap: float, own: int) -> None:
    assert count(("•", 100.0), ("Tighten the main terminals", 100.0, 55.0 + gap)) == own


@pytest.mark.parametrize(("off", "own"), [(1.4, 1), (1.6, 2)])
def test_a_figure_is_of_the_text_on_its_line(off: float, own: int) -> None:
    assert count(("Main terminals", 100.0), ("2.5 N·m", 100.0 + off, 300.0)) == own


BODY = ("Tighten the screws with the torque that is printed here: 2.5 N·m.", 200.0)


@pytest.mark.parametrize(("size", "left"), [(10.5, 1), (10.3, 0)])
def test_larger_type_heads_all_that_follows(size: float, left: int) -> None:
    """What is set as the text is heads the next paragraphs alone, down to a wide blank."""
    assert len(heads(items(("Main terminals", 100.0, 50.0, size), BODY))) == left


@pytest.mark.parametrize(("white", "left"), [(24.0, 1), (26.0, 0)])
def test_a_plain_heading_speaks_as_far_as_a_wide_blank(white: float, left: int) -> None:
    assert len(heads(items(("Main terminals", 190.0 - white), BODY))) == left


def first_words(count: int) -> str:
    """So many words of a heading."""
    text = "Main terminals of the device and its parts within boxes of larger boards"
    return " ".join(text.split()[:count])


@pytest.mark.parametrize(("words", "left"), [(8, 1), (9, 0)])
def test_a_plain_heading_has_eight_words_at_most(words: int, left: int) -> None:
    assert len(heads(items((first_words(words), 175.0), BODY))) == left


@pytest.mark.parametrize(("words", "left"), [(12, 1), (13, 0)])
def test_a_heading_has_twelve_words_at_most(words: int, left: int) -> None:
    more = ("Use a wrench that was tested and found good within the last twelve months.", 240.0)
    assert len(heads(items((first_words(words), 175.0, 50.0, 12.0), more, BODY))) == left


@pytest.mark.parametrize(("text", "left"), [("Important note", []), ("Most important note", ["Most important note"])])
def test_two_words_for_a_note_head_nothing(text: str, left: list[str]) -> None:
    assert heads(items((text, 170.0, 50.0, 12.0), BODY)) == left
