"""A sheet replaces another of its file name only by what it says of itself, or by a person's word."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from sheets_by_hand import report, setting

from torquary_catalogue.command import main
from torquary_catalogue.decide import Wish, decide
from torquary_catalogue.store import Catalogue, open_catalogue
from torquary_catalogue.store.editions import is_later
from torquary_catalogue.store.faces import KeptFace
from torquary_catalogue.store.insert import Loaded, load_report

OURS = "Quillhaven Schaltgeräte\nMain switch QS 63\nTerminal;Conductor mm²;Torque N·m\nL1;4;2.5\n"
THEIRS = "Grobnickel Schaltgeräte\nMain switch G 63\nTerminal;Conductor mm²;Torque N·m\nT1;16;3.5\n"
PAGE = (
    "<html><head><title>{title}</title></head><body><h1>{title}</h1><p>{edition}</p><table><tr><th>Terminal</th>"
    "<th>Conductor mm²</th><th>Torque N·m</th></tr><tr><td>L1</td><td>4</td><td>{torque}</td></tr></table></body>"
)


class Office:
    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.catalogue = folder / "office.duckdb"

    def run(self, *arguments: object) -> Result:
        words = [*map(str, arguments), "--catalogue", str(self.catalogue)]
        return CliRunner().invoke(main, words, catch_exceptions=False)

    def load(self, text: str, *more: str, name: str = "datasheet.csv") -> str:
        path = self.folder / name
        path.write_text(text, "utf-8")
        return self.run("load", path, *more).stdout

    def answers(self, terminal: str) -> list[float]:
        return [row["max_nm"] for row in json.loads(self.run("find", terminal, "--json").stdout)["rows"]]


@pytest.fixture
def office(tmp_path: Path) -> Office:
    return Office(tmp_path)


def test_another_makers_file_of_the_same_name_leaves_the_first_in_force(office: Office) -> None:
    office.load(OURS)
    told = office.load(THEIRS)
    assert "it has the same file name as datasheet.csv (“Quillhaven Schaltgeräte”), and all stay in force" in told
    assert "if both are right: torquary sheet " in told
    assert (office.answers("Quillhaven"), office.answers("Grobnickel")) == ([2.5], [3.5])


def test_a_person_puts_one_in_the_place_of_the_other_and_back(office: Office) -> None:
    office.load(OURS)
    told = office.load(THEIRS, "--replace")
    assert "datasheet.csv: loaded, 1 released, 0 held, replaces 1 other sheet(s)" in told
    assert (office.answers("Quillhaven"), office.answers("Grobnickel")) == ([], [3.5])
    for more in ((), ("--again",)):
        told = office.load(OURS, *more)
        assert "datasheet.csv: unchanged" in told
        assert "not in force: datasheet.csv took its place by " in told
        assert "(loaded with --replace); to take that back: torquary decisions --undo 1 --why …" in told
        assert office.answers("Quillhaven") == []
    office.load(OURS, "--replace")
    assert (office.answers("Quillhaven"), office.answers("Grobnickel")) == ([2.5], [])


def test_files_of_one_load_do_not_replace_each_other_on_a_persons_word(office: Office) -> None:
    for folder, text in (("a", OURS), ("b", THEIRS)):
        (office.folder / folder).mkdir()
        (office.folder / folder / "datasheet.csv").write_text(text, "utf-8")
    office.run("load", office.folder / "a", office.folder / "b", "--replace")
    assert (office.answers("Quillhaven"), office.answers("Grobnickel")) == ([2.5], [3.5])


def test_a_later_edition_replaces_the_earlier_which_then_stays_out_and_says_so(office: Office) -> None:
    third = PAGE.format(title="Breaker QB 16", edition="Edition 3", torque="2.5")
    fourth = PAGE.format(title="Breaker QB 16", edition="Edition 4", torque="2.8")
    office.load(third, name="qb.html")
    assert "replaces 1 other sheet(s)" in office.load(fourth, name="qb.html")
    assert office.answers("L1") == [2.8]
    told = office.load(third, name="qb.html")
    assert "qb.html: unchanged" in told
    assert "not in force: qb.html took its place by torquary on " in told
    assert "(the same title, and Edition 4 is later than Edition 3)" in told
    assert office.answers("L1") == [2.8]


def test_an_edition_over_the_table_of_a_csv_file_counts(office: Office) -> None:
    for edition, torque in (("Edition 3, 2024", "2.5"), ("Edition 4, 2026", "2.8")):
        text = OURS.replace("Schaltgeräte", f"Schaltgeräte QB 16\n{edition}").replace("2.5", torque)
        told = office.load(text)
    assert "replaces 1 other sheet(s)" in told
    assert office.answers("Quillhaven") == [2.8]


def test_an_earlier_edition_that_comes_second_is_not_put_in_force(office: Office) -> None:
    office.load(PAGE.format(title="Breaker QB 16", edition="Edition 4", torque="2.8"), name="qb.html")
    told = office.load(PAGE.format(title="Breaker QB 16", edition="Edition 3", torque="2.5"), name="qb.html")
    assert "(the same title, and Edition 4 is later than Edition 3)" in told
    assert office.answers("L1") == [2.8]


def put(catalogue: Catalogue, digest: str, *, title: str, edition: str, head: tuple[str, ...] = ()) -> Loaded:
    face = KeptFace(head=(title, *head), makers=(), texts=())
    sheet = report(setting("one-1"), digest=digest * 64, title=title, edition=edition, maker="")
    return load_report(catalogue, sheet, face=face)


@pytest.mark.parametrize(
    ("before", "after", "replaced"),
    [
        ({"title": "Breaker QB 16"}, {"title": "Breaker QB 16"}, True),
        ({"title": "Breaker QB 16"}, {"title": "Breaker QB 32"}, False),
        ({"title": "Technical data"}, {"title": "Technical data"}, False),
        (
            {"title": "Technical data", "head": ("Quillhaven",)},
            {"title": "Technical data", "head": ("Grobnickel",)},
            False,
        ),
        ({"title": "Technical data", "head": ("QH-1064",)}, {"title": "Technical data", "head": ("QH-1064",)}, True),
        ({"title": ""}, {"title": ""}, False),
    ],
)
def test_the_title_and_the_head_tell_whether_two_are_editions_of_one(
    catalogue: Catalogue, before: dict[str, object], after: dict[str, object], replaced: bool
) -> None:
    put(catalogue, "a", edition="Edition 3", **before)  # type: ignore[arg-type]
    loaded = put(catalogue, "b", edition="Edition 4", **after)  # type: ignore[arg-type]
    assert loaded.replaced == (("a" * 64,) if replaced else ())
    asked = [finding.code for finding in loaded.findings]
    alike = before["title"] and before["title"] == after["title"]
    assert asked == ([] if replaced else ["sheet_edition_unclear" if alike else "sheet_name_shared"])


def test_makers_that_are_read_and_differ_are_not_editions_of_one(catalogue: Catalogue) -> None:
    for digest, maker, edition in (("a", "Quillhaven", "Edition 3"), ("b", "Grobnickel", "Edition 4")):
        sheet = report(setting("one-1"), digest=digest * 64, title="Breaker 16", edition=edition, maker=maker)
        loaded = load_report(catalogue, sheet)
    assert loaded.replaced == ()


def test_decisions_come_back_with_their_sheet(catalogue: Catalogue) -> None:
    first, second = (report(setting("one-1"), digest=digest * 64, title=digest) for digest in "ab")
    load_report(catalogue, first)
    decide(catalogue, [Wish(setting="one-1", verdict="correct", who="Ines", why="seen", torque="1.2 Nm")])
    load_report(catalogue, second, replace=True)
    load_report(catalogue, first, replace=True)
    (row,) = catalogue.rows("SELECT max_nm, sheet FROM current_setting")
    assert (f"{row['max_nm'].normalize():f}", row["sheet"]) == ("1.2", "a" * 64)


@pytest.mark.parametrize(
    ("later", "earlier"),
    [
        ("Edition 4", "edition 3"),
        ("Edition 10", "Edition 9"),
        ("Rev. C", "Rev. B"),
        ("Issue B, 2026", "Issue A, 2026"),
        ("Stand 03/2025", "Stand 12/2024"),
        ("2024-10", "2024-03"),
        ("Edition 5, 2031", "Edition 4, 2031"),
    ],
)
def test_later_editions(later: str, earlier: str) -> None:
    assert is_later(later, earlier)
    assert not is_later(earlier, later)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("", ""),
        ("Edition 4", ""),
        ("Edition 4", "Edition 4"),
        ("Edition 4", "Rev. 3"),
        ("Edition 4", "Edition B"),
        ("01.12.2024", "15.03.2024"),
        ("Document no. 1240", "Document no. 1234"),
        ("Replaces edition 4", "Replaces edition 3"),
    ],
)
def test_editions_of_which_none_is_surely_the_later(one: str, other: str) -> None:
    assert not is_later(one, other)
    assert not is_later(other, one)


def test_the_sheet_of_an_unchanged_file_stays_unread(office: Office) -> None:
    office.load(OURS)
    assert office.load(OURS).splitlines()[1:] == ["datasheet.csv: unchanged"]
    with open_catalogue(office.catalogue) as catalogue:
        assert len(catalogue.rows("FROM sheet")) == 1
