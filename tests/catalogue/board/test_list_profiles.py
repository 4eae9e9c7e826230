"""Headings of an office's own lists: explained once, kept beside the catalogue, used for its next list alone."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from torquary_catalogue.command import main
from torquary_schema.validation import find_form_fault

DAY = ("--on", "2031-05-02")
OWN = "Ding,Punkt,Leiter,Farbe\nBK-16,line,4 mm2,red\n"
EXPLAINED = ("--heading", "Ding=device", "--heading", "Punkt=terminal", "--heading", "Farbe=none")


@pytest.fixture
def catalogue(tmp_path: Path, harbour_file: Path) -> Path:
    return Path(shutil.copy(harbour_file, tmp_path / "own.duckdb"))


def plan(catalogue: Path, text: str, *arguments: str, name: str = "first.csv", status: int = 0) -> Result:
    path = catalogue.parent / name
    path.write_text(text)
    words = ["plan", str(path), *DAY, *arguments, "--catalogue", str(catalogue)]
    done = CliRunner().invoke(main, words, catch_exceptions=False)
    assert done.exit_code == status, done.output
    return done


def kept(catalogue: Path) -> list[str]:
    return sorted(path.name for path in (catalogue.parent / "profiles" / "boards").iterdir())


def test_the_next_list_of_the_office_needs_no_options(catalogue: Path) -> None:
    assert "no heading for device and terminal" in plan(catalogue, OWN, status=2).output
    first = plan(catalogue, OWN, *EXPLAINED)
    assert "first.json: kept for lists with these headings: 'Ding' is device; 'Punkt' is terminal; 'Farbe' is none" in (
        first.stderr
    )
    (name,) = kept(catalogue)
    form = json.loads((catalogue.parent / "profiles" / "boards" / name).read_text("utf-8"))
    assert find_form_fault("list_profile", form) is None
    assert {one["printed"]: one["means"] for one in form["headings"]} == {
        "Ding": "device", "Punkt": "terminal", "Leiter": "", "Farbe": "none",
    }  # fmt: skip
    following = plan(catalogue, "Punkt,Farbe,Ding,Leiter,Way\nload,blue,BK-16,6 mm2,3\n", name="next.csv")
    assert "first.json: used for the headings of next.csv: 'Ding' is device" in following.stderr
    assert "3 | load (6 mm2)" in following.stdout
    told = plan(catalogue, OWN, "--json")
    assert json.loads(told.stdout)["plans"][0]["settings"]


def test_a_word_is_not_taken_so_in_another_list(catalogue: Path) -> None:
    """"Pos" is the way, but in lists of this office the mark."""
    text = "Pos,Ding,Terminal\nF7,BK-16,line\n"
    plan(catalogue, text, "--heading", "Ding=device", "--heading", "Pos=mark")
    assert "F7 | line" in plan(catalogue, text, name="next.csv").stdout
    assert "7 | line" in plan(catalogue, "Pos,Device,Terminal\n7,BK-16,line\n", name="other.csv").stdout


def test_what_is_explained_anew_takes_the_place_of_what_was_kept(catalogue: Path) -> None:
    plan(catalogue, OWN, *EXPLAINED)
    plan(catalogue, OWN, "--heading", "Farbe=remark", name="again.csv")
    assert kept(catalogue) == ["first.json"]
    assert "remark: red" in plan(catalogue, OWN).stdout
    plan(catalogue, OWN.replace("Leiter", "Size"), *EXPLAINED)
    assert kept(catalogue) == ["first-2.json", "first.json"]


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ('{"torquary_list_profile": 1}', "first.json, line 1: the file: the field 'headings' is missing"),
        (
            '{"torquary_list_profile": 1, "headings": [\n{"printed": "Ding", "means": "thing"}]}',
            "first.json, line 2: 'thing' is no column: write one of board, row",
        ),
        ("{", "first.json: line 1"),
    ],
)
def test_a_profile_that_is_wrong_is_named_with_its_line(catalogue: Path, wrong: str, said: str) -> None:
    plan(catalogue, OWN, *EXPLAINED)
    (catalogue.parent / "profiles" / "boards" / "first.json").write_text(wrong)
    done = plan(catalogue, OWN, status=2)
    assert said in done.output
    assert len(done.output.splitlines()) == 1


def test_two_that_explain_one_list_differently_are_both_named(catalogue: Path) -> None:
    plan(catalogue, OWN, *EXPLAINED)
    folder = catalogue.parent / "profiles" / "boards"
    (folder / "b.json").write_text((folder / "first.json").read_text("utf-8").replace('"none"', '"mark"'))
    done = plan(catalogue, OWN, status=2)
    assert "b.json and" in done.output
    assert "explain the headings of one list differently" in done.output


def test_an_explanation_of_no_heading_is_refused(catalogue: Path) -> None:
    done = plan(catalogue, OWN, *EXPLAINED, "--heading", "X=mark", status=2)
    assert "the list has no such heading (Ding | " in done.output


def test_the_list_is_never_overwritten_by_its_plan(catalogue: Path) -> None:
    done = plan(catalogue, OWN, *EXPLAINED, "-o", str(catalogue.parent / "first.csv"), status=2)
    assert "the plan is made from this file" in done.output
    assert (catalogue.parent / "first.csv").read_text() == OWN
