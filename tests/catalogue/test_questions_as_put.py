"""Questions as people put them: short sizes, ratings, types, positions, bars, trade words, misspellings."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from sheets_by_hand import held, mm2, report, setting, torque

from torquary_catalogue.find import Answer, find, read_question
from torquary_catalogue.find.query import write_query
from torquary_catalogue.find.rating import find_ratings
from torquary_catalogue.load import load_sheets
from torquary_catalogue.show.notice import write_notice
from torquary_catalogue.show.plain import write_plain
from torquary_catalogue.store import Catalogue, open_catalogue
from torquary_catalogue.store.insert import load_report
from torquary_catalogue.store.sheet_words import note_words
from torquary_schema.values import Conductor, Device, Setting, Terminal

LINE = Terminal(printed="Line", roles=("line_in",))
LOAD = Terminal(printed="Load", roles=("load_out",))


def row(name: str, terminal: Terminal, figure: str = "2.5", **parts: Any) -> Setting:
    return setting(name, terminal=terminal, torque=torque(figure, figure, figure), **parts)


def breaker(name: str, current: str | None = None, family: str = "mcb") -> Device:
    return Device(printed=f"Breaker {name}", family=family, model=name, rated_current=current)


def put(catalogue: Catalogue, *settings: Setting) -> None:
    load_report(catalogue, report(*settings))
    note_words(catalogue, "a" * 64)


def ask(catalogue: Catalogue, words: str) -> Answer:
    """Ask, and see that the macro gives the same rows."""
    answer = find(catalogue, read_question(catalogue, words))
    given = {one["id"] for one in catalogue.rows(write_query(answer.question)) if one["state"] == "released"}
    assert given >= {one.id for one in answer.rows if one.state == "released"}
    return answer


def ids(answer: Answer) -> list[str]:
    return sorted(one.id for one in answer.rows)


@pytest.mark.parametrize(
    ("typed", "amps", "curve"),
    [("B32", 32, "b"), ("c16", 16, "c"), ("32A", 32, None), ("63 amp", 63, None), ("10 A", 10, None)],
)
def test_ratings_as_people_type_them(typed: str, amps: int, curve: str | None) -> None:
    (rating,) = find_ratings(f"mcb {typed} out")
    assert (rating.amps, rating.curve) == (amps, curve)


@pytest.mark.parametrize("typed", ["B9", "XB32", "A1", "10 a", "C16x", "C1600", "24V", "AB 16"])
def test_what_is_no_rating_is_not_taken_for_one(typed: str) -> None:
    assert find_ratings(typed) == ()


@pytest.mark.parametrize("words", ["BK 16", "BK16", "bk-16", "16 BK", "breaker BK 16"])
def test_a_type_is_found_however_it_is_spaced(catalogue: Catalogue, words: str) -> None:
    """And a type that nobody loaded is none: its figures are no cross-section."""
    put(catalogue, row("one-1", LINE, device=breaker("BK-16")), row("two-1", LINE, "3", device=breaker("BK-20")))
    assert ids(ask(catalogue, words)) == ["one-1"]
    assert ask(catalogue, "BK 25 line").kind == "unknown"


@pytest.mark.parametrize("words", ["OV-T2 earth", "OV T2 earth", "OVT2 PE"])
def test_a_part_of_a_type_is_no_marking_of_a_terminal(catalogue: Catalogue, words: str) -> None:
    earth = Terminal(printed="PE", roles=("protective_earth",))
    put(
        catalogue,
        row("one-1", earth, device=breaker("OV-T2")),
        row("t2-1", Terminal(printed="T2", roles=("load_out",)), "3"),
    )
    question = read_question(catalogue, words)
    assert (question.words, question.roles) in (("ovt2", ("earth",)), ("ovt2", ("protective_earth",)))
    assert ids(ask(catalogue, words)) == ["one-1"]


def test_a_bare_cross_section_is_taken_for_one_and_that_is_said(catalogue: Catalogue) -> None:
    put(catalogue, row("one-1", LINE, device=breaker("BK-16")), row("two-1", LINE, conductor=mm2("25", "50")))
    answer = ask(catalogue, "BK16 line 10")
    assert ids(answer) == ["one-1"]
    assert answer.said_first[0] == "“10” was taken for 10 mm²; for a rated current write 10A."
    assert "10 mm²" in write_notice(answer).asked
    assert ask(catalogue, "BK16 line 10mm").said_first[0] == "“10mm” was taken for 10 mm²."


def test_the_rated_current_is_matched_where_it_is_printed(catalogue: Catalogue) -> None:
    ranged = Device(printed="Breaker QT, 6 A to 40 A", family="mcb")
    put(
        catalogue,
        row("one-1", LINE, device=breaker("BK-16", "16")), row("two-1", LINE, "3", device=breaker("BK-32", "32")),
        row("range-1", LINE, "2", device=ranged), row("none-1", LINE, "4", device=breaker("ZZ-9")),
    )  # fmt: skip
    assert ids(ask(catalogue, "32A line")) == ["range-1", "two-1"]
    assert ask(catalogue, "mcb 63A").kind == "unknown"
    silent = ask(catalogue, "ZZ9 16A")
    assert ids(silent) == ["none-1"]
    assert any(note.startswith("Rated current not stated") for note in silent.notes)


def test_a_characteristic_that_no_sheet_prints_gives_no_figure(catalogue: Catalogue) -> None:
    put(catalogue, row("one-1", LINE, device=breaker("BK-32", "32")))
    assert ask(catalogue, "D32 line").kind == "unknown"
    named = ask(catalogue, "BK32 D32 line")
    assert any("haracteristic not stated" in note for note in named.notes)


TOP = Terminal(printed="oben L, N", roles=("line", "neutral"))
BOTTOM = Terminal(printed="unten L, N", roles=("line", "neutral"))


@pytest.mark.parametrize(
    ("words", "found"), [("BK16 top", "top-1"), ("BK16 nertill", "bottom-1"), ("BK16 dol", "bottom-1")]
)
def test_a_position_is_found_in_every_language(catalogue: Catalogue, words: str, found: str) -> None:
    put(catalogue, row("top-1", TOP), row("bottom-1", BOTTOM, "2"))
    assert ids(ask(catalogue, words)) == [found]


def test_a_position_that_is_not_printed_is_no_side(catalogue: Catalogue) -> None:
    """The words of the sheet are offered; where all figures are one, it is the figure."""
    put(catalogue, row("line-1", LINE), row("load-1", LOAD, "2"))
    answer = ask(catalogue, "BK16 bottom")
    assert (answer.kind, ids(answer)) == ("differ", ["line-1", "load-1"])
    assert answer.said_first == (
        "“bottom” is not printed; the words of the sheet are “Line”, “Load”. Choose by these.",
    )
    assert ask(catalogue, "BK16 coil top").kind == "unknown"


def test_a_side_that_is_not_printed_is_no_position(catalogue: Catalogue) -> None:
    put(catalogue, row("top-1", Terminal(printed="superiore")), row("bottom-1", Terminal(printed="inferiore"), "2"))
    assert ask(catalogue, "BK16 line").kind == "differ"


def test_what_may_be_the_position_asked_for_and_is_held_keeps_its_neighbour_back(catalogue: Catalogue) -> None:
    put(catalogue, row("line-1", LINE), held("load-1", terminal=LOAD))
    assert ask(catalogue, "BK16 bottom").kind == "held"


def test_other_terminals_that_are_held_make_one_figure_no_answer_for_the_device(catalogue: Catalogue) -> None:
    put(catalogue, row("line-1", LINE), held("load-1", terminal=LOAD))
    answer = ask(catalogue, "BK16")
    assert answer.kind == "differ"
    assert "are held" in write_notice(answer).headline
    assert not write_notice(answer).blocks


@pytest.mark.parametrize(
    ("words", "found"),
    [("neutral bar", "n-1"), ("N-Schiene", "n-1"), ("listwa PE", "pe-1"), ("aardrails", "pe-1"), ("jordskena", "pe-1")],
)
def test_bars_are_told_by_their_names(catalogue: Catalogue, words: str, found: str) -> None:
    bars = Device(printed="Earth and neutral bars QB", family="tb")
    earth, neutral = (
        Terminal(printed=f"{name} bar", roles=(role,)) for name, role in (("Earth", "earth"), ("Neutral", "neutral"))
    )
    put(catalogue, row("n-1", neutral, device=bars), row("pe-1", earth, "2", device=bars))
    assert ids(ask(catalogue, words)) == [found]


def test_a_misspelling_is_offered_and_not_taken(catalogue: Catalogue) -> None:
    put(catalogue, row("line-1", LINE), row("load-1", LOAD, "2"))
    answer = ask(catalogue, "braeker BK16")
    assert (answer.kind, answer.rows, answer.not_understood) == ("unknown", (), ("braeker",))
    assert answer.offers[0].words == "breaker BK16"
    assert {choice.name for choice in answer.choices} == {"Line", "Load"}
    assert not any("2.5" in line for line in write_plain(write_notice(answer)))


def test_a_strange_word_beside_a_named_terminal_of_a_named_type_is_set_aside_aloud(catalogue: Catalogue) -> None:
    put(catalogue, row("line-1", LINE), row("load-1", LOAD, "2"))
    answer = ask(catalogue, "BK16 line zigzag")
    assert (answer.kind, ids(answer), answer.answered) == ("one", ["line-1"], False)
    notice = write_notice(answer)
    assert notice.headline == "Not understood: “zigzag”"
    assert not any(block.large for block in notice.blocks)
    assert ask(catalogue, "mcb line ZX99").rows == ()


def test_a_hint_names_the_part_that_keeps_the_rows_away(catalogue: Catalogue) -> None:
    put(catalogue, row("line-1", LINE))
    answer = ask(catalogue, "BK16 coil")
    assert answer.notes[0] == "Leave out the terminal “coil”, and there is 1 row (Line): torquary find bk16"
    assert [choice.name for choice in answer.choices] == ["Line"]


def test_rows_that_agree_are_one_block_and_a_list_of_places(catalogue: Catalogue) -> None:
    put(catalogue, row("line-1", LINE), row("load-1", LOAD))
    notice = write_notice(ask(catalogue, "BK16"))
    assert [block.large for block in notice.blocks] == ["2.5 N·m"]
    assert notice.places == ("Quillhaven Switchgear Breaker BK-16, Load, 1.5–16 mm², harbour_breakers.pdf, page 1",)


def test_a_sheet_without_a_bit_says_so(catalogue: Catalogue) -> None:
    put(catalogue, row("line-1", LINE))
    (block,) = write_notice(ask(catalogue, "BK16 line bit")).blocks
    assert ("driver bit", "not printed: match it to the screw head") in block.lines


def test_every_key_has_its_meaning_in_the_catalogue(catalogue: Catalogue) -> None:
    rows = catalogue.rows(
        "SELECT DISTINCT k.kind, k.concept FROM known_word AS k ANTI JOIN asked_term AS t ON t.key = k.concept"
    )
    assert [one for one in rows if one["kind"] != "ferrule"] == []
    assert Decimal(catalogue.rows("SELECT count(*) AS n FROM asked_term WHERE definition = ''")[0]["n"]) == 0


def test_a_cross_recess_stands_beside_a_slot_where_both_are_printed(tmp_path: Path) -> None:
    """Type Z of ISO 4757 is printed by its letter, without a trade mark."""
    sheet = tmp_path / "harbour_switch.csv"
    rows = ("Terminal,Conductor mm²,Torque N·m,Bit", "Line,1.5-16,2.5,cross Z2 / slot 1.0x5.5", "Load,1.5-16,2.5,Z2")
    sheet.write_text("Main switch HS 40\n\n" + "\n".join(rows) + "\n", encoding="utf-8")
    load_sheets(tmp_path / "harbour.duckdb", [sheet])
    with open_catalogue(tmp_path / "harbour.duckdb") as opened:
        both = "cross recess type Z, size 2 or slotted, size 1x5.5"
        for words, bit in (("line", both), ("load", "cross recess type Z, size 2")):
            answer = find(opened, read_question(opened, f"HS 40 {words}"))
            assert f"  driver bit:  {bit}" in write_plain(write_notice(answer))


@pytest.mark.parametrize("size", ["211.6kcmil", "1250.5 MCM", "AWG 56", "AWG 57", "59 AWG"])
def test_an_odd_gauge_is_answered(catalogue: Catalogue, size: str) -> None:
    """ASTM B258 ends at AWG 56: "AWG 57" is no size, and a word that nobody knows."""
    gauged = Conductor(printed="14–8 AWG", system="awg", min_awg="14", max_awg="8")
    put(catalogue, row("gauged", LINE, device=breaker("QS 63"), conductor=gauged))
    answer = ask(catalogue, f"QS 63 line {size}")
    assert not answer.answered
    assert bool(answer.not_understood) is ("57" in size or "59" in size)
