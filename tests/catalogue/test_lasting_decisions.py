"""A decision stays with what was printed where, whatever the reading of it is called."""

from __future__ import annotations

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
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.insert import Loaded, load_report
from torquary_schema.values import Box, Device, Finding, Place, Setting, Terminal

DOUBT = Finding(code="units_disagree", message="Two units disagree.")
CELL = Place(page=1, table=1, row=2, column=3, box=Box(x0=72, top=100, x1=300, bottom=112), text="L1 | 2.5")
ONE = setting("one-1", place=CELL)


def say(catalogue: Catalogue, reading: str, verdict: Any, typed: str | None = None, **given: str) -> None:
    decide(catalogue, [Wish(setting=reading, verdict=verdict, who="Ines", why="compared", torque=typed, **given)])


def read_anew(catalogue: Catalogue, *settings: Setting) -> Loaded:
    return load_report(catalogue, report(*settings), again=True)


def told(catalogue: Catalogue) -> dict[str, tuple[str, str | None]]:
    """Id of each setting → its state and released figure."""
    rows = catalogue.rows("SELECT id, state, max_nm FROM setting ORDER BY id")
    return {row["id"]: (row["state"], row["max_nm"] and f"{row['max_nm'].normalize():f}") for row in rows}


def asked(catalogue: Catalogue) -> dict[str, str]:
    rows = catalogue.rows("SELECT setting, message FROM finding WHERE code = 'decision_unconfirmed'")
    return {row["setting"]: row["message"] for row in rows}


@pytest.mark.parametrize(
    ("verdict", "typed", "after"),
    [
        ("accept", None, ("released", "2.5")),
        ("correct", "1.2 Nm", ("released", "1.2")),
        ("reject", None, ("rejected", None)),
    ],
)
def test_it_goes_with_the_print_to_another_id(
    catalogue: Catalogue, verdict: Any, typed: str | None, after: tuple[str, str | None]
) -> None:
    """A reader that got better may move the box by a little and give another id; the print and its reading are one."""
    load_report(catalogue, report(ONE))
    say(catalogue, "one-1", verdict, typed)
    moved = replace(CELL, row=3, box=Box(x0=70, top=99, x1=298, bottom=113), text="L1 2.5")
    loaded = read_anew(catalogue, setting("anew-1", place=moved))
    assert told(catalogue) == {"anew-1": after}
    assert catalogue.rows("SELECT verdict, who FROM current_setting") == [{"verdict": verdict, "who": "Ines"}]
    assert loaded.findings == ()
    assert (loaded.counts.released, loaded.counts.corrected, loaded.counts.rejected) == (
        int(verdict == "accept"), int(verdict == "correct"), int(verdict == "reject"),
    )  # fmt: skip


def test_names_that_were_given_go_with_it(catalogue: Catalogue) -> None:
    load_report(catalogue, report(ONE))
    say(catalogue, "one-1", "correct", terminal="L7", conductor="4–10 mm²")
    read_anew(catalogue, replace(ONE, id="anew-1"))
    (row,) = catalogue.rows("SELECT terminal_printed, conductor_printed, state FROM setting WHERE id = 'anew-1'")
    assert [*row.values()] == ["L7", "4–10 mm²", "released"]
    read_anew(catalogue, ONE)  # and back again
    assert catalogue.rows("SELECT id FROM setting WHERE terminal_printed = 'L7'") == [{"id": "one-1"}]


OTHERWISE: dict[str, tuple[dict[str, Any], str]] = {
    "terminal": ({"terminal": Terminal(printed="L9")}, "terminal “Outgoing” then, “L9” now"),
    "torque": ({"torque": torque("2.5", "25", "25")}, "torque 2.5 N·m then, 25 N·m now"),
    "printed figure": ({"torque": torque("25", "25", "25")}, "printed figure “2.5” then, “25” now"),
    "conductor": (
        {"conductor": mm2("1.5", "10")},
        "conductor: conductor printed “1.5–16 mm²” then, “1.5–10 mm²” now",
    ),
    "material": (
        {"conductor": mm2("1.5", "16", material=("aluminium",))},
        "conductor: material not said then, aluminium now",
    ),
    "device": ({"device": Device(printed="Breaker BK-63")}, "device “Breaker BK-16” then, “Breaker BK-63” now"),
    "purpose": ({"purpose": "mounting"}, "purpose “electrical_terminal” then, “mounting” now"),
    "doubts": ({"findings": (DOUBT,), "state": "held"}, "new doubts: units_disagree"),
}


