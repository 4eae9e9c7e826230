"""What people type, and what is understood by it."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.find import read_question
from torquary_catalogue.find.size import find_sizes
from torquary_catalogue.store import Catalogue


@pytest.mark.parametrize(
    ("typed", "mm2", "awg", "count"),
    [
        ("10 mm2", "10", None, None),
        ("10mm²", "10", None, None),
        ("2,5 mm^2", "2.5", None, None),
        ("2.5 sq mm", "2.5", None, None),
        ("2x1.5mm2", "1.5", None, 2),
        ("AWG 8", None, "8", None),
        ("8 AWG", None, "8", None),
        ("#8", None, "8", None),
        ("AWG 1/0", None, "1/0", None),
        ("000 AWG", None, "3/0", None),
        ("250 kcmil", None, "250 kcmil", None),
        ("250 MCM", None, "250 kcmil", None),
        ("10mm", "10", None, None),
        ("25 mm", "25", None, None),
        ("10sq", "10", None, None),
        ("16 carré", "16", None, None),
        ("2x6mm", "6", None, 2),
    ],
)
def test_sizes_as_people_type_them(typed: str, mm2: str | None, awg: str | None, count: int | None) -> None:
    (size,) = find_sizes(typed)
    assert (size.mm2, size.awg, size.count) == (mm2 and Decimal(mm2), awg, count)
    assert (size.start, size.end) == (0, len(typed))


@pytest.mark.parametrize("typed", ["10", "M5", "AWG", "C16", "5/0 AWG", "10 mm2x", "AWG 77", "1.5 A"])
def test_what_is_no_size_is_not_taken_for_one(typed: str) -> None:
    assert find_sizes(typed) == ()


@pytest.mark.parametrize("typed", [f"{9:9<30} mm2", "0 mm2", "0.00000000001 mm2", "10001 mm2"])
def test_a_size_that_no_conductor_has_is_refused(catalogue: Catalogue, typed: str) -> None:
    for words, options in ((typed, {}), ("mcb", {"conductor": typed})):
        with pytest.raises(TorquaryError, match="is no size of a conductor") as caught:
            read_question(catalogue, words, **options)
        assert caught.value.status == WRONG_USE


@pytest.mark.parametrize(
    ("typed", "understood"),
    [
        ("mcb 10mm2 outgoing", {"family": "mcb", "roles": ("load_out",), "terminal": "outgoing", "mm2": Decimal(10)}),
        ("Leitungsschutzschalter Abgang", {"family": "mcb", "roles": ("load_out",), "terminal": "abgang"}),
        ("BK-16 copper", {"words": "bk16", "material": "copper"}),
        ("rccb L1", {"family": "rccb", "roles": ("line",), "terminal": "l1"}),
        ("mcb 2x2.5mm2", {"family": "mcb", "mm2": Decimal("2.5"), "conductors": 2}),
        ("Nordkai", {"words": "nordkai"}),
        ("line side neutral", {"roles": ("line_in", "neutral"), "terminal": "line side neutral"}),
        ("rccb L1 load", {"family": "rccb", "roles": ("line", "load_out"), "terminal": "load l1"}),
        ("Abgang N", {"roles": ("load_out", "neutral"), "terminal": "abgang n"}),
        (
            "line neutral",
            {"roles": ("line_in", "neutral"), "or_roles": ("line", "neutral"), "terminal": "line neutral"},
        ),
        ("neutral earth", {"roles": ("neutral",), "terminal": "neutral", "words": "earth"}),
    ],
)
def test_words_become_parts_of_the_question(catalogue: Catalogue, typed: str, understood: dict[str, Any]) -> None:
    assert read_question(catalogue, typed).parts() == understood


def test_an_option_wins_over_a_word_of_its_kind(catalogue: Catalogue) -> None:
    question = read_question(catalogue, "mcb outgoing", terminal="neutral", family="RCBO")
    assert (question.family, question.roles, question.terminal) == ("rcbo", ("neutral",), "neutral")


def test_a_label_that_is_no_known_word_is_looked_for_as_printed(catalogue: Catalogue) -> None:
    question = read_question(catalogue, "", terminal="Klemme X7")
    assert question.roles is None
    assert question.terminal == "klemme x7"


@pytest.mark.parametrize(
    ("typed", "roles", "label"),
    [("Load side N", ("load_out", "neutral"), "load side n"), ("load X7", None, "load x7")],
)
def test_a_typed_terminal_has_the_roles_that_all_of_its_words_name(
    catalogue: Catalogue, typed: str, roles: tuple[str, ...] | None, label: str
) -> None:
    question = read_question(catalogue, "", terminal=typed)
    assert (question.roles, question.terminal) == (roles, label)


@pytest.mark.parametrize(
    ("words", "options", "says"),
    [
        ("", {}, "nothing was asked"),
        ("10mm2 AWG 8", {}, "two conductor sizes"),
        ("mcb 10mm2", {"conductor": "16 mm2"}, "give one"),
        ("mcb", {"conductor": "ten"}, "no conductor size"),
        ("mcb", {"conductor": "10 mm2 or so"}, "no conductor size"),
        ("mcb", {"material": "wood"}, "aluminium, copper"),
        ("mcb", {"maker": " - "}, "holds no word"),
    ],
)
def test_wrong_use_is_told_in_one_line(catalogue: Catalogue, words: str, options: dict[str, str], says: str) -> None:
    with pytest.raises(TorquaryError, match=says) as caught:
        read_question(catalogue, words, **options)
    assert caught.value.status == WRONG_USE
    assert "\n" not in caught.value.message


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.text(max_size=40))
def test_any_text_is_a_question_or_wrong_use(catalogue: Catalogue, typed: str) -> None:
    try:
        understood = bool(read_question(catalogue, typed).parts())
    except TorquaryError as error:
        understood = error.status == WRONG_USE
    assert understood


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.text(max_size=30).map(str.lower) | st.text(alphabet="aB9-_ ./é", max_size=12))
def test_plain_letters_fold_here_as_in_the_catalogue(catalogue: Catalogue, typed: str) -> None:
    from torquary_catalogue.find.words import fold

    (row,) = catalogue.rows("SELECT fold_text(?) AS folded", [typed.encode("ascii", "ignore").decode()])
    assert " ".join(fold(catalogue, typed.encode("ascii", "ignore").decode())) == row["folded"]


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.text(max_size=30) | st.text(alphabet="aB9-_ ./éß", max_size=12))
def test_a_question_folds_as_the_catalogue_does(catalogue: Catalogue, typed: str) -> None:
    [row] = catalogue.rows("SELECT fold_asked([?, NULL]) AS asked, fold_each([?, NULL]) AS kept", [typed, typed])
    assert row["asked"] == row["kept"]


def test_the_longest_known_phrases_are_understood_as_one(catalogue: Catalogue) -> None:
    """What is known is a phrase of so many words at most, and none of them is left over."""
    phrases = [row["spelling"] for row in catalogue.rows("SELECT DISTINCT spelling FROM known_word", {})]
    most = max(len(phrase.split()) for phrase in phrases)
    longest = [phrase for phrase in phrases if len(phrase.split()) == most]
    assert [phrase for phrase in longest if read_question(catalogue, phrase).parts().get("words")] == []


@pytest.mark.parametrize(("letters", "joined"), [("WXYZ", True), ("WXYZQ", False)])
def test_four_letters_before_a_figure_may_be_a_type_nobody_has_loaded(
    catalogue: Catalogue, letters: str, *, joined: bool
) -> None:
    said = str(read_question(catalogue, f"{letters} 63").parts().get("words"))
    assert (f"{letters}63".lower() in said) is joined


@pytest.mark.parametrize("typed", ["0.001 mm2", "10000 mm2"])
def test_the_smallest_and_largest_sizes_that_can_be_asked(catalogue: Catalogue, typed: str) -> None:
    assert str(read_question(catalogue, typed).mm2) in typed
