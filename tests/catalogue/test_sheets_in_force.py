"""Which sheets answer: what a sheet is, what it replaces, what a person took out; nothing of it is lost."""

from __future__ import annotations

from pathlib import Path

import pytest
from office import WHO, Office
from sheets_by_hand import report, setting

from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.editions import compare_editions
from torquary_catalogue.store.insert import Loaded, load_report
from torquary_schema.values import Device


@pytest.fixture
def office(tmp_path: Path) -> Office:
    return Office(tmp_path)


def put(catalogue: Catalogue, digest: str, **parts: str) -> Loaded:
    given = {"maker": "Quillhaven", "file": f"{digest}.pdf", "title": "Breakers BK 16", "edition": ""} | parts
    return load_report(catalogue, report(setting(f"{digest}-1"), digest=digest * 64, **given))


def in_force(catalogue: Catalogue) -> list[str]:
    return [row["digest"][0] for row in catalogue.rows("SELECT digest FROM sheet WHERE state = 'read' ORDER BY digest")]


@pytest.mark.parametrize(
    ("before", "after", "codes"),
    [
        ({"edition": "Ed. 3"}, {"edition": "Edition 4"}, None),
        ({"edition_date": "2024-05"}, {"edition_date": "2025"}, None),
        ({"edition": "Rev. B", "document_number": "QH 10-64"}, {"edition": "Rev. C", "document_number": "QH 10-64",
          "title": "Other title"}, None),
        ({"edition": "Ed. 3"}, {"edition": "Rev. B"}, ["sheet_edition_unclear"]),
        ({"edition": "Ed. 3"}, {"edition": "Ed. 3"}, ["sheet_edition_unclear"]),
        ({"edition": "Ed. 3", "edition_date": "2025-01"}, {"edition": "Ed. 4", "edition_date": "2024-01"},
         ["sheet_edition_unclear"]),
        ({"edition": "Ed. 3", "document_number": "QH 10-64"}, {"edition": "Ed. 4", "document_number": "QH 10-65"},
         ["sheet_edition_unclear"]),
        ({"edition": "Ed. 3"}, {"edition": "Ed. 4", "maker": "Grobnickel"}, []),
        ({"edition": "Ed. 3", "file": "x.pdf"}, {"edition": "Ed. 4", "file": "x.pdf", "title": "Switches SK"},
         ["sheet_name_shared"]),
        ({"edition": "Ed. 3", "maker": ""}, {"edition": "Ed. 4", "maker": ""}, ["sheet_edition_unclear"]),
        ({"edition": "Ed. 3", "document_number": "12", "maker": "", "title": ""},
         {"edition": "Ed. 4", "document_number": "12", "maker": ""}, ["sheet_edition_unclear"]),
    ],
)  # fmt: skip
def test_only_what_is_shown_to_be_earlier_is_replaced_and_what_is_unclear_is_asked(
    catalogue: Catalogue, before: dict[str, str], after: dict[str, str], codes: list[str] | None
) -> None:
    put(catalogue, "a", **before)
    loaded = put(catalogue, "b", **after)
    assert in_force(catalogue) == (["b"] if codes is None else ["a", "b"])
    assert [finding.code for finding in loaded.findings] == (codes or [])


def test_whichever_edition_comes_first_the_later_one_is_in_force(catalogue: Catalogue) -> None:
    for digest, edition in (("b", "Ed. 4"), ("a", "Ed. 3"), ("c", "Ed. 5"), ("d", "Ed. 2")):
        put(catalogue, digest, edition=edition)
    assert in_force(catalogue) == ["c"]


def test_a_title_alone_that_says_nothing_replaces_nothing(catalogue: Catalogue) -> None:
    """The same maker's "Technical data" of another device."""
    for digest, device, edition in (("a", "BK-16", "Ed. 3"), ("b", "SK-63", "Ed. 4")):
        one = setting("one-1", device=Device(printed=device))
        sheet = report(one, digest=digest * 64, title="Technical data", maker="Quillhaven", edition=edition)
        load_report(catalogue, sheet)
    assert in_force(catalogue) == ["a", "b"]