@pytest.mark.parametrize("part", OTHERWISE)
@pytest.mark.parametrize("name", ["one-1", "anew-1"])
def test_a_print_that_is_read_otherwise_is_held_and_asked_about(catalogue: Catalogue, part: str, name: str) -> None:
    changed, says = OTHERWISE[part]
    load_report(catalogue, report(ONE))
    say(catalogue, "one-1", "correct", "1.2 Nm")
    read_anew(catalogue, setting(name, **{"place": CELL, **changed}))
    assert told(catalogue) == {name: ("held", None)}
    assert "Ines corrected “2.5” to 1.2 Nm on " in asked(catalogue)[name]
    assert f"({says}" in asked(catalogue)[name] or f"; {says}" in asked(catalogue)[name]
    say(catalogue, name, "correct", "1.3 Nm")
    read_anew(catalogue, setting(name, **{"place": CELL, **changed}))
    assert told(catalogue) == {name: ("released", "1.3")}
    assert asked(catalogue) == {}


def test_a_doubt_that_is_gone_leaves_the_decision(catalogue: Catalogue) -> None:
    doubtful = replace(held("held-1"), place=CELL)
    load_report(catalogue, report(doubtful))
    say(catalogue, "held-1", "correct", "1.2 Nm")
    read_anew(catalogue, replace(doubtful, state="released", findings=()))
    assert told(catalogue) == {"held-1": ("released", "1.2")}


def test_a_code_that_is_no_longer_known_asks_nothing(catalogue: Catalogue) -> None:
    """Codes come and go with versions, and those of a decision stay as they were."""
    load_report(catalogue, report(replace(ONE, state="held", findings=(DOUBT,))))
    say(catalogue, "one-1", "correct", "1.2 Nm")
    catalogue.connection.execute("UPDATE decided_print SET doubts = ['code_of_old']")
    read_anew(catalogue, ONE)
    assert told(catalogue) == {"one-1": ("released", "1.2")}


def test_a_print_without_its_reading_is_said_and_its_decision_kept(catalogue: Catalogue) -> None:
    other = setting("other-1", place=replace(CELL, row=9, box=Box(x0=72, top=300, x1=300, bottom=312), text="N | 2"))
    load_report(catalogue, report(ONE, other))
    say(catalogue, "one-1", "correct", "1.2 Nm")
    loaded = read_anew(catalogue, other)
    assert [finding.code for finding in loaded.findings] == ["decision_without_reading"]
    assert "Ines corrected “2.5” to 1.2 Nm on " in loaded.findings[0].message
    assert "Outgoing" in loaded.findings[0].message
    assert told(catalogue) == {"other-1": ("released", "2.5")}
    read_anew(catalogue, other, replace(ONE, id="back-1"))
    assert told(catalogue) == {"other-1": ("released", "2.5"), "back-1": ("released", "1.2")}


def test_a_row_that_moved_in_its_table_is_asked_about_where_it_is(catalogue: Catalogue) -> None:
    """Without boxes a row has its number only; its text tells where it went, and no other row takes its decision."""
    rows = [
        setting(f"row-{n}", terminal=Terminal(printed=name), place=Place(page=1, table=1, row=n, column=3, text=text))
        for n, name, text in ((2, "L1", "L1 | 2.5"), (3, "N", "N | 2.5"))
    ]
    load_report(catalogue, report(*rows))
    say(catalogue, "row-2", "correct", "1.2 Nm")
    later = [replace(one, id=f"new-{one.id}", place=replace(one.place, row=(one.place.row or 0) + 1)) for one in rows]
    read_anew(catalogue, *later)
    assert told(catalogue) == {"new-row-2": ("held", None), "new-row-3": ("released", "2.5")}


