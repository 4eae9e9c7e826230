"""A driver: its scale, its deviation, when it is due, and its file.

Tolerances are those of the worked checks W61 to W66 (`tests/facts/worked_checks.csv`), which name
their source: ISO 6789-1 from memory for the deviation, ISO 6789:2017 seen in print for where a
range begins and when a tool is due.
"""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from boards_by_hand import DAY, D, certain, driver, plan, values

from torquary_catalogue.board.bands import Band, judge, keeps_inside, read_band
from torquary_catalogue.board.driver import read_driver
from torquary_catalogue.board.scale import Scale
from torquary_catalogue.errors import TorquaryError
from torquary_schema.torque_tools import permitted_deviation

FORM: dict[str, Any] = {
    "torquary_driver": 1,
    "driver": "TD-7",
    "type": "II",
    "class": "D",
    "calibrated": "2031-03-01",
    "scales": [{"unit": "Nm", "lowest": 1, "highest": 5, "mark_every": 0.2}],
}


def put(folder: Path, **parts: Any) -> Path:
    path = folder / "td.json"
    path.write_text(json.dumps({**FORM, **parts}, indent=1))
    return path


def band(low: str, high: str) -> Band:
    return Band(low_nm=D(low), high_nm=D(high))


def test_between_two_marks_stands_one_value_half_way() -> None:
    """Common practice: no published rule for values between the marks was found."""
    (scale,) = driver("T", "1", "2", every="0.2").scales
    assert [f"{value.normalize():f}" for value in scale.values[:4]] == ["1", "1.1", "1.2", "1.3"]
    assert scale.tell_place(2) == "on the mark 1.2 N·m"
    assert scale.tell_place(3) == "half-way between the marks 1.2 and 1.4 N·m"
    uneven = Scale(unit="pound_inch", lowest=D(10), highest=D(30), marks=(D(10), D(14), D(30)))
    assert list(uneven.values) == [10, 12, 14, 22, 30]
    assert list(uneven.within(uneven.values_nm[1], uneven.values_nm[3])) == [1, 2, 3]


def test_a_display_is_set_to_its_own_steps() -> None:
    (scale,) = driver("T", "0.5", "1", step="0.05").scales
    assert len(scale.values) == 11
    assert scale.tell_place(1) == "set the display to 0.55 N·m"


def test_w61_what_a_driver_may_give() -> None:
    verdict = judge(band("2", "2"), band("2", "2"), D(2), D(6))
    assert (verdict.kind, verdict.low_nm, verdict.high_nm) == (
        "single_figure",
        D("1.88"),
        D("2.12"),
    )


@pytest.mark.parametrize(
    ("value", "inside"),
    [("2.65", False), ("2.6596", True), ("2.75", True), ("2.8302", False), ("2.83", True)],
)
def test_w62_where_a_deviation_stays_inside(value: str, inside: bool) -> None:
    """2.5…3 N·m and 6 %: from 2.5/0.94 = 2.65957 to 3/1.06 = 2.83019."""
    assert keeps_inside(band("2.5", "3"), D(value), D(6)) is inside


def test_w63_a_range_that_no_setting_keeps() -> None:
    assert not any(keeps_inside(band("1.8", "2.0"), D(at) / 100, D(6)) for at in range(180, 201))
    verdict = judge(band("1.8", "2.0"), band("1.8", "2.0"), D("1.9"), D(6))
    assert (verdict.kind, verdict.would_keep) == ("not_at_all", None)
    assert values(plan(certain("1.8", "2.0"), drivers=(driver(step="0.05"),))) == ["1.9"]


def test_w64_below_the_lowest_mark_nothing_is_set() -> None:
    made = plan(certain("0.5"), drivers=(driver(),))
    assert made.settings == ()
    assert made.not_settable[0].why == "0.5 N·m is outside the range of the drivers (TD-1: 1–5 N·m)"
    assert not made.is_whole


def test_w65_when_a_driver_is_due() -> None:
    tool = driver(calibrated=date(2025, 3, 1), cycles=5200)
    assert tool.is_due(date(2025, 11, 1))
    assert not driver(calibrated=date(2025, 3, 1), cycles=5200, most_cycles=8000).is_due(
        date(2025, 11, 1)
    )
    assert driver(calibrated=date(2025, 3, 1), most_months=6).is_due(date(2025, 9, 1))
    (said,) = plan(certain("2"), drivers=(driver(calibrated=date(2029, 3, 1)),)).warnings
    assert "due for calibration (last 2029-03-01" in said


