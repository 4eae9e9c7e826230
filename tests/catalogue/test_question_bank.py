"""The bank of questions: no figure for anything but what was asked, no dead end, and nearly always the right kind.

A third of the questions was kept apart when others were mended on: of these every second is asked, all of them with
TORQUARY_BANK=third, the whole bank with TORQUARY_BANK=all.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from question_bank import Verdict, is_kept_apart, judge, questions, sheets

from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.find import Answer, find, read_question
from torquary_catalogue.find.together import AskedTogether
from torquary_catalogue.load import load_sheets
from torquary_catalogue.store import Catalogue, open_catalogue

RIGHT = 0.95
"""Part of the questions that get the kind of answer that the writer of the bank wanted."""


@pytest.fixture(scope="module")
def bank(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Catalogue]:
    catalogue = Path(tmp_path_factory.mktemp("bank")) / "bank.duckdb"
    load_sheets(catalogue, sheets())
    with open_catalogue(catalogue) as opened:
        yield opened


def choose() -> list[dict[str, Any]]:
    wanted = os.environ.get("TORQUARY_BANK", "")
    kept = [question for question in questions() if wanted == "all" or is_kept_apart(question)]
    return kept if wanted else kept[::2]


@pytest.fixture(scope="module")
def verdicts(bank: Catalogue) -> list[Verdict]:
    return [judge(bank, question) for question in choose()]


def test_no_answer_is_false_and_none_is_a_dead_end(verdicts: list[Verdict]) -> None:
    assert [str(one) for one in verdicts if one.false or one.dead_end] == []


def test_nearly_all_answers_are_of_the_right_kind(verdicts: list[Verdict]) -> None:
    wrong = [str(one) for one in verdicts if not one.right_kind]
    assert len(wrong) <= (1 - RIGHT) * len(verdicts), wrong


def test_questions_that_are_asked_together_get_the_answers_that_each_gets_alone(bank: Catalogue) -> None:
    together = AskedTogether(bank)

    def tell(catalogue: Catalogue, words: str) -> Answer:
        return find(catalogue, read_question(catalogue, words))

    asked = [question["words"] for question in choose()]
    told = together.tell_each([partial(tell, together, words) for words in asked])
    for words, answer in zip(asked, told, strict=True):
        if isinstance(answer, TorquaryError):
            with pytest.raises(TorquaryError) as refused:
                tell(bank, words)
            assert (refused.value.message, refused.value.status) == (answer.message, answer.status)
        else:
            assert answer == tell(bank, words), words
