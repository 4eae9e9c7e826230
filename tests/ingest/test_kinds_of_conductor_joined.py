"""Kinds of conductor that a sheet joins: cut words, a ferrule for one of them, two words for one."""

from __future__ import annotations

from pathlib import Path

import pytest
from text_sheets import settings_of

from torquary_ingest.figures.conductor_words import read_conductor_words


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("tek / çok telli", ("solid", "stranded")),
        ("tek ve çok telli iletken", ("solid", "stranded")),
        ("ein- / feindrähtig", ("solid", "flexible")),
        ("çok telli esnek iletken", ("flexible",)),
        ("stranded flexible", ("flexible",)),
        ("flexible stranded wire", ("flexible",)),
        ("stranded or flexible", ("stranded", "flexible")),
        ("stranded / flexible", ("stranded", "flexible")),
    ],
)
def test_how_a_conductor_is_built(text: str, kinds: tuple[str, ...]) -> None:
    assert read_conductor_words(text).stranding == kinds


@pytest.mark.parametrize(
    ("text", "metals"), [("Cu o Al", ("copper", "aluminium")), ("cu o cheie", ()), ("Al o Cu", ("aluminium", "copper"))]
)
def test_metals_joined_by_a_word_that_makes_another_of_the_first(text: str, metals: tuple[str, ...]) -> None:
    assert read_conductor_words(text).material == metals


def test_words_cut_at_a_hyphen_in_a_sentence_are_all_told(tmp_path: Path) -> None:
    page = "<h1>Schütz QN 9</h1><p>Spulenklemmen A1, A2: 0,5 … 2,5 mm² (ein- oder feindrähtig), Drehmoment 0,8 Nm</p>"
    (one,) = settings_of(tmp_path / "t.html", page)
    assert one.conductor.stranding == ("solid", "flexible")


def test_a_ferrule_told_of_one_kind_is_not_given_to_the_solid_one(tmp_path: Path) -> None:
    rows = "Terminals of QN 40\n\nTerminal;Conductor;Torque N·m\nL1;1.5–16 mm² solid or flexible with ferrule;2\n"
    found = settings_of(tmp_path / "t.csv", rows)
    assert [(one.conductor.stranding, one.conductor.ferrule) for one in found] == [
        (("solid",), None),
        (("flexible",), True),
    ]


@pytest.mark.parametrize(
    ("conductor", "state"),
    [
        ("H07V-K with ferrule", "released"),  # HD 361 S3 (from memory)
        ("H05VV-F", "released"),
        ("NYY-J", "released"),  # DIN VDE 0276-603 (from memory)
        ("tri-rated", "released"),  # BS 6231 (from memory)
        ("with flag lug", "held"),
        ("H07V-K, cleaned", "held"),
    ],
)
def test_the_type_of_a_cable_limits_no_terminal_and_other_words_may(
    tmp_path: Path, conductor: str, state: str
) -> None:
    rows = "Contactor QN 9\n\nTerminal;Conductor type;mm²;Torque N·m\nA1, A2;{};2.5;1.2\n"
    (one,) = settings_of(tmp_path / "t.csv", rows.format(conductor))
    assert one.state == state


@pytest.mark.parametrize(
    ("text", "ferrule"),
    [
        ("Ferrules recommended", None),
        ("końcówka tulejkowa do dokręcania", True),
        ("Aderendhülse empfohlen", None),
        ("mit Aderendhülse", True),
    ],
)
def test_a_ferrule_that_is_only_advised_leaves_wires_without_one(tmp_path: Path, text: str, ferrule: bool) -> None:
    rows = f"Contactor QN 9\n\nTerminal;Ferrule;mm²;Torque N·m\nA1, A2;{text};2.5;1.2\n"
    (one,) = settings_of(tmp_path / "t.csv", rows)
    assert one.conductor.ferrule is ferrule
