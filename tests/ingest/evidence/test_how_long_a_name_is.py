"""How many words a name of a terminal, a role or a type has: the last that is one, the first that is none."""

from __future__ import annotations

import pytest

from torquary_ingest.document import Cell, Entry, Reading, Word
from torquary_ingest.evidence.no_names import is_no_name
from torquary_ingest.headings.units_stated import nearest_unit, unit_beneath
from torquary_ingest.normalise.conductor_limits import limit_by_remark
from torquary_ingest.normalise.print_doubts import size_doubts
from torquary_schema.values import Box, Conductor, Place

NAME = "upper terminals of the main circuit for the incoming line of all devices"


@pytest.mark.parametrize(("words", "none"), [(12, False), (13, True)])
def test_a_name_of_a_terminal_has_twelve_words_at_most(words: int, *, none: bool) -> None:
    assert is_no_name(" ".join(NAME.split()[:words])) is none


@pytest.mark.parametrize(("words", "none"), [(24, False), (26, True)])
def test_a_name_in_two_languages_has_twice_as_many(words: int, *, none: bool) -> None:
    half = " ".join(NAME.split()[: words // 2 - 1])
    assert is_no_name(f"{half} / {half} one") is none


def line(letters: int, text: str) -> str:
    """A line of so many letters that begins with a text."""
    return text + " x" * ((letters - len(text)) // 2) + "x" * ((letters - len(text)) % 2)


@pytest.mark.parametrize(("letters", "unit"), [(40, "N·m"), (41, "")])
def test_a_line_that_states_a_unit_alone_is_short(letters: int, unit: str) -> None:
    assert nearest_unit([line(letters, "all in N·m")], "torque") == unit


@pytest.mark.parametrize(("letters", "unit"), [(80, "N·m"), (81, "")])
def test_a_line_under_a_table_that_states_its_unit_is_no_paragraph(letters: int, unit: str) -> None:
    assert unit_beneath([line(letters, "All torques in N·m")]) == unit


def reading(text: str, size: float) -> Reading:
    """A row of 10 points whose torque is set in a size."""

    def cell(column: int, printed: str, points: float) -> Cell:
        box = Box(x0=100.0 * column, top=100.0, x1=100.0 * column + 20.0, bottom=110.0)
        return Cell(row=2, column=column, text=printed, words=(Word(text=printed, box=box, size=points),), box=box)

    entries = (
        Entry(field="terminal", cell=cell(1, "Line", 10.0)),
        Entry(field="conductor", cell=cell(2, "16", 10.0)),
        Entry(field="torque", cell=cell(3, text, size)),
    )
    return Reading(place=Place(page=1), entries=entries)


@pytest.mark.parametrize(("text", "size", "doubted"), [("2", 7.4, True), ("2", 7.6, False), ("12", 7.4, True),
                                                       ("125", 7.4, False)])  # fmt: skip
def test_one_or_two_small_signs_alone_in_a_cell_may_be_a_mark(text: str, size: float, *, doubted: bool) -> None:
    assert bool(list(size_doubts(reading(text, size)))) is doubted


@pytest.mark.parametrize(("remark", "doubted"), [("flexible boxes outside", True),
                                                 ("flexible boxes outside doors", False)])  # fmt: skip
def test_a_remark_of_a_word_or_two_beside_a_kind_limits_it(remark: str, *, doubted: bool) -> None:
    cell = Cell(row=2, column=3, text=remark)
    assert bool(limit_by_remark([Conductor()], Entry(field="remark", cell=cell))[1]) is doubted