@pytest.mark.parametrize(
    ("one", "other", "order"),
    [
        (("", "2024-05-17"), ("", "2024-05-03"), "later"),
        (("", "2024-05"), ("", "2024-05-03"), "unclear"),
        (("", "2024"), ("", "2024-11"), "unclear"),
        (("", "2023-12"), ("", "2024"), "earlier"),
        (("Ed. 4", ""), ("Edition 3", "2024"), "later"),
        (("Revision AA", ""), ("Rev. Z", ""), "unclear"),
        (("V 2", "2024"), ("V 3", "2025"), "earlier"),
        (("", ""), ("", ""), "unclear"),
        (("May 2024", "2024-05"), ("June 2024", "2024-06"), "earlier"),
    ],
)
def test_editions_are_in_order_by_print_and_date_where_they_agree(
    one: tuple[str, str], other: tuple[str, str], order: str
) -> None:
    assert compare_editions(one, other) == order
    turned = {"later": "earlier", "earlier": "later", "unclear": "unclear"}
    assert compare_editions(other, one) == turned[order]


def test_superseding_is_a_decision_and_taken_back_both_stay_in_force(office: Office) -> None:
    office.put("qb3.html", "Breaker QB 16", "Document no. QH-10641 Edition 3", L1="2.5")
    office.put("qb4.html", "Breaker QB 16", "Document no. QH-10641 Edition 4", L1="2.8")
    assert "qb4.html: loaded, 1 released, 0 held, replaces 1 other sheet(s)" in office.load()
    assert office.figures("QB 16") == {"qb4.html L1": "2.8"}
    (made,) = office.ask("decisions")["decisions"]
    assert (made["kind"], made["who"], made["file"], made["other_file"]) == (
        "supersede", "torquary", "qb3.html", "qb4.html"
    )  # fmt: skip
    office.run("decisions", "--undo", 1, *WHO, status=0)
    for _ in range(2):
        assert office.figures("QB 16") == {"qb3.html L1": "2.5", "qb4.html L1": "2.8"}
        assert "qb4.html: loaded" in office.load("--again", office.sheets)
    office.run("decisions", "--undo", 2, *WHO, status=0)
    assert office.figures("QB 16") == {"qb4.html L1": "2.8"}


def test_a_withdrawn_sheet_answers_nothing_until_it_is_restored(office: Office) -> None:
    office.put("qb.html", "Breaker QB 16", L1="2.5")
    office.put("qs.html", "Main switch QS 63", L1="2.4")
    office.load()
    told = office.run("sheet", "qb.html", "withdraw", *WHO, status=0).stdout
    assert "qb.html: in force → withdrawn (decision 1)" in told
    for again in ((), ("--again",), ("--replace",)):
        assert office.figures("4mm2", "L1") == {"qs.html L1": "2.4"}
        told = office.run("find", "QB 16 L1", status=1).stdout
        assert "qb.html has it and is withdrawn: torquary sheet qb.html says why." in told
        told = office.run("load", office.sheets, *again).stdout
        assert "not in force: Ines withdrew it on " in told
        assert "(seen on paper); to take that back: torquary sheet " in told
    assert office.states() == {"qs.html": "read", "qb.html": "withdrawn"}
    export = office.folder / "all.csv"
    office.run("export", export, status=0)
    assert "qb.html" not in export.read_text("utf-8")
    office.run("sheet", "qb.html", "restore", *WHO, status=0)
    assert office.figures("QB 16") == {"qb.html L1": "2.5"}


def test_with_the_later_edition_withdrawn_the_earlier_one_does_not_come_back(office: Office) -> None:
    for number, torque in (("3", "2.5"), ("4", "2.8")):
        line = f"Document no. QH-10641 Edition {number}"
        office.put(f"qb{number}.html", "Breaker QB 16", line, L1=torque)
    office.load()
    told = office.run("sheet", "qb4.html", "withdraw", *WHO, status=0).stdout
    assert "qb3.html, which it replaced, stays out of force; to put it back: torquary sheet " in told
    told = office.load()
    assert told.count("not in force") == 2
    assert office.figures("QB 16") == {}
    office.run("sheet", "qb3.html", "restore", *WHO, status=0)
    assert office.figures("QB 16") == {"qb3.html L1": "2.5"}
    office.run("sheet", "qb4.html", "restore", *WHO, status=0)
    assert office.figures("QB 16") == {"qb3.html L1": "2.5", "qb4.html L1": "2.8"}


