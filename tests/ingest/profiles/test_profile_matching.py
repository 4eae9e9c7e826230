"""Which sheets a profile is for; in doubt it is not used, and that is said."""

from __future__ import annotations

from pathlib import Path

import pytest
from profile_files import HEAD, MZ, codes, profile, read, released

from torquary_ingest.profiles.names import names_maker, propose_name

BODY = "Klemme;Leiter mm²;Mz.\nL1;1,5-6;2,5\n"
FIGURE = [("L1", "1,5-6", "2.5")]


@pytest.mark.parametrize(
    "text",
    [
        HEAD + BODY,
        "Leistungsschalter 2025 von QUILLHAVEN\nReihe X\n" + BODY,
        "Hersteller;Klemme;Leiter mm²;Mz.\nQuillhaven AG;L1;1,5-6;2,5\n",
        "Preisliste\nStand 2025\nHersteller;Quillhaven AG;\nKlemme;L1;\nLeiter mm²;1,5-6;\nMz.;2,5;\n",
    ],
    ids=["title", "another title", "column", "row"],
)
def test_it_is_for_the_sheets_that_print_its_maker(tmp_path: Path, text: str) -> None:
    assert released(read(tmp_path, text, profile(tmp_path, MZ))) == FIGURE


@pytest.mark.parametrize(
    "text",
    [
        "Grobnickel Schaltgeräte\nReihe X\n" + BODY,
        "Quillhavener Schaltgeräte\nReihe X\n" + BODY,
        "Adapter für Quillhaven\nReihe X\n" + BODY,
        HEAD + "Hersteller;Klemme;Leiter mm²;Mz.\nGrobnickel;L1;1,5-6;2,5\n",
        "Hersteller;Klemme;Leiter mm²;Mz.\nQuillhaven;L1;1,5-6;2,5\nGrobnickel;L1;1,5-6;2,5\n",
        BODY,
    ],
    ids=["another maker", "a longer name", "made for it", "another in a column", "several makers", "no maker"],
)
def test_it_is_not_for_a_sheet_that_may_be_of_another_maker(tmp_path: Path, text: str) -> None:
    report = read(tmp_path, text, profile(tmp_path, MZ))
    assert (released(report), report.profiles) == ([], ())
    assert "profile_not_used" in codes(report)


def test_without_any_line_of_print_the_file_names_the_maker(tmp_path: Path) -> None:
    mz = profile(tmp_path, MZ)
    assert released(read(tmp_path, BODY, mz, name="quillhaven_2025.csv")) == FIGURE
    assert released(read(tmp_path, "Grobnickel\nReihe X\n" + BODY, mz, name="quillhaven_2025.csv")) == []


def test_all_headings_that_it_explains_must_be_printed(tmp_path: Path) -> None:
    report = read(tmp_path, HEAD + BODY, profile(tmp_path, MZ, ("Qx", "conductor", "mm²")))
    assert released(report) == []
    assert [f.message for f in report.findings if "'Qx'" in f.message and f.code == "profile_not_used"]


def test_a_profile_for_something_else_is_not_spoken_of(tmp_path: Path) -> None:
    report = read(tmp_path, HEAD + BODY, profile(tmp_path, ("Qx", "conductor"), maker="Grobnickel"))
    assert "profile_not_used" not in codes(report)


def test_two_that_differ_are_both_named_and_neither_is_used(tmp_path: Path) -> None:
    one, other = profile(tmp_path, MZ), profile(tmp_path, ("Mz", "torque", "lb·in"), name="other.json")
    report = read(tmp_path, HEAD + BODY, one, other)
    assert (released(report), report.profiles) == ([], ())
    [clash] = [f for f in report.findings if f.code == "profiles_clash"]
    assert "mz.json" in clash.message
    assert "other.json" in clash.message


def test_two_that_agree_are_both_used(tmp_path: Path) -> None:
    one, other = profile(tmp_path, MZ), profile(tmp_path, MZ, name="other.json")
    report = read(tmp_path, HEAD + BODY, one, other)
    assert released(report) == FIGURE
    assert report.profiles == ("mz.json", "other.json")


@pytest.mark.parametrize("text", ["Datenblatt", "AG", "QS-63", "mm²", "2025", "", "Leistungsschalter GmbH", "—"])
def test_a_word_of_the_trade_names_no_maker(text: str) -> None:
    assert not names_maker(text)


@pytest.mark.parametrize(
    ("line", "name"),
    [
        ("Quillhaven Technische Daten QS 63", "Quillhaven"),
        ("Quillhaven Electric – Leistungsschalter", "Quillhaven Electric"),
        ("Datenblatt Quillhaven", ""),
        ("Anzugsmomente", ""),
    ],
)
def test_the_name_that_is_proposed_is_what_a_line_opens_with(line: str, name: str) -> None:
    assert propose_name(line).rstrip(" –") == name
