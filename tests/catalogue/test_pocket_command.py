"""`torquary pocket`: what goes into the page and on record, and what is refused."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from office import WHO, Office


@pytest.fixture
def office(tmp_path: Path) -> Office:
    made = Office(tmp_path)
    made.put("qb.html", "Breaker QB 16", "Edition 3", L1="2.5", N="2.0")
    made.put("rz.html", "Breaker RZ 40", "Edition 1", L1="3.5")
    made.load()
    return made


def settings(page: Path) -> int:
    """Return how many settings a page has."""
    data = page.read_text("utf-8").split('id="data">')[1].split("</script>")[0]
    return len(json.loads(data)["columns"]["state"]["at"])


def test_what_is_chosen_goes_into_the_page(office: Office) -> None:
    page = office.folder / "pocket.html"
    said = office.run("pocket", "-o", page, status=0).stdout
    assert said.endswith("pocket.html: 3 settings and 0 held readings, good for 90 days\n")
    assert settings(page) == 3
    told = office.ask("pocket", "-o", page, "--sheet", "qb.html", "--good-for", 7)
    assert (told["released"], told["held"], told["pictures"], told["good_for"]) == (2, 0, 0, 7)
    assert told["bytes"] == page.stat().st_size
    assert settings(page) == 2
    office.run("pocket", "-o", page, "--device", "rz40", "--device", "QB 16", status=0)
    assert settings(page) == 3
    office.run("pocket", "-o", page, "--device", "rz40", "--unit", "lb-in", status=0)
    assert "≈30.97 lb·in" in page.read_text("utf-8") or "≈30.98 lb·in" in page.read_text("utf-8")


def test_a_page_is_recalled_when_a_figure_of_it_does_not_stand_any_more(office: Office) -> None:
    office.run("pocket", "-o", office.folder / "van.html", "--sheet", "qb.html", status=0)
    (given,) = office.ask("recall", "--all")["given"]
    assert (given["kind"], given["what_for"], given["question"]) == ("pocket", "van.html", "sheet qb.html")
    assert sorted(figure["then"][2] for figure in given["figures"]) == [2, 2.5]
    assert office.run("recall", status=0).stdout.startswith("given out: 1; all stand")
    office.run("sheet", "qb.html", "withdraw", *WHO)
    shown = office.run("recall", status=1).stdout
    assert "pocket, van.html, sheet qb.html: 2 of 2 figure(s) do not stand any more" in shown


def test_what_is_superseded_or_withdrawn_is_not_in_the_page_and_named(office: Office) -> None:
    office.run("sheet", "qb.html", "withdraw", *WHO)
    page = office.folder / "pocket.html"
    office.run("pocket", "-o", page, status=0)
    assert settings(page) == 1
    assert "1 sheet withdrawn: qb.html." in page.read_text("utf-8")


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("-o", "pocket.txt"), "name a file that ends in .html"),
        (("-o", "pocket.html", "--sheet", "nothing.pdf"), "no sheet has the id or file name 'nothing.pdf'"),
        (("-o", "pocket.html", "--maker", "nobody"), "nothing in force is chosen"),
        (("-o", "no/such/folder/pocket.html"), "cannot be written"),
        (("-o", "pocket.html", "--unit", "stone"), "--unit 'stone' is not known"),
        (("-o", "pocket.html", "--good-for", "0"), "0 is not in the range"),
    ],
)
def test_what_cannot_be_written_is_one_line(
    office: Office, monkeypatch: pytest.MonkeyPatch, options: tuple[str, ...], said: str
) -> None:
    monkeypatch.chdir(office.folder)
    done = office.run("pocket", *options, status=2)
    assert said in done.stderr
    assert not (office.folder / "pocket.html").exists()
    assert office.ask("recall", "--all")["given"] == []


def test_print_ends_no_script_and_steers_nothing(office: Office) -> None:
    office.put("bad.html", "Breaker </script><b>AK 5", L1="1.5", N="\u202e2.0")
    office.load()
    page = office.folder / "pocket.html"
    office.run("pocket", "-o", page, status=0)
    text = page.read_text("utf-8")
    assert text.count("</script>") == 2
    assert "\u202e" not in text
