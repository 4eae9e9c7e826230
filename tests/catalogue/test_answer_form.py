"""The published form of an answer: all that `find --json` gives has it, for questions of the bank and at random."""

from __future__ import annotations

import json
from collections.abc import Iterator
from copy import deepcopy
from pathlib import Path
from typing import Any

import jsonschema_rs
import pytest
from click.testing import CliRunner
from pocket_questions import make_questions
from question_bank import questions, sheets

from torquary_catalogue.command import main
from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.find import find, read_question
from torquary_catalogue.load import load_sheets
from torquary_catalogue.show.record import ANSWER_VERSION, answer_to_dict
from torquary_catalogue.show.visible import to_json
from torquary_catalogue.store import Catalogue, open_catalogue
from torquary_schema.validation import FORM_NAMES, read_schema

CHECKER = jsonschema_rs.validator_for(read_schema("answer"))
"""A library that torquary itself does not use."""


@pytest.fixture(scope="module")
def catalogue(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Catalogue]:
    path = Path(tmp_path_factory.mktemp("form")) / "bank.duckdb"
    load_sheets(path, sheets())
    with open_catalogue(path) as opened:
        yield opened


@pytest.fixture(scope="module")
def answers(catalogue: Catalogue) -> list[dict[str, Any]]:
    """Return answers as they are printed, of every kind."""
    told = []
    for words in [*(one["words"] for one in questions()[::8]), *make_questions(catalogue, 60, 8)]:
        try:
            answer = find(catalogue, read_question(catalogue, words))
        except TorquaryError:
            continue
        told.append(json.loads(to_json(answer_to_dict(answer))))
    return told


def test_every_answer_has_the_form(answers: list[dict[str, Any]]) -> None:
    assert {one["answer"] for one in answers} == {"one", "agree", "differ", "outside", "held", "unknown"}
    assert [(one["query"], fault.message) for one in answers for fault in CHECKER.iter_errors(one)] == []


def test_the_form_refuses_what_is_none(answers: list[dict[str, Any]]) -> None:
    good = next(one for one in answers if one["answer"] == "held")
    assert CHECKER.is_valid(good)
    for change in (
        lambda one: one.pop("cautions"),
        lambda one: one.update(answer="maybe"),
        lambda one: one.update(torquary_answer=ANSWER_VERSION + 1),
        lambda one: one["rows"][0].update(max_nm=2.5),
        lambda one: one["rows"][0].update(colour="red"),
    ):
        changed = deepcopy(good)
        change(changed)
        assert not CHECKER.is_valid(changed)


def test_every_property_of_every_form_is_described() -> None:
    bare = [(name, key) for name in FORM_NAMES for key in undescribed(read_schema(name))]
    assert bare == []


def undescribed(part: Any) -> Iterator[str]:
    if isinstance(part, list):
        for one in part:
            yield from undescribed(one)
    if isinstance(part, dict):
        if "$id" in part or part.get("additionalProperties") is False:
            for key, one in part.get("properties", {}).items():
                if not ({"description", "$ref"} & set(one)):
                    yield key
        for one in part.values():
            yield from undescribed(one)


def test_a_held_answer_says_where_to_look(answers: list[dict[str, Any]]) -> None:
    held = [one for one in answers if one["answer"] == "held" or one["held"]]
    assert held
    for one in held:
        rows = one["rows"] if one["answer"] == "held" else one["held"]
        assert [(row["id"], row["file"], row["page"]) for row in rows] == [
            (place["id"], place["file"], place["page"]) for place in one["look_at"]
        ]
    assert any(place["picture"] for one in held for place in one["look_at"])


@pytest.mark.parametrize("name", FORM_NAMES)
def test_the_command_prints_each(name: str) -> None:
    listed = CliRunner().invoke(main, ["schema"])
    assert f"\n{name} " in f"\n{listed.output}"
    printed = CliRunner().invoke(main, ["schema", name])
    assert json.loads(printed.output) == read_schema(name)


def test_an_unknown_form_is_named() -> None:
    result = CliRunner().invoke(main, ["schema", "answers"])
    assert result.exit_code == 2
    assert "no schema is named 'answers': write setting, answer" in result.stderr
