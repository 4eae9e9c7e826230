"""A question is answered for the terminal it asks for, and for no other."""

from __future__ import annotations

from typing import Any

import pytest
from sheets_by_hand import held, mm2, report, setting, torque

from torquary_catalogue.find import Answer, find, read_question
from torquary_catalogue.find.query import write_query
from torquary_catalogue.show.notice import write_notice
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.insert import load_report
from torquary_schema.values import Device, Setting, Terminal
from torquary_schema.vocabulary import SIDES, vocabulary

LINE = Terminal(printed="Line", roles=("line_in",))
LOAD = Terminal(printed="Load", roles=("load_out",))
PHASE = Terminal(printed="L1, L2, L3", roles=("line",))
MAIN = Terminal(printed="Main terminals", roles=("main",))
ANY = Terminal(printed="Terminals")


def row(name: str, terminal: Terminal, figure: str = "2.5", **parts: Any) -> Setting:
    return setting(name, terminal=terminal, torque=torque(figure, figure, figure), **parts)


def ask(catalogue: Catalogue, words: str, *settings: Setting) -> Answer:
    load_report(catalogue, report(*settings))
    answer = find(catalogue, read_question(catalogue, words))
    given = {one["id"] for one in catalogue.rows(write_query(answer.question)) if one["state"] == "released"}
    assert given >= {one.id for one in answer.rows if one.state == "released"}
    return answer


def ids(answer: Answer) -> list[str]:
    return sorted(one.id for one in answer.rows)


@pytest.mark.parametrize("words", ["mcb line 10mm2", "mcb supply side 10mm2", "mcb phase 10mm2", "mcb L1 10mm2"])
def test_the_load_terminal_never_answers_for_a_line_row_that_is_held(catalogue: Catalogue, words: str) -> None:
    """A held line row gives a held answer, and the load row's figure stands nowhere in it."""
    answer = ask(catalogue, words, held("held-line", terminal=LINE), row("load-1", LOAD, "2"))
    assert (answer.kind, ids(answer)) == ("held", ["held-line"])
    assert not any("2 N·m" in text for block in write_notice(answer).blocks for _, text in block.lines)
    assert any("Load" in note and "torquary find" in note for note in answer.notes)


def test_line_is_the_supply_side_where_the_sheet_has_one(catalogue: Catalogue) -> None:
    answer = ask(catalogue, "mcb line", row("line-1", LINE), row("load-1", LOAD, "2"), row("phase-1", PHASE, "3"))
    assert ids(answer) == ["line-1"]
    assert answer.said_first == ("“line” was taken for the supply side.",)


def test_line_is_the_phase_where_the_sheet_has_no_supply_side(catalogue: Catalogue) -> None:
    """Also beside a load row: that is no supply side."""
    answer = ask(catalogue, "mcb line", row("phase-1", PHASE, "3"), row("load-1", LOAD, "2"))
    assert ids(answer) == ["phase-1"]
    assert answer.said_first == ("The sheet names no supply side: “line” was taken for the line conductor.",)
    assert "line conductor" in write_notice(answer).asked


def test_line_says_which_device_has_which_meaning(catalogue: Catalogue) -> None:
    other = Device(printed="Breaker BK-20", family="mcb", series="BK", model="BK-20")
    answer = ask(catalogue, "mcb line", row("line-1", LINE), row("phase-1", PHASE, "3", device=other))
    assert ids(answer) == ["line-1", "phase-1"]
    assert len(answer.said_first) == 2
    assert "Breaker BK-16" in answer.said_first[0]
    assert "Breaker BK-20" in answer.said_first[1]


def test_the_options_part_the_meanings(catalogue: Catalogue) -> None:
    """The word "phase" asks for the phase; as an option "line" has two meanings as well."""
    assert read_question(catalogue, "phase").parts() == {"roles": ("line",), "terminal": "phase"}
    both = {"roles": ("line_in",), "or_roles": ("line",), "terminal": "line"}
    assert read_question(catalogue, "phase", terminal="line").parts() == both
    assert read_question(catalogue, "line", terminal="phase").parts() == {"roles": ("line",), "terminal": "phase"}


@pytest.mark.parametrize(
    ("words", "wide", "beside"),
    [("load", MAIN, LINE), ("load", PHASE, LINE), ("supply side", MAIN, LOAD)],
)
def test_a_wider_terminal_does_not_answer_where_the_sheet_parts_it(
    catalogue: Catalogue, words: str, wide: Terminal, beside: Terminal
) -> None:
    """Main terminals beside a line row may be any: they are no figure for the load."""
    answer = ask(catalogue, f"mcb {words}", row("wide-1", wide, "3"), row("beside-1", beside))
    assert (answer.kind, answer.rows) == ("unknown", ())


