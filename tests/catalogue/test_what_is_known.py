"""Where there is no figure to give, the answer says what is known and by which command to look."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from sheets_by_hand import held, mm2, report, setting

from torquary_catalogue.command import main
from torquary_catalogue.decide.decision import Wish, decide
from torquary_catalogue.find import find, read_question
from torquary_catalogue.show.notice import write_notice
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.insert import load_report
from torquary_schema.values import Device, Finding, Setting, Terminal


def notes(catalogue: Catalogue, words: str, *settings: Setting, **options: Any) -> str:
    """Return what is noted, after a look that nothing is answered and that it is not called nothing."""
    if settings:
        load_report(catalogue, report(*settings))
    answer = find(catalogue, read_question(catalogue, words, **options))
    assert (answer.kind, answer.answered, answer.rows) == ("unknown", False, ())
    assert write_notice(answer).headline != "Nothing known"
    return "\n".join(answer.notes)


def test_a_rejected_figure_is_told_with_who_and_why(catalogue: Catalogue) -> None:
    """The figure itself is not in it."""
    load_report(catalogue, report(setting("rejected-1")))
    decide(catalogue, [Wish(setting="rejected-1", verdict="reject", who="A. Fenwick", why="wrong column")])
    said = notes(catalogue, "mcb outgoing 10mm2")
    for part in ("rejected by A. Fenwick", "wrong column", "torquary read harbour_breakers.pdf",
                 "torquary decide rejected-1"):  # fmt: skip
        assert part in said
    assert "2.5" not in said


def test_screws_of_another_purpose_are_told_and_can_be_asked_for(catalogue: Catalogue) -> None:
    """They answer only who asks for that purpose, and the row says that the screw is no terminal's."""
    screw = setting("screw-1", purpose="mounting", terminal=Terminal(printed="Mounting screw"))
    said = notes(catalogue, "mcb outgoing 10mm2", screw)
    assert "mounting: Mounting screw" in said
    assert "torquary find mcb --purpose mounting" in said
    answer = find(catalogue, read_question(catalogue, "mcb", purpose="mounting"))
    assert [row.id for row in answer.rows] == ["screw-1"]
    assert ("screw", "mounting, no electrical terminal") in write_notice(answer).blocks[0].lines


def test_a_size_between_two_held_rows_is_told(catalogue: Catalogue) -> None:
    rows = (held("under-1", conductor=mm2("6", "10")), held("over-1", conductor=mm2("25", "50")))
    said = notes(catalogue, "mcb outgoing 16mm2", *rows)
    assert "6–10 mm²" in said
    assert "25–50 mm²" in said
    assert "torquary held" in said


def test_a_refused_sheet_is_told_with_the_reason(catalogue: Catalogue) -> None:
    """Its file's name is no word that no sheet has."""
    reason = Finding(code="sheet_encrypted", scope="sheet", message="the file needs a password")
    refused = report(digest="b" * 64, file="zephyrine.pdf", state="refused", findings=(reason,))
    load_report(catalogue, refused)
    said = notes(catalogue, "zephyrine", setting("one-1"))
    assert "zephyrine.pdf was refused" in said
    assert "the file needs a password" in said
    assert "torquary read zephyrine.pdf" in said
    assert "No sheet" not in said


def test_other_terminals_are_told_with_the_command(catalogue: Catalogue) -> None:
    """Also for a word that is a role: role and word are left out together."""
    assert "(Outgoing): torquary find mcb 10 mm²" in notes(catalogue, "mcb neutral 10mm2", setting("one-1"))


@pytest.mark.parametrize("words", ["mcb outgoing aluminium 10mm2", "mcb outgoing aluminium 2x10mm2"])
def test_the_command_named_finds_what_it_promises(tmp_path: Path, catalogue: Catalogue, words: str) -> None:
    """Also where several parts of the question keep the row away."""
    load_report(catalogue, report(setting("one-1", conductor=mm2("1.5", "16", material=("copper",)))))
    catalogue.close()
    where = ["--catalogue", str(tmp_path / "harbour.duckdb")]
    output = CliRunner().invoke(main, ["find", *words.split(), *where]).output
    (command,) = (line.split(": torquary ")[1] for line in output.splitlines() if ": torquary find" in line)
    again = CliRunner().invoke(main, [*command.split(), *where])
    assert again.exit_code == 0
    assert "2.5 N·m" in again.output


def test_nothing_known_is_said_where_nothing_is(catalogue: Catalogue) -> None:
    answer = find(catalogue, read_question(catalogue, "mcb outgoing"))
    assert (answer.kind, answer.notes) == ("unknown", ())
    assert write_notice(answer).headline == "Nothing known"


def test_of_very_many_settings_the_count_is_told_and_they_are_not_looked_through(
    catalogue: Catalogue, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The numbers are those of all sheets with the words that are left; the rest of the answer is as it was."""
    load_report(catalogue, report(setting("many-1"), setting("many-2")))
    load_report(catalogue, report(setting("other-1"), digest="b" * 64, file="quay.pdf", title="Quay"))
    strange, lacking = "zorgat mcb 10mm2", "harbour coil 10mm2"
    assert "rows would fit: torquary find mcb 10 mm²" in notes(catalogue, strange)
    assert "Leave out the terminal “coil”, and there are 2 rows" in notes(catalogue, lacking)
    for place in ("answer", "known"):
        monkeypatch.setattr(f"torquary_catalogue.find.{place}.MOST_BESIDE", 1)
    without = "Without it the question is for sheets with 3 settings: torquary find mcb 10 mm²"
    assert without in notes(catalogue, strange)
    said = notes(catalogue, lacking)
    assert "Leave out the terminal “coil”, and the question is for sheets with 2 settings" in said
    assert "Leave out “harbour”, and the question is for sheets with 3 settings" in said


@pytest.mark.parametrize("options", [{"words": "QX99 outgoing"}, {"words": "afdd"}, {"words": "", "maker": "Siebel"}])
def test_makers_and_devices_loaded_are_told_where_the_one_asked_for_is_not(
    catalogue: Catalogue, options: dict[str, str]
) -> None:
    """Nothing of the kind is said where it is only the size that is not printed."""
    said = notes(catalogue, options.pop("words"), setting("one-1"), **options)
    assert "Sheets are loaded of Quillhaven Switchgear (BK-16): torquary sheets lists them." in said
    assert "Sheets are loaded" not in "".join(find(catalogue, read_question(catalogue, "mcb neutral")).notes)


def test_devices_loaded_are_told_where_no_sheet_names_its_maker(catalogue: Catalogue) -> None:
    load_report(catalogue, report(setting("one-1", device=Device(printed="Breaker HB6", family="mcb")), maker=""))
    said = notes(catalogue, "QX99")
    assert "Sheets are loaded that name no maker (Breaker HB6): torquary sheets lists them." in said
