"""Every rule that holds a figure matters: with the rule switched off its sheet would give a doubtful figure out.

`RULES` have one small sheet each. `NAMES_ONLY` are the codes of figures that could not be read at all: they
give the reason, and the figure stays back without them too. The codes that hang on how a page is drawn have
their sheets in `drawn_figures.py`; `WITNESSED` are those that only the witness gives (tests/ingest/witness), and
`SCANNED` is that of pictures (tests/ingest/test_proposals.py), `DECIDED` that of decisions (test_decision_rules.py),
`HURRIED` that of a sheet not read whole (tests/ingest/test_sheets_not_read_whole.py).
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest

from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_ingest.profiles import read_profile
from torquary_schema.findings import codes
from torquary_schema.values import Setting

sys.path.insert(0, str(Path(__file__).parent))
from drawn_figures import DRAWINGS
from trust_rules import switched_off

HEAD = "Terminal;Conductor mm²;Torque N·m\n"
RULES = {
    "units_disagree": "Terminal;Torque N·m;Torque lb·in\nL1;2.5;35\n",
    "torque_implausible": HEAD + "L1;1.5;25\n",
    "conductor_unreadable": HEAD + "L1;1o;2.5\n",
    "conductor_unit_missing": "Terminal;Conductor;Torque N·m\nL1;10;2.5\n",
    "condition_unread": HEAD + "L1;10;2.5 greased\n",
    "note_changes_value": HEAD + "L1;10;2.5¹\n\n¹ 3.0 N·m for aluminium\n",
    "note_unresolved": HEAD + "L1;10;2.5*\n",
    "terminal_missing": "Conductor mm²;Torque N·m\n10;2.5\n",
    "table_shifted": "Terminal;Conductor mm²;Torque N·m;Poles\nL1;10;2.5;1\nL2;10;3.5\n",
    "taught_contradicted": "Quillhaven\nMain switch QS 63\nTerminal;Conductor mm²;Mz.\nL1;10;2.5 N·m\n",
    "quantity_missing": "Terminal;Conductor mm²;Rated torque N·m\nL1;10;2.5\n",
    "screw_missing": "Position;Tightening torque N·m\nUpper left;2.5\n",
    "device_missing": f"Quillhaven Works\n\n{HEAD}L1;10;2.5\n\nLampiride\n\n{HEAD}L1;16;3\n",
    "contradicted": HEAD + "L1;10;2.5\nL1;10;3.5\n",
    "sheet_damaged": HEAD + "L1;10;2.5\nL2;16;3.5\nL3;25;4",
    "quote_unbalanced": HEAD + 'L1;10;"2.5\nL2;16;3.5\n',
}
PROFILES = {
    "taught_contradicted": {
        "torquary_profile": 1, "maker": "Quillhaven", "headings": [{"printed": "Mz.", "means": "terminal"}],
    },
}  # fmt: skip
NAMES_ONLY = {
    "unit_doubtful": "Terminal;Conductor mm²;Torque lbs\nL1;10;22\n",
    "unit_missing": "Terminal;Conductor mm²;Torque\nL1;10;2.5\n",
    "number_ambiguous": HEAD + "L1;10;1.250\n",
    "number_unreadable": HEAD + "L1;10;2.5 N·m –\n",
    "range_reversed": HEAD + "L1;10;3.0–2.5\n",
    "date_for_range": HEAD + "L1;10;02-Mar\n",
    "character_unreadable": HEAD + "L1;10;2.5\ufffd\n",
    "ditto_doubtful": HEAD + "L1;10;↓\n",
    "number_broken": HEAD + "L1;10;2. 5\n",
    "torque_missing": HEAD + "L1;10;2.5\nL2;10;\n",
    "unit_not_torque": HEAD + "L1;10;2.5 mm\n",
    "nul_byte": HEAD + "L1;10;2.\x005\n",
}
WITNESSED = {"text_without_ink", "not_witnessed"}
SCANNED = {"scanned_figure"}
HURRIED = {"pages_not_read"}
DECIDED = {"decision_unconfirmed", "decision_reopened", "answer_contradicted"}


def read(folder: Path, text: str, code: str = "") -> tuple[Setting, ...]:
    """The settings of a sheet with this text, and with the layout profile that is tried with the code."""
    path = folder / "sheet.csv"
    path.write_text(text, encoding="utf-8")
    if code not in PROFILES:
        return read_one(path, OpenWish()).settings
    profile = folder / "profile.json"
    profile.write_text(json.dumps(PROFILES[code]), encoding="utf-8")
    return read_one(path, OpenWish(), (read_profile(profile),)).settings


@pytest.mark.parametrize("code", RULES)
def test_without_the_rule_the_figure_is_given_out(tmp_path: Path, code: str) -> None:
    doubtful = [s for s in read(tmp_path, RULES[code], code) if code in {f.code for f in s.findings}]
    assert doubtful
    assert {setting.state for setting in doubtful} == {"held"}
    with switched_off(code):
        released = {s.id for s in read(tmp_path, RULES[code], code) if s.state == "released"}
    assert released & {setting.id for setting in doubtful}


@pytest.mark.parametrize("code", NAMES_ONLY)
def test_a_figure_that_cannot_be_read_stays_back_without_its_reason(tmp_path: Path, code: str) -> None:
    unread = {s.id: s.state for s in read(tmp_path, NAMES_ONLY[code]) if code in {f.code for f in s.findings}}
    assert set(unread.values()) == {"held"}
    with switched_off(code):
        assert unread.items() <= {s.id: s.state for s in read(tmp_path, NAMES_ONLY[code])}.items()


def test_every_rule_is_tried() -> None:
    """`record_invalid` guards against ourselves: no sheet brings it about (tests/ingest/test_reader.py does)."""
    holding = {key for key, code in codes().items() if code.holds}
    elsewhere = WITNESSED | SCANNED | HURRIED | DECIDED | {"record_invalid"}
    assert holding == elsewhere | DRAWINGS.keys() | RULES.keys() | NAMES_ONLY.keys()


@pytest.mark.parametrize("unit", ["N·m", "(Nm)", "N-m", "N.m", "N m", "[N.m]"])
def test_a_letter_of_the_unit_names_no_terminal(tmp_path: Path, unit: str) -> None:
    """N marks the neutral conductor (IEC 60445), but not in a unit: here nothing names a terminal."""
    (setting,) = read(tmp_path, f"Conductor mm²;Torque {unit}\n10;2.5\n")
    assert (setting.state, setting.terminal.roles) == ("held", ())


@pytest.mark.parametrize("unit", ["N·m", "N m"])
def test_the_neutral_terminal_is_still_named(tmp_path: Path, unit: str) -> None:
    (setting,) = read(tmp_path, f"Terminal;Conductor mm²;Torque {unit}\nN;10;2.5\n")
    assert (setting.state, setting.terminal.roles) == ("released", ("neutral",))