def test_a_wider_terminal_answers_where_nothing_parts_it_and_says_so(catalogue: Catalogue) -> None:
    answer = ask(catalogue, "mcb load", row("wide-1", MAIN, "3"))
    assert ids(answer) == ["wide-1"]
    assert any("main circuit" in note for note in answer.notes)


def test_a_phase_is_both_sides(catalogue: Catalogue) -> None:
    """Who asks for the phase gets the rows of both sides, and hears what would part them."""
    answer = ask(catalogue, "mcb phase", row("line-1", LINE), row("load-1", LOAD, "2"))
    assert (answer.kind, ids(answer)) == ("differ", ["line-1", "load-1"])
    assert any("supply side" in note for note in answer.notes)


def test_another_number_is_another_terminal(catalogue: Catalogue) -> None:
    """L2 does not answer for L1, whether L1 is held or not on the sheet; a range of markings does."""
    one, two = (Terminal(printed=label, roles=("line",)) for label in ("L1", "L2"))
    assert ask(catalogue, "mcb L1", held("held-1", terminal=one), row("two-1", two)).kind == "held"
    assert find(catalogue, read_question(catalogue, "mcb L3")).kind == "unknown"


@pytest.mark.parametrize("label", ["L1–L3", "L1 to L3", "L1, L2, L3", "L", "1/L1, 3/L2, 5/L3"])
def test_a_marking_inside_a_label_is_named_by_it(catalogue: Catalogue, label: str) -> None:
    assert ask(catalogue, "mcb L2", row("one-1", Terminal(printed=label, roles=("line",)))).kind == "one"


SHARED = [
    ("L1, L2, L3 and N", ("line", "neutral"), ("phase", "L2", "neutral", "N")),
    ("Line L, N", ("line_in", "line", "neutral"), ("line side", "phase", "neutral", "line side neutral")),
    ("Abgang 2, N", ("load_out", "line", "neutral"), ("Abgang", "load", "phase", "outgoing neutral", "Neutralleiter")),
    ("Load side N", ("load_out", "neutral"), ("load side", "neutral", "load side neutral", "N")),
    ("Line and load", ("line_in", "load_out"), ("line", "load", "phase")),
    ("L, N, PE", ("line", "neutral", "protective_earth"), ("phase", "neutral", "PE", "earth")),
    ("earth terminal PE", ("protective_earth",), ("earth", "PE", "protective conductor")),
    ("Coil A1-A2, auxiliary contact 13-14", ("coil", "aux", "aux_no"), ("coil", "make contact", "auxiliary contact")),
]


@pytest.mark.parametrize(
    ("label", "roles", "words"), [(label, roles, words) for label, roles, asked in SHARED for words in asked]
)
def test_a_label_answers_for_each_role_that_it_names(
    catalogue: Catalogue, label: str, roles: tuple[str, ...], words: str
) -> None:
    answer = ask(catalogue, f"mcb {words}", row("one-1", Terminal(printed=label, roles=roles)))
    assert (answer.kind, ids(answer)) == ("one", ["one-1"])


@pytest.mark.parametrize(
    ("label", "roles", "words"),
    [
        ("Load side N", ("load_out", "neutral"), "phase"),
        ("Load side N", ("load_out", "neutral"), "main circuit"),
        ("Load side N", ("load_out", "neutral"), "line side neutral"),
        ("Load side N", ("load_out", "neutral"), "load side L1"),
        ("Load", ("load_out",), "load side neutral"),
        ("L1, L2, L3 and N", ("line", "neutral"), "earth"),
        ("N", ("neutral",), "load"),
        ("Line L1", ("line_in", "line"), "load"),
        ("Load L1", ("load_out", "line"), "line"),
        ("Coil A1-A2", ("coil",), "auxiliary contact"),
    ],
)
def test_a_label_answers_for_no_role_that_it_does_not_name(
    catalogue: Catalogue, label: str, roles: tuple[str, ...], words: str
) -> None:
    answer = ask(catalogue, f"mcb {words}", row("one-1", Terminal(printed=label, roles=roles)))
    assert (answer.kind, answer.rows) == ("unknown", ())


def test_a_question_for_a_side_and_a_conductor_wants_both(catalogue: Catalogue) -> None:
    rows = [
        row(f"{side[0]}{name}", Terminal(printed=f"{side} {name}", roles=(role, conductor)), figure)
        for side, role, figures in (("Line", "line_in", ("1", "2")), ("Load", "load_out", ("3", "4")))
        for (name, conductor), figure in zip((("L", "line"), ("N", "neutral")), figures, strict=True)
    ]
    assert ids(ask(catalogue, "mcb line side neutral", *rows)) == ["LN"]
    asked = {"neutral": 2, "phase": 2, "load side": 2, "load side phase": 1, "N load side": 1, "mcb": 4}
    answers = {words: len(find(catalogue, read_question(catalogue, f"mcb {words}")).rows) for words in asked}
    assert answers == asked


