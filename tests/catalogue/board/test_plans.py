"""A plan: what the catalogue is certain of is planned with its print, what it is not comes first
and never is.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from boards_by_hand import DAY, certain, driver, listed, plan
from click.testing import CliRunner, Result
from jsonschema import Draft202012Validator

from torquary_catalogue.board.listed import ListedTerminal
from torquary_catalogue.board.plan import CAUTIONS
from torquary_catalogue.board.plan_text import write_plan_text
from torquary_catalogue.board.planning import make_plan
from torquary_catalogue.board.settled import Certain, Unsettled, settle
from torquary_catalogue.command import main
from torquary_catalogue.find.together import AskedTogether
from torquary_catalogue.store import Catalogue
from torquary_schema.validation import read_schema


def ask(catalogue: Catalogue, *terminals: ListedTerminal) -> Sequence[Certain | Unsettled]:
    return list(settle(catalogue, terminals))


def test_a_certain_terminal_has_its_print_bit_and_conditions(harbour_catalogue: Catalogue) -> None:
    (one,) = ask(harbour_catalogue, listed("line", device="BK-16", conductor="4 mm2"))
    assert isinstance(one, Certain)
    assert (one.row.file, one.row.page, one.row.torque_printed) == (
        "harbour_breakers.pdf",
        1,
        "2.0",
    )
    assert (one.bits, one.band.low_nm, one.band.is_point) == ((("cross_z", "2"),), 2, True)
    (two,) = ask(harbour_catalogue, listed("line", device="SW-40"))
    assert isinstance(two, Certain)
    assert two.conditions == ("no_retightening",)
    assert any("No size is on the list" in note for note in two.notes)


@pytest.mark.parametrize(
    ("parts", "why", "settles"),
    [
        ({"device": "BK-16", "conductor": "50 mm2"}, "50 mm² is outside", "printed: 1.5–16"),
        ({"name": "load", "device": "BK-16"}, "2 rows differ", "conductor"),
        ({"device": "CT-9"}, "Held, not given", "held: ct-line"),
        ({"name": "N", "device": "SW-40"}, "no setting is printed: not more than 0.8 N·m", ""),
        ({"device": "ZZ-77"}, "Not understood: “zz77”", ""),
        ({"device": "BK-16", "conductor": "soon"}, "is no conductor size", ""),
        ({"device": "mcb 4"}, "a number in the device was taken for 4 mm²", ""),
    ],
)
def test_what_is_not_certain_is_never_planned_and_says_what_would_settle_it(
    harbour_catalogue: Catalogue, parts: dict[str, Any], why: str, settles: str
) -> None:
    terminal = listed(parts.pop("name", "line"), **parts)
    told = ask(harbour_catalogue, terminal)
    (one,) = told
    assert isinstance(one, Unsettled)
    assert why in one.why
    assert settles in "\n".join(one.settles)
    made = make_plan("B7", [terminal], told, today=DAY)
    assert made.settings == ()
    assert not made.is_whole
    lines = write_plan_text(made)
    assert lines.index(f"! {CAUTIONS[0]}") < lines.index("Without a certain figure, not planned:")


def test_a_question_is_put_once_for_all_terminals_that_have_it(
    harbour_catalogue: Catalogue, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[tuple[object, ...]] = []
    real = AskedTogether.tell_each
    monkeypatch.setattr(
        AskedTogether, "tell_each", lambda self, tells: asked.append(tuple(tells)) or real(self, tells)
    )
    told = ask(harbour_catalogue, *(listed("line", way, device="BK-16") for way in range(1, 9)))
    assert len(told) == 8
    assert [len(tells) for tells in asked] == [1]


def test_steps_and_what_a_sheet_forbids_are_written_with_the_terminal(
    harbour_catalogue: Catalogue,
) -> None:
    terminals = [
        listed("line", 3, device="SW-40", joint="factory"),
        listed("load", 2, device="BK-16", conductor="6 mm2"),
        listed("", 4, joint="spare"),
    ]
    told = ask(harbour_catalogue, *terminals[:2])
    made = make_plan("B7", terminals, told, drivers=(driver(),), unit="pound_inch", today=DAY)
    text = "\n".join(write_plan_text(made))
    for said in (
        "Slacken the screw a little first",  # common practice, no source
        "factory-made joint: check it as well",  # common practice, no source
        "The sheet forbids retightening",
        "1.4 F4: spare",
        "SET 2 N·m (≈17.7 lb·in)",
        "≈22.13–≈26.55 lb·in, printed “2.5–3.0”, unit “N·m”: harbour_breakers.pdf, 2024-03, page 1",
        "TD-1: on the mark 2.8 N·m",
        "inside the printed range at this value",
    ):
        assert said in text
    assert text.index("1.2 F2 | load") < text.index("1.3 F3 | line"), "the board's own order"
    assert made.is_whole


def test_rows_that_ask_for_different_bits_are_no_certain_answer(
    harbour_catalogue: Catalogue,
) -> None:
    from torquary_catalogue.board.settled import _share_bits

    rows = [
        certain("2", None, ("cross_z", "2"), ("slot", "1x5")).row,
        certain("2", None, ("cross_z", "2")).row,
    ]
    assert _share_bits(rows) == (("cross_z", "2"),)
    assert _share_bits([certain("2", None, ("slot", "1x5")).row, rows[1]]) is None
    assert _share_bits([certain("2").row, rows[1]]) == (("cross_z", "2"),)


LIST = """board,row,way,mark,device,terminal,conductor,joint
B7,1,1,F1,BK-16,line,4 mm2,
B7,1,2,F2,SW-40,line,4 mm2,factory
B7,1,3,F3,BK-16,load,50 mm2,
B7,1,x,F4,BK-16,load,6 mm2,
B8,1,1,F1,BK-16,load,6 mm2,
"""


def run(folder: Path, catalogue: Path, *arguments: str, text: str = LIST) -> Result:
    (folder / "list.csv").write_text(text)
    words = ["plan", str(folder / "list.csv"), *arguments, "--catalogue", str(catalogue)]
    return CliRunner().invoke(main, words, catch_exceptions=False)


def test_the_command_plans_each_board_names_the_bad_row_and_ends_with_1(
    tmp_path: Path, harbour_file: Path
) -> None:
    done = run(tmp_path, harbour_file, "--on", "2031-05-02")
    assert done.exit_code == 1
    assert "Board B7, 2031-05-02: 3 terminals, 2 in 2 settings" in done.output
    assert "Board B8, 2031-05-02: 1 terminal, 1 in 1 setting" in done.output
    assert "! row 5, column way: 'x' is no whole number from 1 to 999" in done.output
    assert "1.3 F3 | load (row 4): 50 mm² is outside what is printed" in done.output
    whole = run(tmp_path, harbour_file, "--board", "B8", text=LIST.replace(",x,", ",4,"))
    assert whole.exit_code == 0
    assert "B7" not in whole.output


def test_json_fits_its_published_schema(tmp_path: Path, harbour_file: Path) -> None:
    form = tmp_path / "td.json"
    CliRunner().invoke(main, ["board", "new", str(form), "--driver"], catch_exceptions=False)
    done = run(tmp_path, harbour_file, "--driver", str(form), "--on", "2026-05-02", "--json")
    told = json.loads(done.stdout, parse_float=Decimal)
    Draft202012Validator.check_schema(read_schema("plan"))
    assert list(Draft202012Validator(read_schema("plan")).iter_errors(json.loads(done.stdout))) == []
    first, second = told["plans"]
    assert (first["board"], second["board"], len(first["faults"]), second["faults"]) == (
        "B7",
        "B8",
        1,
        [],
    )
    (task,) = first["settings"][0]["batches"][0]["tasks"]
    assert (task["terminal"]["name"], task["printed"][0]["torque_printed"]) == (
        "1.1 F1 | line",
        "2.0",
    )
    assert task["deviation"]["kind"] == "single_figure"


@pytest.mark.parametrize(
    ("arguments", "text", "said"),
    [
        (("--on", "soon"), LIST, "--on 'soon' is no day"),
        (("--board", "B9"), LIST, "names no board 'B9': B7, B8"),
        (("--heading", "x"), LIST, "is not HEADING=KEY"),
        (("--unit", "stone"), LIST, "--unit 'stone' is not known"),
        (("--driver", "none.json"), LIST, "cannot be opened"),
        ((), "device,terminal\n,line\n", "no row of the list can be planned"),
    ],
)
def test_wrong_use_is_said_in_one_line(
    tmp_path: Path, harbour_file: Path, arguments: tuple[str, ...], text: str, said: str
) -> None:
    done = run(tmp_path, harbour_file, *arguments, text=text)
    assert done.exit_code == 2
    assert said in done.output


def test_no_text_of_a_list_steers_the_terminal(tmp_path: Path, harbour_file: Path) -> None:
    odd = "F1\x1b[31m\u202e"
    text = f"device,terminal,mark,conductor,remark\nBK-16,line,{odd},4 mm2,{odd}\n{odd},N,F2,,\n"
    done = run(tmp_path, harbour_file, text=text)
    assert done.exit_code == 1
    assert "\x1b" not in done.output
    assert "\u202e" not in done.output
    assert "F1<U+001B>[31m<U+202E>" in done.output


def test_a_plan_without_terminals_that_are_certain_is_still_a_plan() -> None:
    made = plan()
    assert (made.settings, made.bit_changes, made.is_whole) == ((), 0, True)
