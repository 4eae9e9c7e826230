"""Without the rules, a figure that a person corrected, or opened again to be looked at, is given out as read.

The code comes from the catalogue, which alone knows what was decided; so its sheet is loaded, not only read.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from unittest.mock import patch

from torquary_catalogue.decide import AnswerWish, Verdict, Wish, decide
from torquary_catalogue.store import open_catalogue
from torquary_catalogue.store.answers import Given
from torquary_catalogue.store.insert import load_report
from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_ingest.profiles import read_profile
from torquary_schema import findings as finding_codes

SHEET = "Quillhaven\nQS\nTerminal;Conductor mm²;Mz.\nL1;10;2.5\n"
PROFILE = (
    '{{"torquary_profile": 1, "maker": "Quillhaven", '
    '"headings": [{{"printed": "Mz.", "means": "torque", "unit": "{unit}"}}]}}'
)


@contextmanager
def switched_off(code: str, where: str = "decisions") -> Iterator[None]:
    with patch(
        f"torquary_catalogue.store.{where}.holds", lambda other: other != code and finding_codes.holds(other)
    ):
        yield


def load_twice(folder: Path) -> dict[str, str]:
    """Correct the figure under one unit, read the sheet anew under another; return its state and findings."""
    sheet, profile = folder / "sheet.csv", folder / "profile.json"
    sheet.write_text(SHEET, encoding="utf-8")
    with open_catalogue(folder / "trust.duckdb", writing=True) as catalogue:
        for unit in ("lb·in", "N·m"):
            profile.write_text(PROFILE.format(unit=unit), encoding="utf-8")
            read = read_one(sheet, OpenWish(), (read_profile(profile),))
            load_report(catalogue, read, again=True)
            if unit == "lb·in":
                wish = Wish(setting=read.settings[0].id, verdict="correct", who="Ines", why="seen", torque="0.3 Nm")
                decide(catalogue, [wish])
        (row,) = catalogue.rows("SELECT state, findings FROM current_setting")
    return {"state": row["state"], "codes": " ".join(finding["code"] for finding in row["findings"] or ())}


def test_the_figure_is_held(tmp_path: Path) -> None:
    told = load_twice(tmp_path)
    assert told["state"] == "held"
    assert "decision_unconfirmed" in told["codes"].split()


def test_without_the_rule_it_is_given_out_as_read(tmp_path: Path) -> None:
    with switched_off("decision_unconfirmed"):
        assert load_twice(tmp_path)["state"] == "released"


def open_again(folder: Path) -> str:
    """Reject a figure and open it again; return its state."""
    sheet = folder / "sheet.csv"
    sheet.write_text("Main switch QS 63\nTerminal;Conductor mm²;Torque N·m\nL1;10;2.5\n", encoding="utf-8")
    with open_catalogue(folder / "trust.duckdb", writing=True) as catalogue:
        read = read_one(sheet, OpenWish())
        load_report(catalogue, read)
        verdicts: tuple[Verdict, ...] = ("reject", "reopen")
        for verdict in verdicts:
            decide(catalogue, [Wish(setting=read.settings[0].id, verdict=verdict, who="Ines", why="seen")])
        (row,) = catalogue.rows("SELECT state FROM current_setting")
    return str(row["state"])


def test_a_figure_that_was_opened_again_is_held(tmp_path: Path) -> None:
    assert open_again(tmp_path) == "held"


def test_without_that_rule_it_is_given_out_as_read(tmp_path: Path) -> None:
    with switched_off("decision_reopened"):
        assert open_again(tmp_path) == "released"


NAMELESS = "Wharfside\nMain switch QS 63\n\nPack;mm²;Tightening torque N·m\n10;4;0.5\n5;4;0.8\n"


def name_all(folder: Path) -> set[str]:
    """Give one terminal to two rows of one device and conductor with two torques; return their states."""
    sheet = folder / "sheet.csv"
    sheet.write_text(NAMELESS, encoding="utf-8")
    with open_catalogue(folder / "trust.duckdb", writing=True) as catalogue:
        read = read_one(sheet, OpenWish())
        load_report(catalogue, read)
        given = Given(terminal="L1")
        decide(catalogue, [AnswerWish(setting=read.settings[0].id, given=given, who="Ines", why="seen")])
        return {row["state"] for row in catalogue.rows("SELECT state FROM current_setting")}


def test_one_name_for_two_torques_releases_neither(tmp_path: Path) -> None:
    assert name_all(tmp_path) == {"held"}


def test_without_the_rule_both_are_given_out(tmp_path: Path) -> None:
    with switched_off("answer_contradicted", "answered"):
        assert name_all(tmp_path) == {"released"}
