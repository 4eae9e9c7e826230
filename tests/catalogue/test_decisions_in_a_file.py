"""Held readings decided together: the page that shows them, and the file that says what is decided."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner, Result
from lxml import html
from sheets_by_hand import held, mm2, report, setting

from torquary_catalogue.command import main
from torquary_catalogue.store import open_catalogue
from torquary_catalogue.store.insert import load_report
from torquary_catalogue.store.words import refresh_words
from torquary_schema.validation import read_schema

IDS = ("held-1", "held-2", "held-3")
SIZES = ("25", "35"), ("50", "70"), ("95", "120")


@pytest.fixture
def harbour(tmp_path: Path) -> Path:
    path = tmp_path / "harbour.duckdb"
    with open_catalogue(path, writing=True) as catalogue:
        refresh_words(catalogue)
        waiting = [held(name, conductor=mm2(*size)) for name, size in zip(IDS, SIZES, strict=True)]
        load_report(catalogue, report(setting("one-1"), *waiting), pictures={"held-1": b"\x89PNG"})
    return path


def run(catalogue: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, [*arguments, "--catalogue", str(catalogue)], catch_exceptions=False)


def save(folder: Path, *decisions: dict[str, str], **changes: Any) -> Path:
    """Write a file of decisions as the page saves it."""
    record = {"torquary_decisions": 1, "who": "Ines", "why": "compared", "decisions": [*decisions], **changes}
    path = folder / "decisions.json"
    path.write_text(json.dumps(record), encoding="utf-8")
    return path


def states(catalogue: Path) -> dict[str, str]:
    with open_catalogue(catalogue) as opened:
        return {row["id"]: row["state"] for row in opened.rows("SELECT id, state FROM setting WHERE id LIKE 'held%'")}


def test_the_page_shows_each_held_reading_with_nothing_decided(harbour: Path, tmp_path: Path) -> None:
    done = run(harbour, "held", "--pictures", str(tmp_path / "look"))
    assert f"open {tmp_path / 'look' / 'held.html'}" in done.stdout
    page = html.parse(str(tmp_path / "look" / "held.html")).getroot()
    articles = page.findall(".//article")
    assert [one.get("data-id") for one in articles] == [*IDS]
    assert [one.get("value") for one in page.findall(".//article//input[@checked]")] == ["leave"] * 3
    assert [image.get("src") for image in page.findall(".//article//img")] == ["held-1.png"]
    with open_catalogue(harbour) as opened:
        reasons = {row["message"] for row in opened.rows("SELECT message FROM finding WHERE setting LIKE 'held%'")}
    assert reasons <= {item.text for item in page.findall(".//article//li")}


def test_what_sheets_print_stays_text_on_the_page(tmp_path: Path) -> None:
    path = tmp_path / "odd.duckdb"
    with open_catalogue(path, writing=True) as catalogue:
        refresh_words(catalogue)
        load_report(catalogue, report(held("held-1"), file='"><script>x</script>.pdf'))
    run(path, "held", "--pictures", str(tmp_path / "look"))
    page = html.parse(str(tmp_path / "look" / "held.html")).getroot()
    assert len(page.findall(".//script")) == 1
    assert "<script>x</script>.pdf" in page.find(".//h2").text


def test_decisions_in_a_file_are_carried_out_together(harbour: Path, tmp_path: Path) -> None:
    file = save(
        tmp_path,
        {"id": "held-1", "verdict": "accept"},
        {"id": "held-2", "verdict": "correct", "torque": "2.5 Nm", "why": "maker's letter"},
        {"id": "held-3", "verdict": "reject"},
    )
    jsonschema.validate(json.loads(file.read_text("utf-8")), read_schema("decisions"))
    done = run(harbour, "decide", "--from", str(file))
    assert done.exit_code == 0, done.output
    assert states(harbour) == {"held-1": "released", "held-2": "released", "held-3": "rejected"}
    with open_catalogue(harbour) as opened:
        kept = opened.rows("SELECT setting, who, why FROM decision ORDER BY setting")
    assert [tuple(row.values()) for row in kept] == [
        ("held-1", "Ines", "compared"),
        ("held-2", "Ines", "maker's letter"),
        ("held-3", "Ines", "compared"),
    ]


@pytest.mark.parametrize(
    ("second", "told"),
    [
        ({"id": "held-9", "verdict": "accept"}, "no setting in force has the id 'held-9'"),
        ({"id": "held-1", "verdict": "reject"}, "held-1 is decided twice"),
        ({"id": "held-2", "verdict": "correct"}, "correct needs --torque"),
        ({"id": "held-2", "verdict": "correct", "torque": "2.5"}, "cannot be taken"),
        ({"id": "held-2", "verdict": "accept", "printed": "9.9"}, "was read anew since"),
        ({"id": "held-2", "verdict": "maybe"}, "decisions[1].verdict: 'maybe' is not allowed"),
        ({"id": "held-2"}, "the field 'verdict' is missing"),
    ],
)
def test_one_decision_that_cannot_be_carried_out_stops_all(
    harbour: Path, tmp_path: Path, second: dict[str, str], told: str
) -> None:
    before = states(harbour)
    done = run(harbour, "decide", "--from", str(save(tmp_path, {"id": "held-1", "verdict": "accept"}, second)))
    assert (done.exit_code, done.output.count("\n")) == (2, 1)
    assert told in done.output
    assert states(harbour) == before == dict.fromkeys(IDS, "held")


def test_a_file_without_person_or_reason_decides_nothing(harbour: Path, tmp_path: Path) -> None:
    for changes in ({"who": ""}, {"who": " "}, {"why": ""}, {"decisions": []}, {"torquary_decisions": 2}):
        file = save(tmp_path, **{"decisions": [{"id": "held-1", "verdict": "accept"}], **changes})
        assert run(harbour, "decide", "--from", str(file)).exit_code == 2
    assert states(harbour) == dict.fromkeys(IDS, "held")


def test_a_file_stands_alone(harbour: Path, tmp_path: Path) -> None:
    file = save(tmp_path, {"id": "held-1", "verdict": "accept"})
    assert "leave out the rest" in run(harbour, "decide", "held-1", "--from", str(file)).output
    assert "cannot be opened" in run(harbour, "decide", "--from", str(tmp_path / "none.json")).output
    assert "or --from FILE" in run(harbour, "decide", "held-1").output
    assert states(harbour) == dict.fromkeys(IDS, "held")


@pytest.mark.parametrize(
    ("wrong", "line"),
    [
        ({"id": "held-2", "verdict": "correct", "torque": "2.5"}, 10),
        ({"id": "held-2", "verdict": "maybe"}, 12),
        ({"id": "held-2"}, 10),
        ({"id": "held-9", "verdict": "reject"}, 10),
        ({"id": "held-1", "verdict": "reject"}, 10),
        ({"id": "held-2", "verdict": "accept", "unit": "N·m"}, 10),
        ({"id": "held-2", "verdict": "answer", "reach": "list", "terminal": "L1"}, 10),
        ({"id": "held-2", "verdict": "answer", "reach": "world", "unit": "N·m"}, 13),
    ],
)
def test_the_line_that_is_at_fault_is_named(harbour: Path, tmp_path: Path, wrong: dict[str, str], line: int) -> None:
    decisions = [{"id": "held-1", "verdict": "accept"}, wrong]
    record = {"torquary_decisions": 1, "who": "Ines", "why": "compared", "decisions": decisions}
    file = tmp_path / "decisions.json"
    file.write_text(json.dumps(record, indent=1), encoding="utf-8")
    done = run(harbour, "decide", "--from", str(file))
    assert (done.exit_code, done.output.count("\n")) == (2, 1)
    assert f"decisions.json, line {line}: " in done.output
    assert states(harbour) == dict.fromkeys(IDS, "held")