def test_a_driver_that_becomes_due_during_the_work_is_said() -> None:
    told = [certain("2", way=at) for at in range(1, 4)]
    (said,) = plan(*told, drivers=(driver(cycles=4997),)).warnings
    assert "becomes due for calibration during this work (4997 cycles made, 3 terminals" in said
    assert plan(*told, drivers=(driver(cycles=4996),)).warnings == ()


def test_w66_a_part_of_the_value_is_a_range() -> None:
    made = plan(certain("1.08", "1.2"), drivers=(driver(every="0.1"),))
    assert [one.where for one in made.settings] == ["on the mark 1.1 N·m"]


@pytest.mark.parametrize(
    ("printed", "shared", "kind"),
    [
        (("2.0", "3.5"), ("2.5", "3.0"), "whole_band"),
        (("2.5", "3.0"), ("2.5", "3.0"), "this_value"),
        (("2.5", "2.8"), ("2.5", "2.8"), "not_at_all"),
    ],
)
def test_the_verdict_is_for_the_whole_band_for_this_value_or_no(
    printed: tuple[str, str], shared: tuple[str, str], kind: str
) -> None:
    assert judge(band(*printed), band(*shared), D("2.75"), D(6)).kind == kind


@pytest.mark.parametrize(
    ("figures", "ends"),
    [
        (("2", None, "3", None), ("2", "3")),
        (("2", "2.5", "3", None), ("2", "3")),
        (("2", "2", "2", None), ("2", "2")),
        ((None, "2", None, None), ("2", "2")),
        ((None, "2", "3", None), ("2", "2")),
        (("2", None, "3", "2.5"), ("2", "2.5")),
        (("2", None, None, "2.5"), ("2", "2.5")),
        ((None, None, None, "2.5"), None),
        (("2", None, None, None), None),
        ((None, None, "3", None), None),
        (("2", "2", "2", "1.5"), None),
    ],
)
def test_a_limit_or_one_end_alone_is_no_setting(
    figures: tuple[str | None, ...], ends: tuple[str, str] | None
) -> None:
    found = read_band([None if figure is None else D(figure) for figure in figures])
    assert (found and (found.low_nm, found.high_nm)) == (ends and (D(ends[0]), D(ends[1])))


def test_a_single_figure_between_the_values_of_a_scale_is_not_rounded() -> None:
    (one,) = plan(certain("2.26"), drivers=(driver(),)).not_settable
    assert (
        one.why
        == "2.26 N·m is on no scale, and is not rounded (the nearest of TD-1: 2.2 and 2.3 N·m)"
    )


def test_the_value_is_where_the_deviation_stays_inside_then_a_mark_then_near_the_middle() -> None:
    assert values(plan(certain("2.5", "3.0"), drivers=(driver(),))) == ["2.8"]
    assert values(plan(certain("2.0", "4.0"), drivers=(driver(),))) == ["3"]
    nominal = certain("2.0", "4.0", band=Band(low_nm=D(2), high_nm=D(4), nominal_nm=D("2.6")))
    assert values(plan(nominal, drivers=(driver(),))) == ["2.6"]
    assert values(plan(certain("2.0", "2.5"))) == ["2.2"]
    assert values(plan(certain("2.0", "2.5"), unit="pound_inch")) == ["20"]


def test_a_setting_more_is_made_only_where_it_is_asked_for() -> None:
    told = [certain("3"), certain("2.5", "3", way=2)]
    (both,) = plan(*told, drivers=(driver(),)).settings
    verdict = both.tasks[1].verdict
    assert verdict is not None
    assert verdict.kind == "not_at_all"
    assert verdict.would_keep is not None
    made = plan(*told, drivers=(driver(),), keep_inside=True)
    assert values(made) == ["3", "2.8"]
    assert [task.verdict and task.verdict.kind for task in made.tasks] == [
        "single_figure",
        "this_value",
    ]


def test_as_few_drivers_as_the_fewest_settings_allow_those_without_a_fault_first() -> None:
    due = driver("OLD", "1", "5", calibrated=date(2020, 1, 1))
    made = plan(certain("2"), certain("3", way=2), drivers=(due, driver("NEW")))
    assert [one.name for one in made.drivers] == ["NEW"]
    assert made.warnings == ()
    told = (certain("0.4"), certain("4", way=2), certain("2", way=3))
    two = plan(*told, drivers=(driver("S", "0.2", "2"), driver("L", "2", "6")))
    assert [one.name for one in two.drivers] == ["S", "L"]
    assert [one.driver for one in two.settings] in (["S", "S", "L"], ["S", "L", "L"])


