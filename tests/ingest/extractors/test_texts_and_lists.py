"""Torques in lists and sentences: what belongs to the size, what limits the figure, what is left alone."""

import pytest
from set_sheets import page

from torquary_ingest.document import Document
from torquary_ingest.extractors.listed import KeyValueLists
from torquary_ingest.extractors.sentences import Sentences
from torquary_ingest.headings.claims import states_torque, take_size
from torquary_ingest.normalise import settle
from torquary_ingest.normalise.notes import changes_value
from torquary_ingest.skeleton import make_skeleton
from torquary_schema.values import Setting


def settings(document: Document) -> list[Setting]:
    readings = [*KeyValueLists().readings(document, ()), *Sentences().readings(document, ())]
    return list(settle(document, (), readings, make_skeleton(document, ()))[0])


@pytest.mark.parametrize(
    ("clause", "size"),
    [
        ("2.5 N·m for 1.5–6 mm²", "1.5–6 mm²"),
        ("1.2 N·m up to 4 mm²", "up to 4 mm²"),
        ("1.2 N·m, ≤ 4 mm²", "≤ 4 mm²"),
        ("1.2 N·m", ""),
        ("1.2 N·m for 4 mm², 2.0 N·m for 10 mm²", ""),
    ],
)
def test_one_size_beside_a_torque_is_taken_with_its_limit(clause: str, size: str) -> None:
    assert take_size(clause)[0] == size


def test_a_limited_size_in_a_list_keeps_its_open_side() -> None:
    [setting] = settings(page("Tightening torque: 1.2 N·m up to 4 mm²", "Terminal: L1"))
    assert (setting.conductor.min_mm2, str(setting.conductor.max_mm2)) == (None, "4")
    assert str(setting.torque.min_nm if setting.torque else "") == "1.2"


def test_a_maximum_in_a_sentence_is_a_limit() -> None:
    found = settings(page("The maximum tightening torque of the terminals is 2.5 N·m."))
    torques = [s.torque for s in found if s.torque]
    assert [(one.min_nm, one.max_nm, str(one.limit_nm)) for one in torques] == [(None, None, "2.5")]


def test_a_sentence_with_a_condition_is_held() -> None:
    found = settings(page("Tighten the terminals to 2.5 N·m unless aluminium is used."))
    assert [s.state for s in found] == ["held"]


def test_a_sentence_that_forbids_is_never_released() -> None:
    found = settings(page("Do not tighten the terminals to 2.5 N·m."))
    assert [s.state for s in found] == ["held"]


def test_a_motor_torque_is_no_terminal_torque() -> None:
    assert not states_torque("Motor torque 12 N·m at 1,400 rpm")
    assert settings(page("Motor torque 12 N·m")) == []


@pytest.mark.parametrize(
    ("note", "changes"),
    [
        ("2 N·m for flexible conductors", True),
        ("reduce by 20 % with lubricated screws", True),
        ("for 10 mm² only", True),
        ("with a hand-held torque screwdriver", False),
        ("solid only", False),
    ],
)
def test_a_note_that_may_change_a_figure_is_told_from_one_that_does_not(note: str, changes: bool) -> None:
    assert changes_value(note) is changes
