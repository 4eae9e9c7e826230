"""What a web page hides in a cell is not read, what it adds is; what cannot be told is held."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from torquary_ingest.reader import read_sheet
from torquary_schema.values import Setting

sys.path.insert(0, str(Path(__file__).parent))
from hidden_text import DOUBTFUL, SEEN, page


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
