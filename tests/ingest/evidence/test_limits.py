"""An upper bound alone is a limit and no setting; beside a figure it is the limit of that setting."""

from __future__ import annotations

from pathlib import Path

import pytest

from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_schema.values import Setting


def read(folder: Path, text: str) -> tuple[Setting, ...]:
    path = folder / "sheet.csv"
    path.write_text("Main switch QS 63\n\n" + text, encoding="utf-8")
    return read_one(path, OpenWish()).settings


def figures(setting: Setting) -> tuple[str, ...]:
    torque = setting.torque
    assert torque is not None
    return tuple(str(one) for one in (torque.min_nm, torque.nominal_nm, torque.max_nm, torque.limit_nm))


@pytest.mark.parametrize("printed", ["max. 2.5", "≤ 2.5", "not more than 2.5", "höchstens 2.5", "2.5 (max.)"])
def test_an_upper_bound_alone_is_released_as_a_limit(tmp_path: Path, printed: str) -> None:
    (setting,) = read(tmp_path, f"Terminal;mm²;Tightening torque N·m\nL1;6;{printed}\n")
    assert (setting.state, figures(setting)) == ("released", ("None", "None", "None", "2.5"))


@pytest.mark.parametrize("printed", ["2.0, max. 2.5", "recommended 2.0, max. 2.5", "2.0 (max. 2.5)"])
def test_a_figure_with_an_upper_bound_is_a_setting_with_a_limit(tmp_path: Path, printed: str) -> None:
    (setting,) = read(tmp_path, f"Terminal;mm²;Tightening torque N·m\nL1;6;{printed}\n")
    assert (setting.state, figures(setting)) == ("released", ("2.0", "2.0", "2.0", "2.5"))


@pytest.mark.parametrize(("highest", "state"), [("2.5", "released"), ("1.5", "held")])
def test_a_column_of_highest_torques_beside_those_to_set_gives_limits_unless_it_is_below(
    tmp_path: Path, highest: str, state: str
) -> None:
    (setting,) = read(tmp_path, f"Terminal;mm²;Torque rec. N·m;Torque max. N·m\nL1;6;2.0;{highest}\n")
    assert setting.state == state
    assert (figures(setting)[3] == highest) == (state == "released")


def test_a_lowest_and_a_highest_torque_are_a_range_and_no_limit(tmp_path: Path) -> None:
    (setting,) = read(tmp_path, "Terminal;mm²;Torque min. N·m;Torque max. N·m\nL1;6;2.0;2.5\n")
    assert (setting.state, figures(setting)) == ("released", ("2.0", "None", "2.5", "None"))
