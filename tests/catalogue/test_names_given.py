"""A terminal or a conductor that was read wrongly, put right by a person: it answers under its own name."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from sheets_by_hand import held, mm2, report, setting

from torquary_catalogue.command import main
from torquary_catalogue.decide import Wish, decide
from torquary_catalogue.store import Catalogue, open_catalogue
from torquary_catalogue.store.insert import load_report
from torquary_catalogue.store.words import refresh_words
from torquary_schema.values import Terminal, Torque

MISREAD = Terminal(printed="l2/Tl")
SHEET = report(setting("one-1"), held("held-1", terminal=MISREAD, conductor=mm2("25", "85")))
WHO = ("--who", "Ines", "--why", "compared with the picture")


@pytest.fixture
def harbour(tmp_path: Path) -> Path:
    path = tmp_path / "harbour.duckdb"
    with open_catalogue(path, writing=True) as catalogue:
        refresh_words(catalogue)
        load_report(catalogue, SHEET)
    return path


def run(catalogue: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, [*arguments, "--catalogue", str(catalogue)], catch_exceptions=False)


def found(catalogue: Path, *question: str) -> list[tuple[str, str, float]]:
    rows = json.loads(run(catalogue, "find", *question, "--json").stdout)["rows"]
    return [(row["terminal_printed"], row["conductor_printed"], row["max_nm"]) for row in rows if row["fit"] == "size"]


def columns(catalogue: Catalogue) -> tuple[str, list[str], str, list[str]]:
    (row,) = catalogue.rows(
        "SELECT terminal_printed, roles, conductor_printed, stranding FROM current_setting WHERE id = 'held-1'"
    )
    return row["terminal_printed"], row["roles"], row["conductor_printed"], row["stranding"]


def test_the_figure_as_read_answers_for_the_terminal_and_size_given(harbour: Path) -> None:
    done = run(harbour, "decide", "held-1", "correct", "--terminal", "L1", "--conductor", "25 - 35 mm²", *WHO)
    assert done.exit_code == 0, done.output
    assert found(harbour, "mcb", "L1", "30mm2") == [("L1", "25 - 35 mm²", 8.8)]
    assert found(harbour, "mcb", "L1", "50mm2") == []
    told = run(harbour, "find", "mcb", "L1", "30mm2").stdout
    assert "corrected in its device, terminal or conductor by Ines" in told


@pytest.mark.parametrize("words", ["phase", "neutral", "N", "L2"])
def test_a_label_given_answers_for_each_role_that_it_names(harbour: Path, words: str) -> None:
    assert run(harbour, "decide", "held-1", "correct", "--terminal", "L1, L2, L3 and N", *WHO).exit_code == 0
    assert [label for label, _, _ in found(harbour, "mcb", words, "50mm2")] == ["L1, L2, L3 and N"]


def test_the_words_found_are_those_of_the_label_given(harbour: Path) -> None:
    assert run(harbour, "decide", "held-1", "correct", "--terminal", "Relay coil K7", *WHO).exit_code == 0
    with open_catalogue(harbour) as catalogue:
        (row,) = catalogue.rows("SELECT terminal_words, all_words FROM setting WHERE id = 'held-1'")
    assert "k7" in row["terminal_words"].split()
    assert {"k7", "quillhaven", "harbour"} <= set(row["all_words"].split())
    assert not {"l2", "tl"} & set(row["all_words"].split())


def test_what_was_read_and_what_was_given_are_both_kept(harbour: Path) -> None:
    run(harbour, "decide", "held-1", "correct", "--terminal", "L1", *WHO)
    with open_catalogue(harbour) as catalogue:
        (kept,) = catalogue.rows("""
            SELECT g.terminal_read, g.terminal_printed, g.conductor_printed, d.verdict, d.torque_given, d.max_nm
            FROM name_given AS g JOIN decision AS d USING (sheet, setting, decided_at)""")
    assert [*kept.values()][:5] == ["l2/Tl", "L1", None, "correct", None]
    assert f"{kept['max_nm'].normalize():f}" == "8.8"


def test_names_given_hold_when_the_same_content_is_read_anew(harbour: Path) -> None:
    """A later word on the figure leaves them, and so does reading; the last word on each holds."""
    flexible = report(held("held-1", terminal=MISREAD, conductor=mm2("25", "85", stranding=("flexible",))))
    with open_catalogue(harbour, writing=True) as catalogue:
        load_report(catalogue, flexible, again=True)
        for given in ({"terminal": "L7"}, {"terminal": "L1", "conductor": "25–35 mm²"}, {"torque": "3 Nm"}):
            decide(catalogue, [Wish(setting="held-1", verdict="correct", who="Ines", why="seen", **given)])
        assert load_report(catalogue, flexible, again=True).outcome == "loaded"
        assert columns(catalogue) == ("L1", ["line"], "25–35 mm²", ["flexible"])
        (row,) = catalogue.rows("SELECT state, max_nm FROM setting WHERE id = 'held-1'")
    assert (row["state"], f"{row['max_nm'].normalize():f}") == ("released", "3")
    assert found(harbour, "mcb", "L1", "30mm2") == [("L1", "25–35 mm²", 3)]


def test_names_in_a_file_of_decisions_and_fields_on_its_page(harbour: Path, tmp_path: Path) -> None:
    run(harbour, "held", "--pictures", str(tmp_path / "look"))
    page = (tmp_path / "look" / "held.html").read_text("utf-8")
    counts = [page.count(f'<input type="text" name="{part}"') for part in ("torque", "terminal", "conductor")]
    assert counts == [1, 1, 1]
    decision = {"id": "held-1", "verdict": "correct", "terminal": "L1", "conductor": "35–50 mm²", "torque": "4 Nm"}
    record = {"torquary_decisions": 1, "who": "Ines", "why": "compared", "decisions": [decision]}
    (tmp_path / "decisions.json").write_text(json.dumps(record), encoding="utf-8")
    assert run(harbour, "decide", "--from", str(tmp_path / "decisions.json")).exit_code == 0
    assert found(harbour, "mcb", "L1", "50mm2") == [("L1", "35–50 mm²", 4)]


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("accept", "--terminal", "L1"), "the others take none"),
        (("reject", "--conductor", "6 mm²"), "the others take none"),
        (("correct", "--terminal", " "), "--terminal is blank"),
        (("correct", "--conductor", "25–35"), "--conductor '25–35' cannot be taken"),
        (("correct", "--conductor", "flexible"), "not one size or range with its unit"),
        (("correct", "--conductor", "1.250 mm²"), "cannot be taken"),
        (("correct", "--conductor", f"{9:9<20} mm²"), "cannot be taken"),
        (("correct", "--torque", f"{9:9<20} Nm"), "cannot be taken"),
        (("correct", "--terminal", "L1", "--torque", "2.5"), "--torque '2.5' cannot be taken"),
    ],
)
def test_a_name_that_cannot_be_taken_changes_nothing(harbour: Path, arguments: tuple[str, ...], says: str) -> None:
    with open_catalogue(harbour) as catalogue:
        before = columns(catalogue)
    result = run(harbour, "decide", "held-1", *arguments, *WHO)
    assert (result.exit_code, result.output.count("\n")) == (2, 1)
    assert says in result.output
    with open_catalogue(harbour) as catalogue:
        assert catalogue.rows("FROM decision") == []
        assert columns(catalogue) == before


def test_a_name_alone_releases_no_reading_without_a_figure(tmp_path: Path) -> None:
    path = tmp_path / "quay.duckdb"
    with open_catalogue(path, writing=True) as catalogue:
        unread = Torque(printed="?", unit_printed="", min_nm=None, nominal_nm=None, max_nm=None)
        waiting = {"held-1": None, "held-2": unread}
        load_report(catalogue, report(*(setting(name, state="held", torque=one) for name, one in waiting.items())))
    for name in ("held-1", "held-2"):
        result = run(path, "decide", name, "correct", "--terminal", "L1", *WHO)
        assert (result.exit_code, "no figure could be read" in result.output) == (2, True)
