"""A conductor that the row denies is no match; what the row does not say is shown as not stated."""

from __future__ import annotations

from typing import Any

import pytest
from sheets_by_hand import mm2, report, setting

from torquary_catalogue.find import Answer, find, read_question
from torquary_catalogue.show.notice import write_notice
from torquary_catalogue.show.record import answer_to_dict
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.insert import load_report


def ask(catalogue: Catalogue, words: str, **kinds: Any) -> Answer:
    load_report(catalogue, report(setting("one-1", conductor=mm2("1.5", "16", **kinds))))
    return find(catalogue, read_question(catalogue, words))


@pytest.mark.parametrize(
    ("words", "kinds", "says"),
    [
        ("mcb aluminium 10mm2", {"material": ("copper",)}, "copper, not aluminium"),
        ("mcb flexible 10mm2", {"stranding": ("solid", "stranded")}, "solid, stranded, not flexible"),
        ("mcb rigid 10mm2", {"stranding": ("flexible",)}, "flexible, not solid"),
        ("mcb without ferrule 10mm2", {"ferrule": True}, "with ferrule, not without ferrule"),
        ("mcb with ferrule 10mm2", {"ferrule": False}, "without ferrule, not with ferrule"),
    ],
)
def test_what_the_row_denies_is_no_match(catalogue: Catalogue, words: str, kinds: dict[str, Any], says: str) -> None:
    """The answer names what is printed, and the command that shows it."""
    answer = ask(catalogue, words, **kinds)
    assert (answer.kind, answer.rows) == ("unknown", ())
    assert any(f"1 row says {says}: torquary find mcb" in note for note in answer.notes)


@pytest.mark.parametrize(
    ("words", "aspect"),
    [("mcb aluminium", "material"), ("mcb flexible", "stranding"), ("mcb without ferrule", "ferrule")],
)
def test_what_the_row_does_not_say_is_shown_as_not_stated(catalogue: Catalogue, words: str, aspect: str) -> None:
    answer = ask(catalogue, words)
    assert answer.kind == "one"
    (block,) = write_notice(answer).blocks
    assert f"{aspect} not stated" in dict(block.lines)["conductor"]
    assert any(note.startswith(f"{aspect.capitalize()} not stated") for note in answer.notes)
    assert answer_to_dict(answer)["rows"][0]["not_stated"] == [aspect]


def test_what_is_not_asked_or_is_said_is_not_called_unstated(catalogue: Catalogue) -> None:
    answer = ask(catalogue, "mcb copper", material=("copper",))
    assert "not stated" not in dict(write_notice(answer).blocks[0].lines)["conductor"]


def test_with_or_without_ferrule_asks_for_neither(catalogue: Catalogue) -> None:
    """It is not the question "without"."""
    assert read_question(catalogue, "mcb with or without ferrule").parts() == {"family": "mcb"}
    assert ask(catalogue, "mcb with or without ferrule", ferrule=True).kind == "one"