def test_a_conductor_without_its_side_answers_for_both_sides_and_says_so(catalogue: Catalogue) -> None:
    answer = ask(catalogue, "mcb line side neutral", row("one-1", Terminal(printed="N", roles=("neutral",))))
    assert ids(answer) == ["one-1"]
    assert any("without saying more" in note for note in answer.notes)


def test_a_conductor_without_its_side_does_not_answer_where_the_sheet_parts_the_sides(catalogue: Catalogue) -> None:
    neutral = row("one-1", Terminal(printed="N", roles=("neutral",)))
    assert ask(catalogue, "mcb line side neutral", neutral, row("load-1", LOAD)).kind == "unknown"


def test_what_more_a_label_names_is_said(catalogue: Catalogue) -> None:
    answer = ask(catalogue, "mcb load", row("one-1", Terminal(printed="Load side N", roles=("load_out", "neutral"))))
    assert "Asked was load side; the sheet says more: load side and neutral conductor." in answer.notes


@pytest.mark.parametrize("words", ["mcb neutral", "mcb N"])
def test_the_neutral_of_one_side_is_no_answer_while_the_others_is_held(catalogue: Catalogue, words: str) -> None:
    """Nor is the figure of several conductors for one of them whose own is held."""
    line, load = (Terminal(printed=f"{side} N", roles=(role, "neutral")) for side, role in (
        ("Line", "line_in"), ("Load", "load_out")
    ))  # fmt: skip
    both = Terminal(printed="L, N", roles=("line", "neutral"))
    answer = ask(catalogue, words, held("held-1", terminal=line), row("load-1", load), row("both-1", both))
    assert (answer.kind, ids(answer)) == ("held", ["held-1"])


def test_any_terminal_stands_for_none_that_the_sheet_names(catalogue: Catalogue) -> None:
    """Not even for one whose own figure is held, of another size or conductor, or was rejected."""
    rows = (
        row("any-1", ANY, "3"),
        held("held-1", terminal=LINE),
        row("load-1", LOAD, "2", conductor=mm2("25", "50")),
        row("main-1", Terminal(printed="N", roles=("neutral",)), "2", state="rejected"),
    )
    assert ask(catalogue, "mcb line 10mm2", *rows).kind == "held"
    assert find(catalogue, read_question(catalogue, "mcb load 10mm2")).kind == "outside"
    assert find(catalogue, read_question(catalogue, "mcb neutral 10mm2")).kind == "unknown"
    assert find(catalogue, read_question(catalogue, "mcb earth 10mm2")).kind == "one"


def test_what_is_held_for_the_terminal_asked_for_is_said_before_the_figure(catalogue: Catalogue) -> None:
    """Another breaker's figure may stand in the answer, behind the line that names what is held."""
    other = Device(printed="Breaker BK-20", family="mcb", series="BK", model="BK-20")
    answer = ask(catalogue, "mcb load", held("held-1", terminal=LOAD), row("load-1", LOAD, device=other))
    (said,) = answer.said_first
    assert said.startswith("Held for the terminal asked for, not given: Load of Breaker BK-16")


@pytest.mark.parametrize("words", ["mcb line", "mcb load", "mcb phase", "mcb earth", "mcb L1", "mcb"])
def test_the_macro_gives_the_rows_of_find_whatever_the_terminal(catalogue: Catalogue, words: str) -> None:
    rows = (
        held("held-line", terminal=LINE), row("load-1", LOAD), row("phase-1", PHASE), row("any-1", ANY),
        row("main-1", MAIN, device=Device(printed="Breaker BK-20", family="mcb", series="BK", model="BK-20")),
    )  # fmt: skip
    answer = ask(catalogue, words, *rows)
    given = catalogue.rows(write_query(answer.question))
    shown = {one.id for one in (*answer.rows, *answer.held)}
    assert {one["id"] for one in given} == shown


def test_the_catalogue_knows_the_wider_roles_of_the_vocabulary(catalogue: Catalogue) -> None:
    for entry in vocabulary("role").values():
        (row,) = catalogue.rows("SELECT wider_roles([?]) AS wider", [entry.key])
        assert tuple(row["wider"]) == entry.wider


def test_the_catalogue_knows_the_sides_of_the_vocabulary(catalogue: Catalogue) -> None:
    (row,) = catalogue.rows("SELECT side_roles() AS sides")
    assert set(row["sides"]) == SIDES
