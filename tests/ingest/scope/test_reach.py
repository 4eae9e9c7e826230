"""How far a statement reaches on a page: over its figures, right under its table, or all of the page."""

from __future__ import annotations

from pathlib import Path

import pytest
from laid_out_sheets import draw

from torquary_ingest.reader import read_sheet

HEADS = ["Terminal", "Conductor mm²", "Tightening torque N·m"]
MAIN = ([HEADS, ["L1", "1.5-16", "2.5"], ["N", "1.5-16", "2.4"]], [])
AUX = ([HEADS, ["A1", "0.5-2.5", "0.6"], ["A2", "0.5-2.5", "0.6"]], [])


def told(path: Path, *parts: object) -> list[tuple[tuple[str, ...], tuple[str, ...], bool | None]]:
    settings = read_sheet(draw(path, "Main switch QS 63", *parts)).settings
    assert {setting.state for setting in settings} == {"released"}
    kinds = [(one.conductor.material, one.conductor.stranding, one.conductor.ferrule) for one in settings]
    return [kinds[0], kinds[-1]]


@pytest.mark.parametrize("line", ["For flexible conductors", "Flexible conductors"])
def test_a_caption_speaks_for_its_own_table_alone(tmp_path: Path, line: str) -> None:
    first, last = told(tmp_path / "a.pdf", line, MAIN, "Auxiliary contacts", AUX)
    assert (first, last) == (((), ("flexible",), None), ((), (), None))


def test_a_line_right_under_a_table_says_the_kind_of_conductor_for_it_alone(tmp_path: Path) -> None:
    parts = (MAIN, "Figures for solid conductors", "<br/>&nbsp;<br/>Auxiliary contacts", AUX)
    first, last = told(tmp_path / "a.pdf", *parts)
    assert (first[1], last[1]) == (("solid",), ())


def test_the_metal_allowed_is_the_same_all_over_the_page(tmp_path: Path) -> None:
    first, last = told(tmp_path / "a.pdf", MAIN, "Use 75 °C copper conductors only.", "Auxiliary contacts", AUX)
    assert first[0] == last[0] == ("copper",)


def test_what_is_said_for_all_reaches_every_table_of_the_page(tmp_path: Path) -> None:
    line = "All figures for conductors with ferrule, unless stated otherwise."
    first, last = told(tmp_path / "a.pdf", MAIN, "Auxiliary contacts", AUX, line)
    assert (first[2], last[2]) == (True, True)


def test_a_text_beside_another_over_the_table_heads_a_part_of_it(tmp_path: Path) -> None:
    """Two texts side by side are no statements for all, whatever they say."""
    beside = ([["Flexible conductors", "Strip 12 mm"]], [])
    first, _ = told(tmp_path / "a.pdf", beside, MAIN)
    assert first[1] == ()


@pytest.mark.parametrize("line", ["Terminals are designed for copper conductors.", "Rated IP20. Copper conductors."])
def test_a_sentence_of_the_metal_reaches_every_table_of_the_page(tmp_path: Path, line: str) -> None:
    first, last = told(tmp_path / "a.pdf", MAIN, "Auxiliary contacts", AUX, line)
    assert first[0] == last[0] == ("copper",)


def test_a_heading_of_the_metal_speaks_for_its_own_table_alone(tmp_path: Path) -> None:
    first, last = told(tmp_path / "a.pdf", MAIN, "Auxiliary contacts", "For copper conductors", AUX)
    assert (first[0], last[0]) == ((), ("copper",))


@pytest.mark.parametrize(("name", "metal"), [("N", ("copper",)), ("N *", ())])
def test_a_sign_that_hangs_on_nothing_is_a_bullet(tmp_path: Path, name: str, metal: tuple[str, ...]) -> None:
    rows = [HEADS, ["L1", "1.5-16", "2.5"], [name, "1.5-16", "2.4"]]
    first, _ = told(tmp_path / "a.pdf", (rows, []), "* Use copper conductors only.")
    assert first[0] == metal
