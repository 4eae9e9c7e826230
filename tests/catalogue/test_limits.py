"""An upper bound alone is a limit: it answers as one, in every form of an answer, and never as a setting."""

from __future__ import annotations

import csv
import json
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from sheets_by_hand import held, mm2, report, setting, torque

from torquary_catalogue.command import main
from torquary_catalogue.decide import Wish, decide
from torquary_catalogue.export import export
from torquary_catalogue.find import Answer, find, read_question
from torquary_catalogue.show.figures import write_figures
from torquary_catalogue.show.notice import write_notice
from torquary_catalogue.show.plain import write_plain
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.insert import load_report
from torquary_schema.report import load_json, setting_to_dict
from torquary_schema.values import Conductor, Device, Setting, Terminal, Torque

LIMIT = Torque(
    printed="max. 0.8", unit_printed="N·m", min_nm=None, nominal_nm=None, max_nm=None, limit_nm=Decimal("0.8")
)
BOTH = replace(torque("2.0, max. 2.5", "2", "2"), limit_nm=Decimal("2.5"))


def ask(catalogue: Catalogue, *settings: Setting) -> Answer:
    load_report(catalogue, report(*settings))
    return find(catalogue, read_question(catalogue, "mcb 10mm2 outgoing"))


def shown(answer: Answer) -> list[str]:
    return write_plain(write_notice(answer))


def run(catalogue: Catalogue, *arguments: str) -> Result:
    catalogue.close()
    words = [*arguments, "--catalogue", str(catalogue.path)]
    return CliRunner().invoke(main, words, catch_exceptions=False)


@pytest.mark.parametrize(
    ("figures", "words"),
    [
        ((None, None, None, "0.8"), "not more than 0.8 N·m; no setting is printed"),
        (("2", "2", "2", "2.5"), "2 N·m, at most 2.5 N·m"),
        (("2", None, "2.2", "2.5"), "2–2.2 N·m, at most 2.5 N·m"),
        (("2", "2", "2", None), "2 N·m"),
        ((None, None, None, None), ""),
    ],
)
def test_words(figures: tuple[str | None, ...], words: str) -> None:
    assert write_figures([None if one is None else Decimal(one) for one in figures]) == words


def test_a_limit_is_rounded_down() -> None:
    """Shown in another unit it is never above what is printed."""
    assert write_figures([None, None, None, Decimal("0.8")], "pound_inch").startswith("not more than ≈7.08 lb·in")


def test_a_limit_alone_is_one_answer_that_says_it_is_no_setting(catalogue: Catalogue) -> None:
    answer = ask(catalogue, setting("one-1", torque=LIMIT))
    assert (answer.kind, answer.answered) == ("one", True)
    (row,) = answer.rows
    assert row.figures == (None, None, None, Decimal("0.8"))
    lines = shown(answer)
    assert lines[0].startswith("One limit, no setting is printed")
    assert "  limit:       not more than 0.8 N·m; no setting is printed" in lines
    assert not any(block.large for block in write_notice(answer).blocks)


def test_limits_agree_and_are_counted_as_limits(catalogue: Catalogue) -> None:
    answer = ask(catalogue, setting("one-1", torque=LIMIT), setting("two-1", torque=LIMIT, conductor=mm2("1", "10")))
    assert answer.kind == "agree"
    assert shown(answer)[0].startswith("2 rows agree on a limit, no setting is printed")


def test_the_same_setting_with_another_limit_differs(catalogue: Catalogue) -> None:
    wider = replace(BOTH, limit_nm=Decimal("2.8"))
    answer = ask(catalogue, setting("one-1", torque=BOTH), setting("two-1", torque=wider, conductor=mm2("1", "10")))
    assert answer.kind == "differ"
    assert [one.aspect for one in answer.differences if one.settles] == ["conductor"]


def test_a_setting_is_shown_with_its_limit(catalogue: Catalogue) -> None:
    answer = ask(catalogue, setting("one-1", torque=BOTH))
    assert answer.kind == "one"
    lines = shown(answer)
    assert lines[0].startswith("One figure")
    assert "2 N·m" in lines
    assert "  limit:       at most 2.5 N·m" in lines


def test_a_limit_beside_a_setting_is_shown_with_it_and_is_no_setting(catalogue: Catalogue) -> None:
    """Nothing is averaged or chosen: both are shown, each as what it is."""
    answer = ask(catalogue, setting("one-1"), setting("two-1", torque=LIMIT))
    assert answer.kind == "differ"
    lines = shown(answer)
    assert "  2.5 N·m" in lines
    assert "  not more than 0.8 N·m; no setting is printed" in lines
    assert "1 row prints a limit alone: not more than that, which is no setting." in lines
    assert "The rows say the same in all but the figure: see the sheet." not in lines


def test_every_form_of_the_answer_has_it(catalogue: Catalogue, tmp_path: Path) -> None:
    """The macro, CSV, Parquet, JSON Lines and find --json."""
    load_report(catalogue, report(setting("one-1", torque=LIMIT)))
    columns = ("min_nm", "nominal_nm", "max_nm", "limit_nm")
    (row,) = catalogue.rows(f"SELECT {', '.join(columns)} FROM find_setting(family := 'mcb', mm2 := 10)")
    assert [*row.values()] == [None, None, None, Decimal("0.8")]
    for ending in ("csv", "parquet", "jsonl"):
        export(catalogue, tmp_path / f"out.{ending}")
    with (tmp_path / "out.csv").open(encoding="utf-8-sig", newline="") as file:
        (cells,) = csv.DictReader(file)
    assert [cells[name] for name in columns] == ["", "", "", "0.8"]
    (row,) = catalogue.rows(f"SELECT {', '.join(columns)} FROM '{tmp_path / 'out.parquet'}'")
    assert [*row.values()] == [None, None, None, 0.8]
    record = load_json((tmp_path / "out.jsonl").read_text("utf-8"))
    assert record == record | setting_to_dict(setting("one-1", torque=LIMIT))
    (found,) = json.loads(run(catalogue, "find", "mcb", "10mm2", "--json").stdout)["rows"]
    assert [found[name] for name in columns] == [None, None, None, 0.8]


