"""Every torque that a page mentions ends in a setting, another torque, or one finding for its block."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from set_sheets import page, read, table

from torquary_ingest.document import Document, Mark, Page, Reading, Table, Word
from torquary_ingest.extractors.listed import KeyValueLists
from torquary_ingest.extractors.sentences import Sentences
from torquary_ingest.normalise import settle
from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_ingest.skeleton import make_skeleton
from torquary_schema.values import Box, Finding, Setting

ASKED = ("figure_not_placed", "table_no_headings", "other_torque")
ROWS = ("Terminal | Conductor mm² | Torque N·m", "L1 | 4 | 2", "PE | 4 | 1.2")
Told = tuple[tuple[Setting, ...], list[Finding]]


def told(document: Document, tables: Sequence[Table] = (), readings: Sequence[Reading] = ()) -> Told:
    lines = [*KeyValueLists().readings(document, tuple(tables)), *Sentences().readings(document, tuple(tables))]
    settings, findings = settle(document, tables, [*lines, *readings], make_skeleton(document, tables))
    return settings, [finding for finding in findings if finding.code in ASKED]


def left(document: Document) -> list[Finding]:
    return [finding for finding in told(document)[1] if finding.code == "figure_not_placed"]


@pytest.mark.parametrize(
    "torque",
    ["2.5 nm", "2.5 n.m", "2.5nm.", "2.5 N/m", "2.5 N\ufffdm", "2.5 Nm²", "2.5 Nm1)", "2.5 lb/in", "2.5 [nm]"],
)
def test_a_torque_in_a_unit_that_is_only_shaped_like_one_is_named(torque: str) -> None:
    [finding] = left(page(f"Tighten the terminal screws to {torque}"))
    assert torque in finding.printed


@pytest.mark.parametrize("line", ["Torque: 2.5", "Anzugsmoment 2,5", "Tighten to max. 2.5", "Torque M4: 1.2"])
def test_a_figure_beside_a_word_for_torque_is_named_without_a_unit(line: str) -> None:
    settings, findings = told(page("Main switch QS 63", "", line))
    assert settings or [line in finding.printed for finding in findings] == [True]


def test_a_figure_under_or_beside_a_word_for_torque_is_named() -> None:
    [under] = left(page("Tightening torque", "2.5"))
    assert under.printed == "Tightening torque\n2.5"


@pytest.mark.parametrize("torque", ["\ufffd7m", "\ufffd\ufffd"])
def test_a_torque_whose_glyphs_are_not_known_is_named(torque: str) -> None:
    [finding] = left(page(f"Tighten the earth terminal PE to {torque}; it takes 6-35 mm²."))
    assert torque in finding.printed


@pytest.mark.parametrize(
    "line",
    [
        "\ufffd Tighten all terminal screws.",
        "Use a torque wrench.",
        "Tightening torques ........ 12",
        "Torque: see page 12",
        "3 Torque of the screws",
        "Torque limit 300 %",
        "Torque screwdriver 0.8 × 4 mm",
        "Laser 660 nm",
        "Pressure 2.5 N/mm²",
        "Inertia 2.5 kg·m²",
    ],
)
def test_a_bare_mention_costs_nothing(line: str) -> None:
    assert told(page(line))[1] == []


def test_the_lines_of_a_block_cost_one_finding_that_prints_them_all() -> None:
    lines = ("Tighten the lid to 2.5 nm and close it,", "then the gland to 3.5 nm and", "mount the cover with 1.5 nm.")
    [finding] = left(page(*lines))
    assert finding.printed == "\n".join(lines)
    assert finding.place is not None
    assert (finding.place.page, finding.place.box is not None) == (1, True)


def test_a_figure_at_the_end_of_a_line_has_its_unit_on_the_next() -> None:
    [finding] = left(page("close the lid with a moment of at most 2.5", "nm by hand"))
    assert finding.message.startswith("page 1 says 'nm by hand'")


def test_torques_of_tools_cost_one_finding_for_their_page() -> None:
    _, findings = told(page("Torque wrench range 2 N·m to 10 N·m", "", "", "", "Torque wrench range 5 N·m to 25 N·m"))
    assert [finding.code for finding in findings] == ["other_torque"]
    assert "10 N·m" in findings[0].printed
    assert "25 N·m" in findings[0].printed


def test_a_torque_printed_on_its_side_is_named() -> None:
    sheet = page("Main switch QS 63")
    side = [Word(text=text, box=Box(x0=300, top=at, x1=309, bottom=at + 30), size=9, turn=90)
            for text, at in (("lid", 200.0), ("2.5", 233.0), ("N·m", 266.0))]  # fmt: skip
    [finding] = left(replace(sheet, pages=(replace(sheet.pages[0], words=(*sheet.pages[0].words, *side)),)))
    assert finding.printed == "lid 2.5 N·m"


def test_a_line_that_states_a_torque_is_not_read_by_speaking_for_a_table() -> None:
    """The line over a table is its caption; the torque in it is of the caption's own screws."""
    line = "Bars are held by two thread-forming screws, 3.4 N·m."
    sheet = table(*ROWS, caption=(line,))
    settings, findings = settle(page(line), (sheet,), read(sheet), make_skeleton(page(line), (sheet,)))
    assert len(settings) == 2
    assert [finding.printed for finding in findings if finding.code in ASKED] == [line]


def of_table(*rows: str, caption: tuple[str, ...] = (), below: tuple[str, ...] = ()) -> Told:
    sheet = replace(table(*rows, caption=caption), below=below)
    document = Document(file="x", kind="test", pages=(Page(number=1),), page_count=1)
    return told(document, (sheet,), read(sheet))


