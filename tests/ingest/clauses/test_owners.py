"""What is tightened is told by the head noun: a cover of terminals is a cover, a coupling's clamping screw none."""

from __future__ import annotations

import pytest

from torquary_ingest.clauses.named_alone import is_of_another
from torquary_ingest.clauses.nouns import find_things
from torquary_ingest.clauses.thing import Thing
from torquary_ingest.clauses.tokens import read_tokens


def kinds(text: str) -> list[str]:
    return [one.kind for one in find_things(read_tokens(text), text) if isinstance(one, Thing)]


@pytest.mark.parametrize(
    "text",
    ["Wkręty osłony zacisków dokręcać momentem 0,3 N·m", "Šrouby krytů svorek utáhněte momentem 0,3 N·m",
     "Винты крышки клемм затянуть моментом 0,3 Н·м", "Die Klemmenabdeckung mit 0,3 Nm anziehen",
     "Klemmenkastendeckel mit 0,3 Nm anziehen", "Serrer le couvre-bornes à 0,3 N·m",
     "Draai de klemmenafdekking aan met 0,3 Nm", "Tighten the clamping screw of the shaft coupling to 0.3 N·m"],
)  # fmt: skip
def test_a_cover_or_coupling_is_the_head_whatever_terminals_belong_to_it(text: str) -> None:
    assert kinds(text) == ["other"]


@pytest.mark.parametrize(
    "text",
    ["Ramkę zacisków dokręcać momentem 0,3 N·m", "Rámeček svorek utáhněte momentem 0,3 N·m",
     "Tighten the terminal visor to 0.3 N·m", "Liittimien kehys kiristetään momenttiin 0,3 Nm",
     "Drivakslens klemskrue spændes med 0,3 Nm", "Nabenklemmschraube mit 0,3 Nm anziehen",
     "Klemmschraube der Nabe mit 0,3 Nm anziehen", "Serrer la vis de serrage de l'arbre à 0,3 N·m",
     "Tighten the pulley clamping screw to 0.3 N·m", "Śrubę zaciskową wału dokręcać momentem 0,3 N·m"],
)  # fmt: skip
def test_an_unread_head_or_owner_is_no_terminal(text: str) -> None:
    assert "terminal" not in kinds(text)
    assert is_of_another(text.split(" 0")[0])


@pytest.mark.parametrize(
    "text",
    ["Śruby zacisków głównych dokręcać momentem 0,3 N·m", "Wkręty dolnych zacisków dokręcać momentem 0,3 N·m",
     "Serrer la vis de serrage de la borne de terre à 0,3 N·m", "Tighten the clamping screws to 0.3 N·m",
     "Tighten the earth clamping screw to 0.3 N·m", "Die Schrauben der Motorklemmen mit 0,3 Nm anziehen"],
)  # fmt: skip
def test_the_screws_of_terminals_stay_terminals(text: str) -> None:
    assert "terminal" in kinds(text)
    assert not is_of_another(text)
