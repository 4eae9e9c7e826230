"""A person without a program explains a maker's headings once: list, fill in, load, find."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from reportlab.lib import colors
from reportlab.lib.styles import getSampleStyleSheet
from reportlab.platypus import Paragraph, SimpleDocTemplate, Spacer, Table, TableStyle

Run = Callable[..., subprocess.CompletedProcess[str]]

HEADINGS = ["Kx", "Qx", "Mz."]
ROWS = [["L1", "1,5 - 6", "2,5"], ["N", "1,5 - 6", "2,0"]]
MEANS = {"Kx": ("terminal", ""), "Qx": ("conductor", "mm²"), "Mz.": ("torque", "N·m")}


def draw_pdf(path: Path, title: str, rows: list[list[str]], *, ruled: bool = True, lines: tuple[str, ...] = ()) -> None:
    styles = getSampleStyleSheet()
    table = Table(rows)
    if ruled:
        table.setStyle(TableStyle([("GRID", (0, 0), (-1, -1), 0.5, colors.black)]))
    below = [Paragraph(line, styles["Normal"]) for line in lines]
    head = [Paragraph(title, styles["Title"]), Paragraph("Reihenschalter QS 63", styles["Normal"]), Spacer(1, 12)]
    SimpleDocTemplate(str(path)).build([*head, table, Spacer(1, 12), *below])


def write_csv(path: Path, title: str, rows: list[list[str]]) -> None:
    lines = [title, "Reihe QS", *(";".join(row) for row in rows)]
    path.write_text("\n".join(lines), "utf-8")


def write_workbook(path: Path, title: str, rows: list[list[str]]) -> None:
    book = openpyxl.Workbook()
    assert book.active is not None
    for row in [[title], ["Reihe QS"], *rows]:
        book.active.append(row)
    book.save(path)


def write_page(path: Path, title: str, rows: list[list[str]]) -> None:
    body = "".join("<tr>" + "".join(f"<td>{text}</td>" for text in row) + "</tr>" for row in rows)
    path.write_text(f"<h1>{title}</h1><table>{body}</table>", "utf-8")


WRITERS = {".pdf": draw_pdf, ".csv": write_csv, ".xlsx": write_workbook, ".html": write_page}


def fill_in(path: Path, maker: str = "Quillhaven") -> None:
    """Do what the person does in an editor."""
    profile = json.loads(path.read_text("utf-8"))
    assert maker in profile["maker"]
    profile["maker"] = maker
    for heading in profile["headings"]:
        assert heading["taken_for"] == "unknown"
        heading["means"], heading["unit"] = MEANS[heading["printed"]]
    path.write_text(json.dumps(profile), "utf-8")


@pytest.mark.parametrize("kind", WRITERS)
def test_list_fill_in_load_and_find(torquary: Run, tmp_path: Path, kind: str) -> None:
    here = tmp_path / "here"
    WRITERS[kind](here / f"one{kind}", "Quillhaven QS 63, Technische Daten", [HEADINGS, *ROWS])
    first = torquary("load", f"one{kind}")
    assert "torquary profile" in first.stdout
    assert torquary("find", "L1", "4mm2").returncode == 1
    listed = torquary("profile", f"one{kind}")
    assert listed.returncode == 0, listed.stderr
    assert "unknown      “Mz.” over 2,5 | 2,0" in listed.stdout
    fill_in(here / "one.profile.json")
    loaded = torquary("load", "--profile", "one.profile.json", f"one{kind}")
    assert f"one{kind}: loaded, 2 released, 0 held" in loaded.stdout
    found = torquary("find", "L1", "4mm2")
    assert found.returncode == 0
    assert "2.5 N·m" in found.stdout
    assert "layout profile one.profile.json" in found.stdout


def test_later_sheets_of_the_maker_are_read_and_those_of_others_are_not(torquary: Run, tmp_path: Path) -> None:
    here = tmp_path / "here"
    draw_pdf(here / "one.pdf", "Quillhaven QS 63, Technische Daten", [HEADINGS, *ROWS])
    torquary("profile", "one.pdf")
    fill_in(here / "one.profile.json")
    torquary("load", "--profile", "one.profile.json", "one.pdf")
    draw_pdf(here / "later.pdf", "Neue Schütze von Quillhaven", [["Mz.", "Qx", "Kx"], ["0,8", "1,5 - 4", "A1"],
             ["1,2", "1,5 - 16", "13"]], ruled=False)  # fmt: skip
    listed = ("Kx: L1", "Qx: 1,5 - 6", "Mz.: 2,5")
    draw_pdf(here / "list.pdf", "Quillhaven QX", [["Typ", "Farbe"], ["QX", "rot"]], lines=listed)
    draw_pdf(here / "theirs.pdf", "Grobnickel Daten", [HEADINGS, ["L1", "1,5 - 6", "22"]])
    summary = json.loads(torquary("load", ".", "--json").stdout)
    outcomes = {one["file"]: (one["outcome"], one["released"], one["held"]) for one in summary["sheets"]}
    assert outcomes == {
        "one.pdf": ("unchanged", 0, 0),
        "later.pdf": ("loaded", 2, 0),
        "list.pdf": ("loaded", 1, 0),
        "theirs.pdf": ("loaded", 0, 0),
    }
    codes = {one["file"]: {finding["code"] for finding in one["findings"]} for one in summary["sheets"]}
    assert "profile_not_used" in codes["theirs.pdf"]


def test_a_profile_can_be_tried_without_a_catalogue(torquary: Run, tmp_path: Path) -> None:
    here = tmp_path / "here"
    write_csv(here / "one.csv", "Quillhaven", [HEADINGS, *ROWS])
    write_csv(here / "theirs.csv", "Grobnickel", [HEADINGS, *ROWS])
    torquary("profile", "one.csv")
    fill_in(here / "one.profile.json")
    report = json.loads(torquary("read", "--profile", "one.profile.json", "one.csv", "--json").stdout)["sheets"][0]
    assert report["profiles"] == ["one.profile.json"]
    assert [one["state"] for one in report["settings"]] == ["released", "released"]
    none = torquary("read", "--profile", "one.profile.json", "theirs.csv")
    assert "was used for no sheet" in none.stderr
    assert "[profile_not_used]" in none.stdout
    assert not (here / "profiles").exists()
    assert not list(here.glob("*.duckdb"))


def test_a_file_that_is_there_is_left_alone(torquary: Run, tmp_path: Path) -> None:
    here = tmp_path / "here"
    write_csv(here / "one.csv", "Quillhaven", [HEADINGS, *ROWS])
    (here / "one.profile.json").write_text("mine", "utf-8")
    refused = torquary("profile", "one.csv")
    assert (refused.returncode, refused.stdout) == (2, "")
    assert "one.profile.json is there already" in refused.stderr
    assert (here / "one.profile.json").read_text("utf-8") == "mine"
    assert torquary("profile", "one.csv", "--to", "other.json").returncode == 0
    assert json.loads((here / "other.json").read_text("utf-8"))["headings"]
    printed = json.loads(torquary("profile", "one.csv", "--json").stdout)
    assert [one["printed"] for one in printed["headings"]] == HEADINGS


@pytest.mark.parametrize(
    ("name", "content", "status", "says"),
    [
        ("none.csv", None, 2, "there is no such file"),
        ("empty.csv", "", 1, "no bytes"),
        ("prose.csv", "Dear all,\nno table here.\n", 1, ""),
    ],
)
def test_a_sheet_without_headings_is_one_line(
    torquary: Run, tmp_path: Path, name: str, content: str | None, status: int, says: str
) -> None:
    if content is not None:
        (tmp_path / "here" / name).write_text(content, "utf-8")
    done = torquary("profile", name)
    assert done.returncode == status
    assert done.stderr.startswith("Error: ")
    assert says in done.stderr
    assert done.stderr.count("\n") == 1


@pytest.mark.parametrize("command", ["read", "load"])
def test_a_wrong_profile_is_wrong_use(torquary: Run, tmp_path: Path, command: str) -> None:
    here = tmp_path / "here"
    write_csv(here / "one.csv", "Quillhaven", [HEADINGS, *ROWS])
    (here / "wrong.json").write_text('{"torquary_profile": 1, "maker": "Quillhaven", "headings": [{}]}', "utf-8")
    done = torquary(command, "--profile", "wrong.json", "one.csv")
    assert done.returncode == 2
    assert done.stderr == "Error: wrong.json: headings[0]: the field 'printed' is missing\n"
    assert not (here / "profiles").exists()