def test_a_bit_that_is_not_at_hand_is_said_before_the_work() -> None:
    told = [
        certain("2", None, ("cross_z", "2")),
        certain("2", None, ("slot", "1x5.5"), ("cross_z", "1"), way=2),
    ]
    made = plan(*told, drivers=(driver(bits=(("slot", "1x5.5"),)),))
    assert made.warnings == ("bit not at hand: cross recess type Z, size 2 (for 1 terminal(s))",)
    assert [batch.bit for batch in made.settings[0].batches] == [
        "cross recess type Z, size 2",
        "slotted, size 1x5.5",
    ]
    assert made.bit_changes == 1


def test_a_file_gives_the_driver(tmp_path: Path) -> None:
    made = read_driver(put(tmp_path, bits=["PZ2", "slot 1x5.5"], cycles=12, interval_months=6))
    assert (made.name, made.deviation_percent, made.most_months, made.bits) == (
        "TD-7",
        6,
        6,
        (("cross_z", "2"), ("slot", "1x5.5")),
    )
    assert "from memory" in made.deviation_from
    assert made.scales[0].values[1] == D("1.1")
    assert list(made.say_faults(DAY)) == []
    assert read_driver(put(tmp_path, deviation_percent=4)).deviation_from == "by its file"
    inch = read_driver(
        put(tmp_path, scales=[{"unit": "lbf-in", "lowest": 10, "highest": 50, "digital_step": 0.5}])
    )
    assert inch.scales[0].values_nm[1] == D("10.5") * D("0.1129848290276167")


@pytest.mark.parametrize(
    ("parts", "said"),
    [
        ({"scales": []}, "scales: is empty"),
        ({"scales": [{"unit": "Nm", "mark_every": 0.2}]}, "'lowest' is missing"),
        (
            {"scales": [{"unit": "kg", "lowest": 1, "highest": 5, "mark_every": 0.2}]},
            "'kg' is no unit of a scale",
        ),
        (
            {"scales": [{"unit": "Nm", "lowest": 5, "highest": 1, "mark_every": 0.2}]},
            "not below the highest",
        ),
        (
            {"scales": [{"unit": "Nm", "lowest": 1, "highest": 5}]},
            "a scale has one of mark_every, marks, digital_step",
        ),
        (
            {"scales": [{"unit": "Nm", "lowest": 1, "highest": 5, "mark_every": 0}]},
            "out of the range",
        ),
        (
            {"scales": [{"unit": "Nm", "lowest": 1, "highest": 5, "digital_step": 1e-6}]},
            "more than 100000 values",
        ),
        (
            {"scales": [{"unit": "Nm", "lowest": 1, "highest": 5, "marks": [1, 4]}]},
            "the first and last mark",
        ),
        ({"calibrated": "03/2031 ok"}, "line 6: '03/2031 ok' is no day"),
        ({"bits": ["spoon"]}, "'spoon' is no bit that is known"),
        ({"deviation_percent": "six"}, "'six' stands where a number belongs"),
        ({"colour": "red"}, "'colour' is not known"),
    ],
)
def test_a_wrong_file_is_refused_by_its_line(
    tmp_path: Path, parts: dict[str, Any], said: str
) -> None:
    with pytest.raises(TorquaryError) as told:
        read_driver(put(tmp_path, **parts))
    assert "td.json, line " in told.value.message
    assert said in told.value.message
    assert told.value.status == 2


def test_what_a_driver_does_not_say_of_itself_is_said(tmp_path: Path) -> None:
    form = {key: value for key, value in FORM.items() if key not in ("type", "class", "calibrated")}
    path = tmp_path / "bare.json"
    path.write_text(json.dumps(form))
    said = "\n".join(read_driver(path).say_faults(DAY))
    assert "no day of calibration" in said
    assert "no verdict on ranges" in said
    (future,) = driver(calibrated=date(2032, 1, 1)).say_faults(DAY)
    assert "lies in the future" in future


def test_deviations_of_the_classes() -> None:
    """ISO 6789-1, from memory."""
    assert permitted_deviation("II", "D", D(5)) == 6
    assert permitted_deviation("II", "A", D(5)) == 6
    assert permitted_deviation("II", "A", D(50)) == 4
    assert permitted_deviation("I", "B", D(50)) == 4
    assert permitted_deviation("", "", D(5)) is None