def test_what_a_person_corrects_of_a_sheet_is_shown_judged_and_outlives_reading_anew(office: Office) -> None:
    office.put("one.html", "Breaker QB 16", "Edition 3", L1="2.5")
    office.put("two.html", "Breaker QB 16", "Edition 4", L1="2.8")
    office.load()
    assert office.states() == {"one.html": "read", "two.html": "read"}
    for name in ("one.html", "two.html"):
        office.run("sheet", name, "--maker", "Quillhaven", *WHO, status=0)
    assert office.states() == {"one.html": "superseded", "two.html": "read"}
    told = office.run("sheet", "two.html", "--edition", "Edition 2", *WHO, status=0).stdout
    assert "edition “Edition 4” → edition “Edition 2”" in told
    assert office.states() == {"one.html": "read", "two.html": "superseded"}
    office.run("load", "--again", office.sheets)
    (row,) = [one for one in office.ask("sheets", "Quillhaven")["sheets"] if one["file"] == "two.html"]
    assert (row["maker"], row["edition"], row["as_read"]["edition"]) == ("Quillhaven", "Edition 2", "Edition 4")
    assert office.figures("Quillhaven") == {"one.html L1": "2.5"}
    number = max(one["number"] for one in office.ask("decisions")["decisions"] if one["kind"] == "identity")
    office.run("decisions", "--undo", number, *WHO, status=0)
    assert office.states() == {"one.html": "superseded", "two.html": "read"}


def test_a_person_says_of_two_sheets_of_one_name_what_they_are_to_each_other(office: Office) -> None:
    one = office.put("a/datasheet.html", "Breaker QB 16", L1="2.5")
    two = office.put("b/datasheet.html", "Main switch QS 63", L1="2.0")
    office.load(one)
    assert "it has the same file name as datasheet.html" in office.load(two)
    ids = [sheet["digest"][:12] for sheet in office.ask("sheets")["sheets"]]
    told = office.run("sheet", "datasheet.html", "withdraw", *WHO, status=2).output
    assert "2 sheets are named 'datasheet.html': write the id of one" in told
    office.run("sheet", ids[0], "beside", ids[1], *WHO, status=0)
    assert "same file name" not in office.load("--again", one)
    office.run("sheet", ids[0], "replaces", ids[1], *WHO, status=0)
    assert len(office.figures("4mm2")) == 1
    office.run("sheet", ids[1], "replaces", ids[0], *WHO, status=0)
    assert [sheet["digest"][:12] for sheet in office.ask("sheets", "--state", "in-force")["sheets"]] == [ids[1]]


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("qb.html", "burn"), "'burn' is no deed"),
        (("qb.html", "withdraw"), "a decision needs who decides and why"),
        (("qb.html", "restore", *WHO), "is in force, not withdrawn"),
        (("qb.html", "replaces", "qb.html", *WHO), "two are needed"),
        (("qb.html", "replaces", *WHO), "need another sheet"),
        (("qb.html", "withdraw", "--maker", "X", *WHO), "two decisions"),
        (("qb.html", "--date", "May 2024", *WHO), "is no date"),
        (("qb.html", "--date", "2024-13", *WHO), "is no date"),
        (("qb.html", "--name", " ", *WHO), "--name is blank"),
        (("none.html", "withdraw", *WHO), "no sheet has the id or file name 'none.html'"),
    ],
)
def test_a_deed_that_cannot_be_done_is_one_line_and_changes_nothing(
    office: Office, arguments: tuple[str, ...], says: str
) -> None:
    office.put("qb.html", "Breaker QB 16", L1="2.5")
    office.load()
    done = office.run("sheet", *arguments, status=2)
    assert (says in done.output, done.output.count("\n")) == (True, 1)
    assert office.ask("decisions")["decisions"] == []


def test_copies_of_one_content_are_one_sheet_with_several_names(office: Office) -> None:
    sheet = office.put("qb.html", "Breaker QB 16", L1="2.5")
    (office.sheets / "z_copy.html").write_bytes(sheet.read_bytes())
    told = office.load()
    assert "z_copy.html: unchanged\n  ! the same content as qb.html: it is one sheet with 2 names" in told
    assert "2 names" not in office.load()
    (row,) = office.ask("sheets")["sheets"]
    assert [one["file"] for one in row["names"]] == ["qb.html", "z_copy.html"]
    assert office.figures("z_copy") == office.figures("QB 16") == {"qb.html L1": "2.5"}
    sheet.unlink()
    assert "gone" not in office.load()


def test_a_folder_that_is_loaded_again_names_the_sheets_that_are_gone_from_it(office: Office) -> None:
    paths = {name: office.put(f"{name}/qb.html", f"Breaker QB {name}", L1="2.5") for name in ("16", "32", "63")}
    office.load()
    paths["16"].unlink()
    paths["32"].rename(office.sheets / "moved.html")
    told = office.load()
    assert told.count(": gone from ") == 1
    assert f"qb.html: gone from {paths['16'].parent.resolve()} (there on " in told
    assert "QB 16" in office.run("find", "QB 16").stdout
    assert "gone" not in office.load(paths["63"])
    office.run("sheet", office.ask("sheets", "16")["sheets"][0]["digest"], "withdraw", *WHO, status=0)
    assert "gone" not in office.load()
