"""How many words make a sentence, and how near a kind of conductor stands to what is said for it."""

from __future__ import annotations

import pytest

from torquary_ingest.scope.of_one_kind import is_of_one_kind
from torquary_ingest.scope.over import is_sentence


@pytest.mark.parametrize(("line", "sentence"), [("Terminals for main circuits.", False),
                                                ("Terminals for the main circuits.", True)])  # fmt: skip
def test_four_words_and_a_stop_are_a_heading_and_five_a_sentence(line: str, *, sentence: bool) -> None:
    assert is_sentence(line) is sentence


@pytest.mark.parametrize(("between", "alone"), [(" ", True), (" a ", False), ("  ", True)])
def test_a_kind_of_conductor_right_behind_for_is_spoken_of_alone(between: str, *, alone: bool) -> None:
    assert is_of_one_kind(f"ferrules for{between}stranded conductors") is alone
