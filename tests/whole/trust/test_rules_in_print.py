"""The rules that hang on how a page is drawn: a sheet each, whose figure goes out when the rule is switched off."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from drawn_figures import DRAWINGS, draw_sheet
from trust_rules import read_unseen, switched_off


@pytest.mark.parametrize("code", DRAWINGS)
def test_without_the_rule_the_figure_is_given_out(tmp_path: Path, code: str) -> None:
    path = draw_sheet(tmp_path / "sheet.pdf", DRAWINGS[code])
    doubtful = [s for s in read_unseen(path).settings if code in {f.code for f in s.findings}]
    assert doubtful
    assert {setting.state for setting in doubtful} == {"held"}
    with switched_off(code):
        released = {s.id for s in read_unseen(path).settings if s.state == "released"}
    assert released & {setting.id for setting in doubtful}


# A figure across a rule makes the whole table doubtful, damage the whole page.
@pytest.mark.parametrize("code", sorted(DRAWINGS.keys() - {"readings_differ", "page_damaged"}))
def test_the_plain_figure_beside_it_goes_out(tmp_path: Path, code: str) -> None:
    path = draw_sheet(tmp_path / "sheet.pdf", DRAWINGS[code])
    assert [s.torque.printed for s in read_unseen(path).settings if s.state == "released" and s.torque] == ["3.0"]
