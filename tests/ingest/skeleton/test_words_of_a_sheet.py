"""How many words tell a language, a company or the language of a part: the last that do, the first that do not."""

from __future__ import annotations

import pytest

from torquary_ingest.skeleton.language_parts import language_named
from torquary_ingest.skeleton.languages import language_of
from torquary_ingest.skeleton.maker import find_maker, find_makers_told


@pytest.mark.parametrize(("text", "language"), [("und der die das für mit", "de"), ("und der die das für", "")])
def test_six_small_words_tell_a_language(text: str, language: str) -> None:
    assert language_of(text) == language


@pytest.mark.parametrize(("english", "language"), [(3, "de"), (4, "")])
def test_a_language_has_twice_the_small_words_of_the_next(english: int, language: str) -> None:
    other = ("the", "and", "of", "for")[:english]
    assert language_of(f"und der die das für mit {' '.join(other)}") == language


@pytest.mark.parametrize(("letters", "language"), [(20, "el"), (19, "")])
def test_twenty_letters_of_a_script_tell_its_language(letters: int, language: str) -> None:
    assert language_of("λ" * letters) == language


@pytest.mark.parametrize(("words", "language"), [(8, "de"), (9, "")])
def test_a_heading_of_a_language_part_has_eight_words_at_most(words: int, language: str) -> None:
    assert language_named(" ".join(["Deutsch", *["Wort"] * (words - 1)])) == language


@pytest.mark.parametrize(("words", "found"), [(6, True), (7, False)])
def test_the_name_of_a_company_has_six_words_at_most(words: int, *, found: bool) -> None:
    name = " ".join([*["Quarrow"] * (words - 1), "GmbH"])
    assert find_maker((), [name], ()) == (name if found else "")


@pytest.mark.parametrize(("letters", "told"), [(60, 1), (61, 0)])
def test_what_is_told_to_be_the_maker_is_a_name_and_no_text(letters: int, told: int) -> None:
    assert len(find_makers_told([f"Manufacturer: Quarrow {'x' * (letters - 8)}"], ())) == told
