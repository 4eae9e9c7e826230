"""A figure whose device or terminal nothing printed names is released only with the name that a person gives."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from lxml import html
from sheets_by_hand import held, report, setting

from torquary_catalogue.command import main
from torquary_catalogue.store import open_catalogue
from torquary_catalogue.store.insert import load_report
from torquary_catalogue.store.words import refresh_words
from torquary_schema.values import Device, Missing, Setting, SheetReport, Terminal

WHO = ("--who", "Ines", "--why", "compared")


def lacking(name: str, *fields: str) -> Setting:
    """Return a held reading with a figure, of which these parts are missing."""
    reading = held(name, terminal=Terminal(printed="M5"), device=Device(printed=""))
    return replace(reading, missing=tuple(Missing(field=field, looked="Mz.") for field in fields))


SHEET = report(
    lacking("terminal-1", "terminal"), lacking("device-1", "device"), lacking("both-1", "terminal", "device"),
    lacking("screw-1", "screw"), lacking("none-1"),
)  # fmt: skip


@pytest.fixture
def harbour(tmp_path: Path) -> Path:
    return load(tmp_path / "harbour.duckdb", SHEET)


def load(path: Path, sheet: SheetReport, **how: bool) -> Path:
    with open_catalogue(path, writing=True) as opened:
        refresh_words(opened)
        load_report(opened, sheet, **how)
    return path


def run(catalogue: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, [*arguments, "--catalogue", str(catalogue)], catch_exceptions=False)


def states(catalogue: Path) -> dict[str, str]:
    with open_catalogue(catalogue) as opened:
        return {row["id"]: row["state"] for row in opened.rows("SELECT id, state FROM setting")}


@pytest.mark.parametrize(
    ("reading", "options"),
    [("terminal-1", "--terminal '…'"), ("device-1", "--device '…'"), ("both-1", "--device '…' --terminal '…'")],
)
@pytest.mark.parametrize("words", [("accept",), ("correct", "--torque", "2.5 Nm"), ("correct", "--conductor", "6 mm²")])
def test_it_is_not_released_without_the_name(
    harbour: Path, reading: str, options: str, words: tuple[str, ...]
) -> None:
    done = run(harbour, "decide", reading, *words, *WHO)
    assert (done.exit_code, done.output.count("\n")) == (2, 1)
    assert f"torquary decide {reading} correct {options}" in done.output
    assert set(states(harbour).values()) == {"held"}


@pytest.mark.parametrize(
    ("reading", "given"),
    [
        ("terminal-1", ("--terminal", "L1 and N")),
        ("device-1", ("--device", "Breaker QB 16")),
        ("both-1", ("--terminal", "L1", "--device", "Breaker QB 16", "--torque", "2.5 Nm")),
    ],
)
def test_the_name_given_releases_it_and_holds_when_the_sheet_is_read_anew(
    harbour: Path, reading: str, given: tuple[str, ...]
) -> None:
    assert run(harbour, "decide", reading, "correct", *given, *WHO).exit_code == 0
    assert run(harbour, "decide", reading, "accept", *WHO).exit_code == 0
    load(harbour, SHEET, again=True)
    assert states(harbour)[reading] == "released"


def test_one_of_two_names_is_not_enough(harbour: Path) -> None:
    done = run(harbour, "decide", "both-1", "correct", "--terminal", "L1", *WHO)
    assert done.exit_code == 2
    assert "which device the figure is for" in done.output


@pytest.mark.parametrize("reading", ["screw-1", "none-1"])
def test_a_sheet_that_names_no_device_at_all_and_other_doubts_are_accepted(harbour: Path, reading: str) -> None:
    assert run(harbour, "decide", reading, "accept", *WHO).exit_code == 0
    assert states(harbour)[reading] == "released"


def test_what_has_no_name_may_be_rejected(harbour: Path) -> None:
    assert run(harbour, "decide", "both-1", "reject", *WHO).exit_code == 0


def test_the_device_given_is_found_and_kept(harbour: Path) -> None:
    name = ("--device", "Miniature circuit breaker QB 16", "--terminal", "Load")
    assert run(harbour, "decide", "both-1", "correct", *name, *WHO).exit_code == 0
    for words in ("mcb load 10mm2", "QB 16 load"):
        rows = json.loads(run(harbour, "find", words, "--json").stdout)["rows"]
        assert [(row["id"], row["device_printed"], row["family"]) for row in rows] == [("both-1", name[1], "mcb")]
    with open_catalogue(harbour) as opened:
        (kept,) = opened.rows("SELECT device_read, device_printed, terminal_read, terminal_printed FROM name_given")
        (row,) = opened.rows("SELECT missing FROM setting WHERE id = 'both-1'")
    assert [*kept.values()] == ["", name[1], "M5", "Load"]
    assert row["missing"] == []


def test_an_earlier_acceptance_without_a_name_is_held_when_its_sheet_is_read_anew(harbour: Path) -> None:
    """Versions before this one took it, and gave the figure out for no terminal."""
    with open_catalogue(harbour, writing=True) as opened:
        opened.connection.execute("UPDATE setting SET missing = [] WHERE id = 'terminal-1'")
    run(harbour, "decide", "terminal-1", "accept", *WHO)
    assert states(harbour)["terminal-1"] == "released"
    load(harbour, SHEET, again=True)
    assert states(harbour)["terminal-1"] == "held"


def test_a_blank_name_is_none(harbour: Path) -> None:
    done = run(harbour, "decide", "device-1", "correct", "--device", " ", *WHO)
    assert (done.exit_code, done.output.count("\n")) == (2, 1)
    assert "--device is blank" in done.output


def test_the_page_asks_for_the_name_and_its_file_gives_it(harbour: Path, tmp_path: Path) -> None:
    """There a reading without a name or unit cannot be accepted, and the field of the name must be filled in."""
    run(harbour, "held", "--pictures", str(tmp_path / "look"))
    page = html.parse(str(tmp_path / "look" / "held.html")).getroot()
    asked = {
        one.get("data-id"): (
            one.find(".//input[@value='accept']").get("disabled") is not None,
            [field.get("name") for field in one.findall(".//input[@required]")],
        )
        for one in page.findall(".//article")
    }
    assert asked == {
        "terminal-1": (True, ["terminal"]), "device-1": (True, ["device"]), "both-1": (True, ["terminal", "device"]),
        "screw-1": (True, []), "none-1": (True, []),
    }  # fmt: skip
    decision = {"id": "both-1", "verdict": "correct", "terminal": "L1", "device": "Breaker QB 16"}
    file = tmp_path / "decisions.json"
    record = {"torquary_decisions": 1, "who": "Ines", "why": "compared", "decisions": [decision]}
    file.write_text(json.dumps(record), encoding="utf-8")
    assert run(harbour, "decide", "--from", str(file)).exit_code == 0
    assert states(harbour)["both-1"] == "released"


def test_what_a_reading_says_itself_needs_no_name(tmp_path: Path) -> None:
    catalogue = load(tmp_path / "other.duckdb", report(setting("one-1", state="held")))
    assert run(catalogue, "decide", "one-1", "accept", *WHO).exit_code == 0
