"""Layout profiles at load: kept beside the catalogue, used from then on; each change reaches the sheets it concerns."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from sheets_by_hand import AS_LAYOUT_1

from torquary_catalogue.command import main
from torquary_catalogue.store import open_catalogue

BODY = "Klemme;Leiter mm²;Mz.\nL1;1,5-6;2,5\nN;1,5-6;2,0\n"
OURS = "Quillhaven Schaltgeräte\nMain switch QS 63\nTightening torques\n" + BODY
LATER = "Quillhaven, neue Reihe 2026\nMain switch QT 63\nTightening torques\nKlemme;Mz.;Leiter mm²\nL1;0,8;1,5-6\n"
THEIRS = "Grobnickel Schaltgeräte\nMain switch G 63\nTightening torques\n" + BODY


class Office:
    """A folder with sheets, a catalogue and profiles; every command runs on its catalogue."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.sheets = folder / "sheets"
        self.sheets.mkdir()
        self.catalogue = folder / "office.duckdb"
        self.kept = folder / "profiles"

    def run(self, *arguments: object) -> Result:
        words = [*map(str, arguments), "--catalogue", str(self.catalogue)]
        return CliRunner().invoke(main, words, catch_exceptions=False)

    def load(self, *more: object) -> dict[str, Any]:
        """Load all sheets; return what became of each file, and of the profiles, by name."""
        result = self.run("load", self.sheets, "--json", *more)
        assert result.exit_code in (0, 1), result.output
        summary = json.loads(result.stdout)
        sheets = {one["file"]: (one["outcome"], one["released"], one["held"]) for one in summary["sheets"]}
        return sheets | {one["name"]: one["sheets"] for one in summary["profiles"]}

    def answers(self, *words: str) -> list[float]:
        return [row["max_nm"] for row in json.loads(self.run("find", *words, "--json").stdout)["rows"]]

    def sheet(self, name: str, text: str) -> None:
        (self.sheets / name).write_text(text, "utf-8")

    def profile(self, unit: str = "N·m", *, means: str = "torque", maker: str = "Quillhaven", name: str = "mz.json",
                folder: Path | None = None) -> Path:  # fmt: skip
        path = (folder or self.folder) / name
        path.parent.mkdir(exist_ok=True)
        item = {"printed": "Mz.", "means": means, "unit": unit}
        path.write_text(json.dumps({"torquary_profile": 1, "maker": maker, "headings": [item]}), "utf-8")
        return path


@pytest.fixture
def office(tmp_path: Path) -> Office:
    office = Office(tmp_path)
    office.sheet("ours.csv", OURS)
    office.sheet("theirs.csv", THEIRS)
    return office


def test_a_profile_is_used_from_then_on_for_its_maker_alone(office: Office) -> None:
    assert office.load() == {"ours.csv": ("loaded", 0, 0), "theirs.csv": ("loaded", 0, 0)}
    given = office.load("--profile", office.profile())
    assert given == {"ours.csv": ("loaded", 2, 0), "theirs.csv": ("unchanged", 0, 0), "mz.json": ["ours.csv"]}
    assert office.load()["ours.csv"][0] == "unchanged"
    office.sheet("later.csv", LATER)
    assert office.load()["later.csv"] == ("loaded", 1, 0)
    assert sorted(office.answers("L1", "4mm2")) == [0.8, 2.5]


def test_a_profile_laid_in_the_folder_is_used_without_being_named(office: Office) -> None:
    office.profile(folder=office.kept)
    assert office.load()["ours.csv"] == ("loaded", 2, 0)


def test_a_changed_profile_reads_its_sheets_anew(office: Office) -> None:
    office.load("--profile", office.profile())
    assert office.answers("Quillhaven", "L1", "4mm2") == [2.5]
    changed = office.load("--profile", office.profile("cN·m"))
    assert changed["ours.csv"] == ("loaded", 0, 2)  # 0.025 N·m turns no screw
    assert changed["theirs.csv"][0] == "unchanged"


def test_a_profile_taken_away_is_taken_back(office: Office) -> None:
    office.load("--profile", office.profile())
    (office.kept / "mz.json").unlink()
    assert office.load() == {"ours.csv": ("loaded", 0, 0), "theirs.csv": ("unchanged", 0, 0)}
    assert office.answers("L1", "4mm2") == []
    assert office.load()["ours.csv"][0] == "unchanged"


