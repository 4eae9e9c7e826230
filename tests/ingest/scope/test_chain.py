"""Which printed texts speak for a figure, and how near they are. Makers and figures are invented."""

from __future__ import annotations

from pathlib import Path

from torquary_ingest.reader import read_sheet
from torquary_ingest.scope import speak_over
from torquary_schema.values import ScopeText, Setting


def scopes(path: Path, content: str) -> list[list[tuple[str, str]]]:
    """Kind and text of what speaks for each setting of a text file, nearest first."""
    path.write_text(content, "utf-8")
    settings: tuple[Setting, ...] = read_sheet(path).settings
    assert all(one.page == 1 for setting in settings for one in setting.scope)
    return [[(one.kind, one.text) for one in setting.scope] for setting in settings]


def test_the_row_and_its_headings_come_before_section_rows_captions_and_the_sheet(tmp_path: Path) -> None:
    (first, second) = scopes(
        tmp_path / "a.csv",
        "Main switch QS 63\n\nControl terminals\nTerminal;Torque N·m\nUpper side;\nL1;2.5\nLower side;\nA1;0.5\n",
    )
    assert first == [
        ("row", "L1"),
        ("heading", "Torque N·m"),
        ("heading", "Terminal"),
        ("section_row", "Upper side"),
        ("caption", "Control terminals"),
        ("sheet", "Main switch QS 63"),
    ]
    assert second[3] == ("section_row", "Lower side")


def test_a_sentence_over_a_table_introduces_it() -> None:
    told = speak_over(["Line terminals", "The torques below hold for dry screws."], "caption", 3)
    assert told == (
        ScopeText(kind="introduction", text="The torques below hold for dry screws.", page=3),
        ScopeText(kind="caption", text="Line terminals", page=3),
    )


def test_a_row_that_is_a_sentence_stays_a_row() -> None:
    (told,) = speak_over(["The rows below hold for dry screws."], "section_row", 1)
    assert told.kind == "section_row"