def test_each_of_two_readings_of_one_print_keeps_its_own(catalogue: Catalogue) -> None:
    """One figure for two conductors: two readings at one place."""
    solid, flexible = (
        setting(f"{kind}-1", place=CELL, conductor=mm2("1.5", "6", stranding=(kind,))) for kind in ("solid", "flexible")
    )
    load_report(catalogue, report(solid, flexible))
    say(catalogue, "solid-1", "correct", "1.2 Nm")
    say(catalogue, "flexible-1", "reject")
    read_anew(catalogue, replace(flexible, id="b-1"), replace(solid, id="a-1"))
    assert told(catalogue) == {"a-1": ("released", "1.2"), "b-1": ("rejected", None)}
    narrower = replace(flexible, id="c-1", conductor=mm2("1.5", "4", stranding=("flexible",)))
    read_anew(catalogue, narrower, replace(solid, id="a-1"))
    assert told(catalogue) == {"a-1": ("released", "1.2"), "c-1": ("held", None)}


def test_ids_that_change_places_take_their_own_decisions_along(catalogue: Catalogue) -> None:
    first, second = (setting("same", place=CELL, conductor=mm2("1.5", size)) for size in ("6", "16"))
    load_report(catalogue, report(first, second))
    say(catalogue, "same", "correct", "1.2 Nm")
    say(catalogue, "same-2", "reject")
    read_anew(catalogue, second, first)
    assert told(catalogue) == {"same": ("rejected", None), "same-2": ("released", "1.2")}


def test_the_last_word_on_a_print_is_never_passed_over_by_an_earlier_one(catalogue: Catalogue) -> None:
    """Read as at first again, after a later word on another reading of the print: neither is taken."""
    load_report(catalogue, report(ONE))
    say(catalogue, "one-1", "correct", "1.2 Nm")
    other = setting("other-1", place=CELL, terminal=Terminal(printed="L9"))
    read_anew(catalogue, other)
    say(catalogue, "other-1", "correct", "0.9 Nm")
    read_anew(catalogue, other)
    assert told(catalogue) == {"other-1": ("released", "0.9")}
    read_anew(catalogue, ONE)
    assert told(catalogue) == {"one-1": ("held", None)}


def test_names_given_for_another_reading_are_not_put_on_this_one(catalogue: Catalogue) -> None:
    load_report(catalogue, report(ONE))
    say(catalogue, "one-1", "correct", terminal="L7")
    other = replace(ONE, terminal=Terminal(printed="L9"))
    read_anew(catalogue, other)
    say(catalogue, "one-1", "accept")
    read_anew(catalogue, other)
    (row,) = catalogue.rows("SELECT terminal_printed, state FROM setting")
    assert [*row.values()] == ["L9", "released"]


class Office:
    """A folder with a sheet, a catalogue and a layout profile; every command runs there."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def run(self, *arguments: object) -> Result:
        words = [*map(str, arguments), "--catalogue", str(self.folder / "office.duckdb")]
        return CliRunner().invoke(main, words, catch_exceptions=False)

    def profile(self, printed: str, means: str) -> Path:
        path = self.folder / "taught.json"
        item = {"printed": printed, "means": means}
        path.write_text(json.dumps({"torquary_profile": 1, "maker": "Quillhaven", "headings": [item]}), "utf-8")
        return path


def test_a_layout_profile_that_is_added_leaves_a_correction_in_force(tmp_path: Path) -> None:
    """The profile explains another column of the row: each reading comes back under another id."""
    sheet = tmp_path / "quay.csv"
    sheet.write_text("Quillhaven\nMain switch QS 63\nKlemme;mm²;Nm;Gw.\nL1;1,5-6;2,5;M5\nN;1,5-6;2,0;M5\n", "utf-8")
    office = Office(tmp_path)
    office.run("load", sheet)
    row = json.loads(office.run("find", "L1", "--json").stdout)["rows"][0]
    done = office.run("decide", row["id"], "correct", "--torque", "1.2 Nm", "--who", "Ines", "--why", "seen")
    assert done.exit_code == 0, done.output
    again = office.run("load", sheet, "--profile", office.profile("Gw.", "thread"))
    assert "quay.csv: loaded, 1 released, 1 corrected, 0 held" in again.stdout
    (after,) = json.loads(office.run("find", "L1", "--json").stdout)["rows"]
    assert after["id"] != row["id"]
    assert (Decimal(str(after["max_nm"])), after["thread"], after["who"]) == (Decimal("1.2"), "M5", "Ines")
