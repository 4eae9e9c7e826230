"""Asking in words by the macros of the file: they take words as `torquary find` does, and give the rows it looks at.

Some questions of the bank and some questions at random; all of the bank with TORQUARY_BANK=all.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import duckdb
import pytest
from pocket_questions import make_questions
from question_bank import questions, sheets

from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.find import Answer, Row, find, read_question
from torquary_catalogue.load import load_sheets
from torquary_catalogue.store import Catalogue, open_catalogue

FITTING = ("size", "unasked", "unsized")


@pytest.fixture(scope="module")
def catalogue(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Catalogue]:
    path = Path(tmp_path_factory.mktemp("words")) / "bank.duckdb"
    load_sheets(path, sheets())
    with open_catalogue(path) as opened:
        yield opened


@pytest.fixture(scope="module")
def asked(catalogue: Catalogue) -> list[str]:
    step = 1 if os.environ.get("TORQUARY_BANK") == "all" else 24
    return [*(one["words"] for one in questions()[::step]), *make_questions(catalogue, 12, 4)]


def call(catalogue: Catalogue, macro: str, words: str) -> list[dict[str, Any]]:
    return catalogue.rows(f"FROM {macro}('{words.replace(chr(39), chr(39) * 2)}')")


def take_by_macro(catalogue: Catalogue, words: str) -> dict[str, Any] | None:
    """Return the arguments that the words mean, None where they are refused."""
    try:
        (taken,) = call(catalogue, "understand_words", words)
    except duckdb.InvalidInputException:
        return None
    return {name: value for name, value in taken.items() if value is not None and name != "asks_bit"}


def take_by_find(catalogue: Catalogue, words: str) -> dict[str, Any] | None:
    try:
        parts = read_question(catalogue, words).parts()
    except TorquaryError:
        return None
    if "amps" in parts:
        parts["amps"] = float(parts["amps"])
    return {name: list(value) if isinstance(value, tuple) else value for name, value in parts.items()}


def test_words_are_taken_as_find_takes_them(catalogue: Catalogue, asked: list[str]) -> None:
    taken = [(words, take_by_macro(catalogue, words), take_by_find(catalogue, words)) for words in asked]
    assert [one for one in taken if one[1] != one[2]] == []


def shown_by_find(answer: Answer) -> list[tuple[str, str]]:
    return [(row.sheet, row.id) for row in (*answer.rows, *(answer.held if answer.kind != "held" else ()))]


def test_the_rows_are_those_of_find(catalogue: Catalogue, asked: list[str]) -> None:
    answered = 0
    for words in asked:
        if take_by_find(catalogue, words) is None:
            continue
        answer = find(catalogue, read_question(catalogue, words))
        rows = call(catalogue, "find_words", words)
        fitting = [(row["sheet"], row["id"]) for row in rows if row["fit"] in FITTING]
        if answer.kind in ("one", "agree", "differ", "held"):
            answered += 1
            # find gives released rows first, then held ones, each in the order of the macro.
            assert sorted(fitting) == sorted(shown_by_find(answer)), words
            assert [figures(row) for row in rows if row["state"] == "released" and row["fit"] in FITTING] == [
                figures(vars_of(row)) for row in answer.rows if row.state == "released"
            ], words
        else:
            assert not [row for row in rows if row["fit"] in FITTING], words
            assert {*shown_by_find(answer)} <= {(row["sheet"], row["id"]) for row in rows}, words
    assert answered > len(asked) // 5


def figures(row: dict[str, Any]) -> tuple[Any, ...]:
    return tuple(row[f"{name}_nm"] for name in ("min", "nominal", "max", "limit"))


def vars_of(row: Row) -> dict[str, Any]:
    return {name: getattr(row, name) for name in Row.__slots__}


def test_a_word_of_nothing_gives_a_row_only_beside_a_type_and_its_terminal(catalogue: Catalogue) -> None:
    assert call(catalogue, "find_words", "gn100 line qxzzv 25mm2")
    assert not call(catalogue, "find_words", "main switch line qxzzv 25mm2")
    assert not call(catalogue, "find_words", "gn100 line qx99 25mm2")


@pytest.mark.parametrize("words", ["", "for the", "10mm2 16mm2", "20000mm2"])
def test_what_cannot_be_asked_is_an_error(catalogue: Catalogue, words: str) -> None:
    with pytest.raises(duckdb.InvalidInputException):
        call(catalogue, "find_words", words)


def test_no_held_row_has_a_figure(catalogue: Catalogue) -> None:
    held = [row for row in call(catalogue, "find_words", "gn100 load 25mm2") if row["state"] == "held"]
    assert held
    assert {figures(row) for row in held} == {(None,) * 4}
