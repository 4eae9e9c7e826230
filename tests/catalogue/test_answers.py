"""The six kinds of answer, and that the macro gives the rows of find."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

import pytest
from sheets_by_hand import awg, held, mm2, report, setting, torque

from torquary_catalogue.find import Answer, Row, find, read_question
from torquary_catalogue.find.query import write_query
from torquary_catalogue.show.record import answer_to_dict
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.insert import load_report
from torquary_schema.values import Device, Setting, Terminal


def ask(catalogue: Catalogue, words: str, *settings: Setting) -> Answer:
    if settings:
        load_report(catalogue, report(*settings))
    return find(catalogue, read_question(catalogue, words))


def ids(rows: Iterable[Row]) -> set[str]:
    return {row.id for row in rows}


def other_device(name: str) -> Device:
    return Device(printed=f"Breaker {name}", family="mcb", series="BK", model=name)


def test_one_figure(catalogue: Catalogue) -> None:
    """A size inside one printed range is answered with that row, its figure, sheet, edition, page and row."""
    answer = ask(catalogue, "mcb 10mm2 outgoing", setting("one-1"), setting("two-1", conductor=mm2("25", "50")))
    assert (answer.kind, answer.answered) == ("one", True)
    (row,) = answer.rows
    assert row.figures == (*(Decimal("2.5"),) * 3, None)
    assert (row.id, row.torque_printed, row.file, row.edition, row.page, row.row_number, row.place_text) == (
        "one-1", "2.5", "harbour_breakers.pdf", "2024-03", 1, 2, "1.5–16 2.5",
    )  # fmt: skip


@pytest.mark.parametrize("size", ["1.5", "16"])
def test_both_ends_of_a_range_belong_to_it(catalogue: Catalogue, size: str) -> None:
    """The smallest and the largest printed size are inside the range."""
    assert ask(catalogue, f"mcb {size} mm2", setting("one-1")).kind == "one"


def test_several_that_agree(catalogue: Catalogue) -> None:
    """Rows with equal figures agree, however many there are."""
    answer = ask(catalogue, "mcb 10mm2", setting("one-1"), setting("two-1", device=other_device("BK-20")))
    assert answer.kind == "agree"
    assert ids(answer.rows) == {"one-1", "two-1"}


def test_several_that_differ(catalogue: Catalogue) -> None:
    """Rows with unlike figures are all given, with what tells them apart; no figure is chosen or averaged."""
    other = setting("two-1", device=other_device("BK-20"), torque=torque("3.5", "3.5", "3.5"))
    answer = ask(catalogue, "mcb 10mm2", setting("one-1"), other)
    assert answer.kind == "differ"
    assert {row.figures[0] for row in answer.rows} == {Decimal("2.5"), Decimal("3.5")}
    assert ("model", True) in {(difference.aspect, difference.settles) for difference in answer.differences}


def test_a_size_outside_gets_the_nearest_rows(catalogue: Catalogue) -> None:
    """A size between two printed ranges is no answer: the rows on either side are shown as printed."""
    rows = (
        setting("small", conductor=mm2("1", "4")),
        setting("under", conductor=mm2("6", "10")),
        setting("over", conductor=mm2("25", "50"), torque=torque("5", "5", "5")),
    )
    answer = ask(catalogue, "mcb 16mm2", *rows)
    assert (answer.kind, answer.answered) == ("outside", False)
    assert ids(answer.rows) == {"under", "over"}
    assert {row.figures[0] for row in answer.rows} == {Decimal("2.5"), Decimal(5)}


def test_awg_is_compared_within_awg(catalogue: Catalogue) -> None:
    """Gauges run from thin to thick across the zero: 1/0 lies between 8 and 250 kcmil."""
    rows = (setting("thin", conductor=awg("14", "10")), setting("thick", conductor=awg("8", "250 kcmil")))
    answer = ask(catalogue, "mcb 1/0 AWG", *rows)
    assert answer.kind == "one"
    assert ids(answer.rows) == {"thick"}
    assert answer.correspondence == ""
    outside = ask(catalogue, "mcb AWG 16")
    assert outside.kind == "outside"
    assert ids(outside.rows) == {"thin"}


@pytest.mark.parametrize(
    ("asked", "printed", "paired"),
    [("10mm2", awg("14", "6"), "AWG 7"), ("AWG 8", mm2("1.5", "16"), "10 mm²")],
)
def test_across_the_systems_nothing_is_answered(catalogue: Catalogue, asked: str, printed: object, paired: str) -> None:
    """Across mm² and AWG the answer shows rows, says which correspondence was used and that it is one of several.

    10 mm² lies nearest to AWG 7 (10.55 mm², ASTM B258); AWG 8 is customarily paired with 10 mm².
    """
    answer = ask(catalogue, f"mcb {asked}", setting("one-1", conductor=printed))
    assert (answer.kind, answer.answered) == ("outside", False)
    assert ids(answer.rows) == {"one-1"}
    assert paired in answer.correspondence
    assert "one of several correspondences in use" in answer.correspondence
    assert "not equal" in answer.correspondence


def test_held_is_not_given(catalogue: Catalogue) -> None:
    """Where only a held reading fits, the answer is held, with the reason and no figure in any part of it."""
    answer = ask(catalogue, "mcb 10mm2 outgoing", held("held-1"))
    assert (answer.kind, answer.answered) == ("held", False)
    (row,) = answer.rows
    assert row.figures == (None, None, None, None)
    assert (row.torque_printed, row.unit_printed, row.place_text) == (None, None, None)
    assert [code for code, _ in row.findings] == ["unit_missing"]


def test_held_beside_a_figure_is_named_without_its_figure(catalogue: Catalogue) -> None:
    """A held reading beside a released one does not change the answer; it is counted, and gives no figure."""
    answer = ask(catalogue, "mcb 10mm2", setting("one-1"), held("held-1"))
    assert answer.kind == "one"
    assert ids(answer.rows) == {"one-1"}
    assert ids(answer.held) == {"held-1"}
    assert answer.held[0].figures == (None, None, None, None)
    assert any("held" in said for said in answer.said_first)


def test_nothing_known(catalogue: Catalogue) -> None:
    """A device that no sheet names gives nothing known, and says which word is not there."""
    answer = ask(catalogue, "zephyrine 10mm2", setting("one-1"))
    assert (answer.kind, answer.rows, answer.answered) == ("unknown", (), False)
    assert any("zephyrine" in note for note in answer.notes)


@pytest.mark.parametrize("purpose", ["mounting", "enclosure", "gland", "other"])
def test_other_screws_never_answer(catalogue: Catalogue, purpose: str) -> None:
    """A figure for a screw that is no electrical terminal answers no question, not even as a nearest row."""
    rows = (setting("screw", purpose=purpose), setting("screw-out", purpose=purpose, conductor=mm2("25", "50")))
    for words in ("mcb 10mm2 outgoing", "mcb 20mm2", "BK"):
        answer = ask(catalogue, words, *rows)
        assert answer.kind == "unknown"
        assert answer.rows == answer.held == ()


def test_rejected_never_answers(catalogue: Catalogue) -> None:
    """A rejected setting gives no figure in any part of an answer."""
    answer = ask(catalogue, "mcb 10mm2", setting("one-1", state="rejected"))
    assert (answer.kind, answer.rows, answer.held) == ("unknown", (), ())


def test_another_terminal_does_not_answer(catalogue: Catalogue) -> None:
    """A question for the earth terminal is not answered with the figure of the outgoing one."""
    assert ask(catalogue, "mcb 10mm2 earth", setting("one-1")).kind == "unknown"


def test_every_answer_bears_the_cautions(catalogue: Catalogue) -> None:
    """Every kind of answer carries the cautions, also as a record."""
    for words in ("mcb 10mm2", "mcb 300mm2", "zephyrine"):
        record = answer_to_dict(ask(catalogue, words, setting("one-1")))
        assert len(record["cautions"]) == 3


@pytest.mark.parametrize(
    "words", ["mcb 10mm2 outgoing", "mcb", "10 mm2", "BK-20", "AWG 8", "mcb 2x10mm2", "quillhaven copper 10mm2"]
)
def test_the_macro_gives_the_rows_of_find(catalogue: Catalogue, words: str) -> None:
    """The SQL that an answer quotes gives any client the same rows, with the same figures."""
    earth = Terminal(printed="Earth", roles=("protective_earth",))
    load_report(
        catalogue,
        report(
            setting("one-1"),
            setting("two-1", device=other_device("BK-20"), torque=torque("3.5", "3.5", "3.5")),
            setting("three-1", conductor=awg("14", "6")),
            setting("four-1", conductor=mm2("6", "16", count=2), terminal=earth),
            setting("mount-1", purpose="mounting"),
            held("held-1"),
        ),
    )
    answer = find(catalogue, read_question(catalogue, words))
    rows = catalogue.rows(write_query(answer.question))
    assert rows
    fitting = [row for row in rows if row["fit"] in ("size", "unasked", "unsized")]
    assert [row["id"] for row in fitting if row["state"] == "released"] == [row.id for row in answer.rows]
    assert [row["min_nm"] for row in fitting if row["state"] == "released"] == [row.min_nm for row in answer.rows]
    assert [row["id"] for row in fitting if row["state"] == "held"] == [row.id for row in answer.held]
