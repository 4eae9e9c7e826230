"""The bank of questions: no figure for anything but what was asked, no dead end, and nearly always the right kind.

A third of the questions was kept apart when others were mended on: of these every second is asked, all of them with
TORQUARY_BANK=third, the whole bank with TORQUARY_BANK=all.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from question_bank import Verdict, is_kept_apart, judge, questions, sheets

from torquary_catalogue.load import load_sheets
from torquary_catalogue.store import open_catalogue

RIGHT = 0.95
"""Part of the questions that get the kind of answer that the writer of the bank wanted."""


@pytest.fixture(scope="module")
def verdicts(tmp_path_factory: pytest.TempPathFactory) -> Iterator[list[Verdict]]:
    catalogue = Path(tmp_path_factory.mktemp("bank")) / "bank.duckdb"
    load_sheets(catalogue, sheets())
    wanted = os.environ.get("TORQUARY_BANK", "")
    kept = [question for question in questions() if wanted == "all" or is_kept_apart(question)]
    with open_catalogue(catalogue) as opened:
        yield [judge(opened, question) for question in (kept if wanted else kept[::2])]


def test_no_answer_is_false_and_none_is_a_dead_end(verdicts: list[Verdict]) -> None:
    assert [str(one) for one in verdicts if one.false or one.dead_end] == []


def test_nearly_all_answers_are_of_the_right_kind(verdicts: list[Verdict]) -> None:
    wrong = [str(one) for one in verdicts if not one.right_kind]
    assert len(wrong) <= (1 - RIGHT) * len(verdicts), wrong