def test_a_profile_of_another_maker_changes_nothing(office: Office) -> None:
    office.load("--profile", office.profile())
    again = office.load("--profile", office.profile(maker="Mossgrindle", name="moss.json"))
    assert {again["ours.csv"][0], again["theirs.csv"][0]} == {"unchanged"}
    assert again["moss.json"] == []


def test_a_named_profile_that_fits_no_sheet_is_said_with_the_reason(office: Office) -> None:
    result = office.run("load", office.sheets, "--profile", office.profile(maker="Mossgrindle"))
    assert "layout profile mz.json: used for no sheet" in result.stdout
    assert "ours.csv: its maker 'Mossgrindle' does not stand at the head of the sheet" in result.stdout


def test_how_a_sheet_was_read_is_kept_when_it_is_read_anew(office: Office) -> None:
    office.load("--every-page")
    office.load("--profile", office.profile())
    with open_catalogue(office.catalogue) as opened:
        rows = opened.rows("SELECT every_page, profiles <> '' AS taught FROM sheet_face ORDER BY taught")
    assert rows == [{"every_page": True, "taught": False}, {"every_page": True, "taught": True}]


def test_a_catalogue_made_before_faces_were_kept_is_read_anew_only_with_profiles(office: Office) -> None:
    office.load()
    with open_catalogue(office.catalogue, writing=True) as opened:
        opened.connection.execute(f"DROP TABLE sheet_face; DROP TABLE name_given; {AS_LAYOUT_1}")
    assert {outcome for outcome, *_ in office.load().values()} == {"unchanged"}
    office.profile(folder=office.kept)
    assert office.load()["ours.csv"] == ("loaded", 2, 0)
    assert office.load()["theirs.csv"][0] == "unchanged"


def test_a_corrected_profile_takes_the_place_of_the_one_before_and_that_is_said(office: Office) -> None:
    office.load("--profile", office.profile())
    result = office.run("load", office.sheets, "--profile", office.profile("cN·m"))
    assert "mz.json is replaced by" in result.stderr
    assert json.loads((office.kept / "mz.json").read_text("utf-8"))["headings"][0]["unit"] == "cN·m"


def test_the_name_of_another_makers_profile_is_not_taken(office: Office) -> None:
    office.load("--profile", office.profile())
    before = (office.kept / "mz.json").read_bytes()
    result = office.run("load", office.sheets, "--profile", office.profile(maker="Grobnickel"))
    assert result.exit_code == 2
    assert "has the same name and is for Quillhaven, not Grobnickel: rename your file" in result.stderr
    assert (office.kept / "mz.json").read_bytes() == before


def test_a_wrong_profile_stops_the_load_before_anything_is_touched(office: Office) -> None:
    wrong = office.profile(means="torq")
    result = office.run("load", office.sheets, "--profile", wrong)
    assert result.exit_code == 2
    assert "headings[0].means: 'torq' is not allowed" in result.stderr
    assert not office.catalogue.exists()
    assert not office.kept.exists()


def test_a_wrong_profile_in_the_folder_stops_the_load(office: Office) -> None:
    office.profile(means="torq", folder=office.kept)
    assert office.run("load", office.sheets).exit_code == 2


def test_a_profile_that_is_not_named_json_is_refused(office: Office) -> None:
    result = office.run("load", office.sheets, "--profile", office.profile(name="mz.txt"))
    assert result.exit_code == 2
    assert "ends in .json" in result.stderr


def test_a_decision_under_one_unit_asks_under_another_and_holds_again_under_its_own(office: Office) -> None:
    """The print is the same and is read otherwise: neither the figure decided nor the one read is given out."""
    office.load("--profile", office.profile("lb·in"))
    row = json.loads(office.run("find", "L1", "4mm2", "--json").stdout)["rows"][0]
    words = ("correct", "--torque", "0.28 Nm", "--who", "Ines", "--why", "seen on paper")
    decided = office.run("decide", row["id"], *words)
    assert decided.exit_code == 0, decided.output
    assert office.answers("L1", "4mm2") == [0.28]
    assert office.load("--profile", office.profile("N·m"))["ours.csv"] == ("loaded", 1, 1)
    assert office.answers("L1", "4mm2") == [None]
    told = office.run("held").stdout
    assert "Ines corrected “2,5” to 0.28 Nm on " in told
    assert "(torque 0.28246" in told
    assert "2.5 N·m now): look at the sheet and decide anew [decision_unconfirmed]" in told
    office.load("--profile", office.profile("lb·in"))
    assert office.answers("L1", "4mm2") == [0.28]
