"""What a web page hides in a cell is not read, what it adds is; what cannot be told is held."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from hidden_text import DOUBTFUL, SEEN, page

from torquary_ingest.openers.web_page import WebPageOpener
from torquary_ingest.plugins import OpenWish
from torquary_ingest.reader import read_sheet
from torquary_schema.values import Setting


def read(folder: Path, style: str, cell: str) -> tuple[Setting, ...]:
    path = folder / "qx.html"
    path.write_text(page(style, cell), encoding="utf-8")
    return read_sheet(path).settings


@pytest.mark.parametrize("name", SEEN)
def test_the_figure_is_the_one_that_a_browser_shows(tmp_path: Path, name: str) -> None:
    style, cell, shown = SEEN[name]
    [setting] = read(tmp_path, style, cell)
    assert setting.torque is not None
    assert (setting.torque.printed, setting.state) == (shown, "released")


@pytest.mark.parametrize("name", DOUBTFUL)
def test_what_cannot_be_told_is_held(tmp_path: Path, name: str) -> None:
    assert {setting.state for setting in read(tmp_path, *DOUBTFUL[name])} == {"held"}


def test_what_is_hidden_is_named(tmp_path: Path) -> None:
    path = tmp_path / "qx.html"
    for style in (".x{display:none}", ".x{visibility:hidden}", ".x{color:#fff}"):
        path.write_text(page(style, "2.5<b class=x>9</b>"), encoding="utf-8")
        assert [finding.code for finding in read_sheet(path).findings] == ["page_hidden_text"]


@pytest.mark.parametrize("style", ["visibility:hidden", "opacity:0", "transform:scale(0)", "color:transparent"])
def test_a_cell_that_does_not_show_keeps_its_place(tmp_path: Path, style: str) -> None:
    path = tmp_path / "qx.html"
    head = "<tr><th>Terminal<th>Screw<th>Torque N·m<th>Test torque N·m</tr>"
    path.write_text(f"<table>{head}<tr><td>Line<td style='{style}'>M5<td>2.5<td>9.9</tr></table>", encoding="utf-8")
    [table] = WebPageOpener().open(path, OpenWish()).pages[0].tables or ()
    assert [(cell.column, cell.text) for cell in table.cells if cell.row == 2] == [
        (1, "Line"), (2, ""), (3, "2.5"), (4, "9.9"),
    ]  # fmt: skip


def test_style_sheets_of_noise_are_read_or_refused(tmp_path: Path) -> None:
    dice = random.Random(11)
    parts = [*"{};:()[],>+~*&@#./!%\"'", " ", "td", ".x", "@media", "@layer", "@supports", "--a", "var(", "calc(", "0",
             "1px", "display", "none", "color", "rgb(", "not", "and", ":is(", ":not(", "::before"]  # fmt: skip
    path = tmp_path / "noise.html"
    for _ in range(300):
        path.write_text(page("".join(dice.choices(parts, k=80)), "2.5"), encoding="utf-8")
        assert WebPageOpener().open(path, OpenWish()).pages
