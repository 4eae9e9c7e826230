"""How many words and signs belong to the name of what is tightened: the last that do, the first that do not."""

from __future__ import annotations

import pytest

from torquary_ingest.clauses.nouns import find_things
from torquary_ingest.clauses.telling import device_in_lead
from torquary_ingest.clauses.thing import Thing
from torquary_ingest.clauses.tokens import read_tokens


def things(text: str) -> list[str]:
    return [one.text for one in find_things(read_tokens(text), text) if isinstance(one, Thing)]


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("blimsy wobbly crumply terminals", "blimsy wobbly crumply terminals"),
        ("blimsy wobbly crumply stoffy terminals", "wobbly crumply stoffy terminals"),
    ],
)
def test_three_words_not_known_before_a_noun_are_of_its_name(text: str, name: str) -> None:
    assert things(text) == [name]


@pytest.mark.parametrize(("text", "name"), [("terminal 123", "terminal 123"), ("terminal 1234", "terminal")])
def test_a_number_of_three_digits_marks_a_terminal(text: str, name: str) -> None:
    assert things(text) == [name]


@pytest.mark.parametrize(("lead", "named"), [("Relay card of RC-1", True), ("Relay card of the RC-1", False)])
def test_the_name_of_a_device_before_a_colon_has_four_words_at_most(lead: str, *, named: bool) -> None:
    assert list(device_in_lead(f"{lead}: 0.2 to 1.5 mm²; 0.3 N·m")) == ([lead] if named else [])