def test_a_held_limit_is_no_answer(catalogue: Catalogue) -> None:
    """The table itself refuses a limit in the answering columns of a held setting."""
    load_report(catalogue, report(replace(held("held-1"), torque=LIMIT)))
    (row,) = catalogue.rows("SELECT limit_nm, read_limit_nm FROM setting")
    assert [*row.values()] == [None, Decimal("0.8")]
    with pytest.raises(Exception, match="CHECK constraint"):
        catalogue.connection.execute("UPDATE setting SET limit_nm = 0.8")


@pytest.mark.parametrize(
    ("verdict", "typed", "figures"),
    [
        ("accept", None, [None, None, None, Decimal("0.8")]),
        ("correct", "max. 0.6 N·m", [None, None, None, Decimal("0.6")]),
        ("correct", "0.6 N·m", [Decimal("0.6")] * 3 + [None]),
        ("reject", None, [None] * 4),
    ],
)
def test_a_decision_about_a_limit(catalogue: Catalogue, verdict: Any, typed: str | None, figures: list[Any]) -> None:
    sheet = report(replace(held("held-1"), torque=LIMIT))
    load_report(catalogue, sheet)
    decide(catalogue, [Wish(setting="held-1", verdict=verdict, who="Ines", why="seen", torque=typed)])
    for _ in range(2):  # and again when the sheet is read anew
        for table in ("setting", "decision"):
            (row,) = catalogue.rows(f"SELECT min_nm, nominal_nm, max_nm, limit_nm FROM {table}")
            assert [*row.values()] == figures
        load_report(catalogue, sheet, again=True)


def test_a_corrected_limit_is_said_as_one(catalogue: Catalogue) -> None:
    load_report(catalogue, report(held("held-1")))
    done = run(catalogue, "decide", "held-1", "correct", "--torque", "max. 0.8 N·m", "--who", "I", "--why", "seen")
    assert done.stdout.endswith("held → released, not more than 0.8 N·m; no setting is printed\n")


def test_a_decision_about_one_limit_asks_where_another_is_read(catalogue: Catalogue) -> None:
    load_report(catalogue, report(setting("one-1", torque=LIMIT)))
    decide(catalogue, [Wish(setting="one-1", verdict="accept", who="Ines", why="seen")])
    other = replace(LIMIT, limit_nm=Decimal("8"))
    load_report(catalogue, report(setting("one-1", torque=other)), again=True)
    (row,) = catalogue.rows("SELECT s.state, f.message FROM setting AS s JOIN finding AS f ON f.setting = s.id")
    assert row["state"] == "held"
    assert "(torque at most 0.8 N·m then, at most 8 N·m now)" in row["message"]


ANY = ("terminal", "Terminals", "all terminals", "aller Klemmen", "toutes les bornes", "すべての端子", "")


@pytest.mark.parametrize("label", ANY)
@pytest.mark.parametrize("words", ["mcb 10mm2", "mcb 10mm2 outgoing", "mcb outgoing"])
def test_a_limit_for_all_terminals_is_said_beside_the_setting_of_one(
    catalogue: Catalogue, label: str, words: str
) -> None:
    every = setting("all-1", torque=LIMIT, terminal=Terminal(printed=label), conductor=Conductor())
    load_report(catalogue, report(setting("one-1", torque=torque("0.6", "0.6", "0.6")), every))
    answer = find(catalogue, read_question(catalogue, words))
    assert (answer.kind, [row.id for row in answer.rows]) == ("one", ["one-1"])
    assert "For all terminals the sheet prints a limit: “max. 0.8” (harbour_breakers.pdf page 1)." in answer.notes


def test_a_limit_for_all_terminals_answers_for_one_that_has_no_figure(catalogue: Catalogue) -> None:
    every = setting("all-1", torque=LIMIT, terminal=Terminal(printed="all terminals"), conductor=Conductor())
    load_report(catalogue, report(setting("one-1"), every))
    for words in ("mcb earth", "mcb N 10mm2"):
        answer = find(catalogue, read_question(catalogue, words))
        assert (answer.kind, [row.id for row in answer.rows]) == ("one", ["all-1"])
        assert answer.rows[0].is_limit
        assert not any(note.startswith("For all terminals") for note in answer.notes)


def test_a_limit_for_all_terminals_of_another_device_is_not_said(catalogue: Catalogue) -> None:
    other = Device(printed="Breaker BK-20", family="mcb", series="BK", model="BK-20")
    every = setting("all-1", torque=LIMIT, terminal=Terminal(printed="all terminals"), device=other)
    load_report(catalogue, report(setting("one-1"), every))
    assert find(catalogue, read_question(catalogue, "BK-16 outgoing")).notes == ()


def test_a_limit_for_all_terminals_alone_is_one_answer(catalogue: Catalogue) -> None:
    answer = ask(catalogue, setting("all-1", torque=LIMIT, terminal=Terminal(printed="any terminal")))
    assert (answer.kind, [row.id for row in answer.rows]) == ("one", ["all-1"])
