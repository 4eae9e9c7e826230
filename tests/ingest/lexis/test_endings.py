"""Case endings that hang on a figure: what they say of it, and that a text keeps its length."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from torquary_ingest.clauses.quantities import find_figures, find_sizes
from torquary_ingest.figures import read_conductor, read_torque
from torquary_ingest.lexis.endings import spell_endings


@pytest.mark.parametrize(
    ("text", "least", "most"),
    [
        ("1,5 mm²-től 4 mm²-ig", "1.5", "4"), ("0,5 mm²:stä 2,5 mm²:iin", "0.5", "2.5"),
        ("1,5 mm²'den 4 mm²'ye kadar", "1.5", "4"), ("0.5mm²에서 2.5mm²까지", "0.5", "2.5"),
        ("0.5mm²から2.5mm²まで", "0.5", "2.5"), ("4 mm²-ig", None, "4"), ("2.5mm²まで", None, "2.5"),
        ("4 mm²-es", "4", "4"), ("de la 1,5 până la 4 mm²", "1.5", "4"), ("cel mult 4 mm²", None, "4"),
    ],
)  # fmt: skip
def test_endings_make_ranges_and_bounds(text: str, least: str | None, most: str | None) -> None:
    (size,) = read_conductor(text).conductors
    assert (size.min_mm2, size.max_mm2) == (least and Decimal(least), most and Decimal(most))


@pytest.mark.parametrize("text", ["2,5 Nm-rel", "2,5 Nm:iin", "2,5 Nm'ye", "2.5 Nm’dir"])
def test_other_endings_leave_the_figure(text: str) -> None:
    (figure,) = read_torque(text).figures
    assert figure.torque.nominal_nm == Decimal("2.5")


def test_a_lower_end_alone_is_not_read() -> None:
    assert spell_endings("1,2 Nm-től") == "1,2 Nm-től"
    assert read_torque("1,2 Nm-től").doubts


def test_no_ending_is_seen_in_a_word_or_a_type() -> None:
    for text in ("kapcsok-ra", "VK-te", "12-teilig", "10-tes Feld", "Nm-es-hez"):
        assert spell_endings(text).replace(" ", "")[:2] == text[:2]
    assert spell_endings("12-teilig") == "12-teilig"


def test_what_is_printed_stays_in_the_span() -> None:
    text = "nyomaték 1,2 Nm-től 1,5 Nm-ig"
    (figure,) = find_figures(text)
    assert text[figure.start : figure.end] == "1,2 Nm-től 1,5 Nm-ig"


@pytest.mark.parametrize(("text", "printed"), [("ねじを2.5 N·mで締める", "2.5 N·m"), ("拧紧至2.5 N·m", "2.5 N·m")])
def test_a_figure_stands_at_letters_that_need_no_blank(text: str, printed: str) -> None:
    (figure,) = find_figures(text)
    assert text[figure.start : figure.end] == printed


def test_a_word_that_stands_within_ranges_bounds_a_size_alone() -> None:
    text = "Klemmen A1, A2: bis 4 mm²"
    (size,) = find_sizes(text)
    assert text[size.start : size.end] == "bis 4 mm²"


@given(st.text(alphabet="0123 ,.mN²-:'’igtőlrekadbenから까지Nm", max_size=30))
def test_a_text_keeps_its_length(text: str) -> None:
    assert len(spell_endings(text)) == len(text)
