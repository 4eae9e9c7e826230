"""One torque in two units, wherever both stand: what agrees is released, what contradicts itself is held.

2.0 N·m is 17.7 lbf·in (NIST SP 811, appendix B: 1 lbf·in = 0.1129848 N·m); 22 lbf·in is 2.49 N·m, a fourth more.
"""

from __future__ import annotations

from pathlib import Path

import pdfplumber
import pytest

from torquary_ingest.figures import read_torque
from torquary_ingest.reader import read_sheet
from torquary_schema.values import Setting

SHEET = Path(__file__).parents[2] / "sample_sheets" / "duskwarren_contactor.pdf"
PLACES = {
    "one cell": "Terminal;Torque\nLine;2.0 N·m (22 lbf·in)\n",
    "two columns": "Terminal;Torque N·m;Torque lbf·in\nLine;2.0;22\n",
    "two columns, units in the cells": "Terminal;Torque;Torque\nLine;2.0 N·m;22 lbf·in\n",
    "columns by system": "Terminal;Metric torque N·m;Imperial torque lbf·in\nLine;2.0;22\n",
    "columns by system, units in the cells": "Terminal;Metric;Imperial\nLine;2.0 N·m;22 lbf·in\n",
    "one column's system said": "Terminal;Torque;Torque (imperial)\nLine;2.0 N·m;22 lbf·in\n",
    "German systems": "Klemme;Drehmoment metrisch N·m;Drehmoment imperial lbf·in\nL1;2.0;22\n",
    "columns by standard": "Terminal;Torque IEC N·m;Torque UL lbf·in\nLine;2.0;22\n",
    "columns by market": "Terminal;Torque (EU) N·m;Torque (NA) lbf·in\nLine;2.0;22\n",
    "rows of units, terminals across": "Terminal;Line;Load\nTorque N·m;2.0;2.0\nTorque lbf·in;22;22\n",
    "rows by system, terminals across": "Terminal;Line;Load\nMetric torque N·m;2.0;2.0\nImperial torque lbf·in;22;22\n",
    "rows with a column of units": "Terminal;Unit;Torque\nLine;N·m;2.0\nLine;lbf·in;22\n",
    "properties": "Property;Value\nTerminal;Line\nTorque N·m;2.0\nTorque lbf·in;22\n",
    "properties by system": "Property;Metric;Imperial\nTightening torque, line terminal;2.0 N·m;22 lbf·in\n",
    "two tables": "Terminal;Torque N·m\nLine;2.0\nLoad;2.0\n\nTerminal;Torque lbf·in\nLine;22\nLoad;22\n",
    "limits in two units": "Terminal;Min. N·m;Max. N·m;Min. lbf·in;Max. lbf·in\nLine;2.0;2.0;22;22\n",
}
SENTENCES = {
    "brackets": "<p>Tighten the line terminal to 2.0 N·m (22 lbf·in).</p>",
    "the next sentence": "<p>Tighten the line terminal to 2.0 N·m. That is 22 lbf·in.</p>",
    "the next line": "<p>Tightening torque of the line terminal: 2.0 N·m<br>22 lbf·in</p>",
    "the next paragraph": "<p>Tighten the line terminal to 2.0 N·m.</p><p>Tighten the line terminal to 22 lbf·in.</p>",
    "a list": "<dl><dt>Line terminal</dt><dd>2.0 N·m</dd><dd>22 lbf·in</dd></dl>",
}
CASES = [*((".csv", text) for text in PLACES.values()), *((".html", text) for text in SENTENCES.values())]
NAMES = [*PLACES, *SENTENCES]


def read(folder: Path, ending: str, text: str) -> tuple[Setting, ...]:
    path = folder / f"qx{ending}"
    path.write_text(text, encoding="utf-8")
    return read_sheet(path).settings


@pytest.mark.parametrize(("ending", "text"), CASES, ids=NAMES)
def test_units_that_contradict_each_other_hold_the_figure(tmp_path: Path, ending: str, text: str) -> None:
    settings = read(tmp_path, ending, text)
    assert {setting.state for setting in settings} == {"held"}
    assert "units_disagree" in {finding.code for setting in settings for finding in setting.findings}


@pytest.mark.parametrize(("ending", "text"), CASES, ids=NAMES)
def test_units_that_agree_are_said_to_contradict_nowhere(tmp_path: Path, ending: str, text: str) -> None:
    settings = read(tmp_path, ending, text.replace("22", "17.7"))
    assert "units_disagree" not in {finding.code for setting in settings for finding in setting.findings}


@pytest.mark.parametrize(
    ("head", "row", "terminals"),
    [
        ("Min. torque N·m;Max. torque N·m", "2.0;2.5", ["Line"]),
        ("Torque rigid N·m;Torque flexible lbf·in", "2.0;22", ["Line", "Line"]),
        ("Main terminals N·m;Coil terminals lbf·in", "2.0;10", ["Line / Coil terminals", "Line / Main terminals"]),
        ("Min. N·m;Max. N·m;Torque lbf·in", "2.0;2.5;17.7-22.1", ["Line"]),
        ("Metric torque N·m;Imperial torque lbf·in", "2.0;17.7", ["Line"]),
    ],
)
def test_columns_that_rightly_say_different_things_are_released(
    tmp_path: Path, head: str, row: str, terminals: list[str]
) -> None:
    settings = read(tmp_path, ".csv", f"Terminal;{head}\nLine;{row}\n")
    assert {setting.state for setting in settings} == {"released"}
    assert sorted(setting.terminal.printed for setting in settings) == terminals


@pytest.mark.parametrize(
    ("text", "agrees"), [("2–2.5 N·m (18–22 lbf·in)", True), ("2–2.5 N·m (22–22.5 lbf·in)", False)]
)
def test_a_range_is_printed_as_finely_as_its_finer_end(tmp_path: Path, text: str, agrees: bool) -> None:
    """2–2.5 stands for 1.95 at the least: 22 lbf·in, 2.49 N·m, is no print of it; in columns and in one cell."""
    assert (not read_torque(text).doubts) == agrees
    metric, customary = text[:-8].split(" N·m (")
    [setting] = read(tmp_path, ".csv", f"Terminal;Torque N·m;Torque lbf·in\nLine;{metric};{customary}\n")
    assert (setting.state == "released") == agrees


@pytest.mark.parametrize(
    ("text", "column"), [("N·m;Torque lbf·in\nLine;2.0;17.7\n", 2), ("lbf·in;Torque N·m\nLine;17.7;2.0\n", 3)]
)
def test_the_place_is_that_of_the_figure_given(tmp_path: Path, text: str, column: int) -> None:
    (setting,) = read(tmp_path, ".csv", f"Terminal;Torque {text}")
    assert (setting.torque.printed, setting.place.column) == ("2.0", column)


def test_on_a_page_its_box_is_around_the_figure_given() -> None:
    """The sheet prints lbf·in first; the picture of a row outlines this box."""
    settings = read_sheet(SHEET).settings
    assert len(settings) == 5
    with pdfplumber.open(SHEET) as pdf:
        for setting in settings:
            assert setting.place.box is not None
            box = setting.place.box
            shown = pdf.pages[0].within_bbox((box.x0, box.top, box.x1, box.bottom)).extract_text()
            assert shown == setting.torque.printed