@pytest.mark.parametrize("line", ["Lid screws: 0.6 N·m", "Lid screws torque 0.6 nm"])
def test_a_torque_above_or_below_a_table_of_a_file_without_places_is_named(line: str) -> None:
    for settings, findings in (of_table(*ROWS, caption=("Quay 63", line)), of_table(*ROWS, below=(line,))):
        assert [setting.torque.printed for setting in settings if setting.torque] == ["2", "1.2"]
        assert [line in finding.printed for finding in findings] == [True]


def test_a_note_is_accounted_for_where_it_hangs_on_a_setting_and_named_where_not() -> None:
    sheet = replace(table(*ROWS), below=("1) with ferrule 1.8 N·m", "2) lid screws 0.6 N·m"))
    marked = replace(sheet, cells=tuple(
        replace(cell, marks=(Mark(text="1"),)) if cell.text == "2" else cell for cell in sheet.cells
    ))  # fmt: skip
    document = Document(file="x", kind="test", pages=(Page(number=1),), page_count=1)
    settings, findings = told(document, (marked,), read(marked))
    assert [[f.code for f in setting.findings if f.code.startswith("note_")] for setting in settings] == [
        ["note_changes_value"], []
    ]  # fmt: skip
    assert ["0.6 N·m" in finding.message for finding in findings] == [True]


def test_a_note_on_a_page_with_other_marks_is_named() -> None:
    """A line that opens with a mark is a note of some figure; that one hangs on a setting does not account for all."""
    sheet = page("Terminal L1: 2.5 N·m", "", "", "2) Lid screws 0.6 N·m")
    words = sheet.pages[0].words
    marked = (*words[:3], replace(words[3], marks=(Mark(text="1"),)), *words[4:])
    _, findings = told(replace(sheet, pages=(replace(sheet.pages[0], words=marked),)))
    assert ["0.6 N·m" in finding.printed for finding in findings] == [True]


def test_a_figure_left_in_a_table_that_was_read_costs_one_finding() -> None:
    sheet = ("Terminal | Conductor mm² | Torque N·m | Remark", "L1 | 4 | 2 | lid 0.5 N·m", "PE | 4 | 1.2 | lid 0.6 nm")
    settings, [finding] = of_table(*sheet)
    assert len(settings) == 2
    assert "0.5 N·m" in finding.printed
    assert "0.6 nm" in finding.printed


def test_a_figure_under_a_heading_of_another_unit_is_no_torque() -> None:
    rows = ("Terminal | Conductor mm² | Torque N·m", "L1 | 4 | 2", "Bolts, torque in lb·ft | < | <", "M8 | 70 | 14")
    assert [finding.printed for finding in of_table(*rows)[1]] in ([], ["M8 | 70 | 14"])
    assert not any("'70'" in finding.message for finding in of_table(*rows)[1])


def test_a_table_that_was_not_understood_prints_all_its_rows() -> None:
    rows = ("1.2 | 1.5 | N | 0.75–4", "0.5 | 0.6 | L1 | 0.75–4")
    [finding] = of_table(*rows, caption=("Tightening torque N·m",))[1]
    assert (finding.code, finding.printed) == ("table_no_headings", "\n".join(rows))


def test_the_other_torques_of_a_machine_s_table_cost_no_finding_of_their_own() -> None:
    rows = ("Type | Unit | QM 1 | QM 2", "Rated torque | N·m | 2.4 | 4.8", "Momentary torque | N·m | 7.2 | 14.4",
            "Rated speed | r/min | 3000 | 3000")  # fmt: skip
    settings, findings = of_table(*rows, caption=("Servo drives QM",))
    assert settings == ()
    assert [finding.code for finding in findings] == ["other_torque"]


def test_tables_without_headings_far_behind_one_that_was_read_cost_nothing() -> None:
    """A table is gone on with overleaf, and not after a page without any of it."""
    first = table(*ROWS)
    far = [replace(table("1 | 17.5", "2 | 22.5"), page=number) for number in (2, 4, 5)]
    pages = tuple(Page(number=number) for number in range(1, 6))
    document = Document(file="x", kind="test", pages=pages, page_count=5)
    _, findings = told(document, (first, *far), read(first))
    where = Counter(finding.place.page for finding in findings if finding.place)
    assert where == Counter({2: 1})


def test_a_torque_that_the_sheet_says_elsewhere_speaks_for_its_own_line_of_a_block(tmp_path: Path) -> None:
    text = "Main switch QS 63\n\nTerminal;Conductor mm²;Tightening torque N·m\nL1;1.5-6;2.5\n\n{}\n"
    held = {}
    for notes in ("See also L1 5.5 N·m", "See also L1\nLid 5.5 N·m"):
        path = tmp_path / "sheet.csv"
        path.write_text(text.format(notes), encoding="utf-8")
        held[notes] = [setting.state for setting in read_one(path, OpenWish()).settings]
    assert list(held.values()) == [["held"], ["released"]]


def test_another_torque_in_a_row_that_was_read_holds_its_figure() -> None:
    """What is left in the row of a terminal may be the same terminal's, and differs."""
    rows = ("Terminal | Conductor mm² | Torque N·m | Remark", "L1 | 4 | 2 | or 1.5 N·m", "PE | 4 | 1.2 |")
    settings, _ = of_table(*rows)
    assert [(s.terminal.printed, "contradicted" in {f.code for f in s.findings}) for s in settings] == [
        ("L1", True), ("PE", False)
    ]  # fmt: skip
