"""Which side a terminal is on, and which conductors a sheet allows, wherever the sheet says so."""

from __future__ import annotations

from pathlib import Path

import pytest

from torquary_ingest.reader import read_sheet
from torquary_schema.roles import role_of_label
from torquary_schema.values import Setting

HEADINGS = "Terminal;Conductor mm²;Tightening torque Nm"


def read(folder: Path, *lines: str) -> tuple[Setting, ...]:
    sheet = folder / "quillhaven.csv"
    sheet.write_text("\n".join(["Quillhaven Switchgear", "Miniature circuit breaker QB1", *lines]), encoding="utf-8")
    return read_sheet(sheet).settings


@pytest.mark.parametrize(
    ("label", "role"),
    [
        ("Phase, line side", "line_in"),
        ("Phase (load side)", "load_out"),
        ("Main terminals, supply side", "line_in"),
        ("Line conductor", "line"),
        ("Line and load", None),
        ("Line and neutral", None),
    ],
)
def test_of_two_words_the_one_that_says_more_is_the_role(label: str, role: str | None) -> None:
    assert role_of_label(label) == role


@pytest.mark.parametrize(
    ("line", "load"), [("Line side", "Load side"), ("Netzseite", "Lastseite"), ("πλευρά τροφοδοσίας", "πλευρά φορτίου")]
)
def test_the_line_over_a_table_says_the_side_of_its_phases(tmp_path: Path, line: str, load: str) -> None:
    """L1 over the one and L1 over the other are two terminals; a neutral stays one."""
    rows = read(tmp_path, line, HEADINGS, "L1;1.5-16;2.5", "N;1.5-16;2.4", load, HEADINGS, "L1;1.5-16;2.0")
    assert [setting.terminal.role for setting in rows] == ["line_in", "neutral", "load_out"]


def test_the_neutral_of_a_side_is_no_phase_of_it(tmp_path: Path) -> None:
    """A question for the load must not get the figure of its neutral."""
    rows = read(tmp_path, HEADINGS, "Line side;;", "L1;1.5-16;2.5", "N;1.5-16;2.4", "Load side;;", "N;1.5-16;2.0")
    assert [setting.terminal.role for setting in rows] == ["line_in", "neutral", "neutral"]


@pytest.mark.parametrize(
    "statement",
    ["Use copper conductors only", "Cu only", "Nur Kupferleiter verwenden", "Uniquement conducteurs cuivre"],
)
@pytest.mark.parametrize("above", [True, False])
def test_what_the_sheet_states_for_all_its_conductors_is_kept_with_each_row(
    tmp_path: Path, statement: str, *, above: bool
) -> None:
    """The finding gives the statement as printed; what a row says itself goes before it."""
    table = [HEADINGS, "Line;1.5-16;2.5", "Load;2.5-16 aluminium;2.0"]
    rows = read(tmp_path, *([statement, *table] if above else [*table, statement]))
    assert [setting.conductor.material for setting in rows] == [("copper",), ("aluminium",)]
    assert [finding.printed for finding in rows[0].findings] == [statement]
    assert [setting.state for setting in rows] == ["released", "released"]


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("Copper and aluminium conductors", (("copper", "aluminium"), (), None, ())),
        ("All figures for solid or stranded conductors", ((), ("solid", "stranded"), None, ())),
        ("With ferrule unless stated otherwise", ((), (), True, ())),
        ("Use 75 °C copper", (("copper",), (), None, ("conductor_75_c",))),
        ("Copper conductors only, except for the neutral terminal", (("copper",), (), None, ("copper_only",))),
        ("Do not retighten", ((), (), None, ("no_retightening",))),
    ],
)
def test_a_line_for_all_says_kinds_and_conditions(tmp_path: Path, line: str, said: tuple[object, ...]) -> None:
    (one,) = read(tmp_path, line, HEADINGS, "Line;1.5-16;2.5")
    conductor = one.conductor
    assert (conductor.material, conductor.stranding, conductor.ferrule, one.conditions) == said
    assert ("caption", line) in [(each.kind, each.text) for each in one.scope] or one.scope[-1].kind == "statement"


def test_what_a_statement_excepts_is_not_under_it(tmp_path: Path) -> None:
    line = "Copper conductors only, except for the neutral terminal"
    rows = read(tmp_path, line, HEADINGS, "Line;1.5-16;2.5", "Neutral;1.5-16;2.5", "X;1.5-16;2.5")
    assert [setting.conductor.material for setting in rows] == [("copper",), (), ()]


def test_the_nearer_of_two_statements_counts_and_of_two_equally_near_neither(tmp_path: Path) -> None:
    lines = ["All figures for solid conductors", "Flexible conductors with ferrule", HEADINGS, "Line;1.5-16;2.5"]
    assert [one.conductor.stranding for one in read(tmp_path, *lines)] == [("flexible",)]
    below = [HEADINGS, "Line;1.5-16;2.5", "", "Use copper conductors only", "Use aluminium conductors only"]
    assert [(one.conductor.material, one.conditions) for one in read(tmp_path, *below)] == [((), ())]


def test_a_statement_says_nothing_of_other_screws(tmp_path: Path) -> None:
    rows = read(tmp_path, "Use copper conductors only", HEADINGS, "Line;1.5-16;2.5", "Cover screw;;0.8")
    assert [(one.purpose, one.conductor.material) for one in rows] == [
        ("electrical_terminal", ("copper",)), ("enclosure", ()),
    ]  # fmt: skip


@pytest.mark.parametrize(
    "statement", ["Copper only for terminal N", "Copper only if dry", "Only for indoor use", "Copper bars"]
)
def test_what_is_not_stated_for_all_conductors_is_not_taken_so(tmp_path: Path, statement: str) -> None:
    rows = read(tmp_path, statement, HEADINGS, "Line;1.5-16;2.5")
    assert [setting.conductor.material for setting in rows] == [()]


@pytest.mark.parametrize(
    ("remark", "material", "stranding", "ferrule"),
    [
        ("copper only", ("copper",), (), None),
        ("rigid conductors only", (), ("solid",), None),
        ("only with ferrule", (), (), True),
        ("solid or stranded", (), ("solid", "stranded"), None),
        ("see page 4", (), (), None),
    ],
)
def test_a_remark_limits_the_conductor_of_its_row(
    tmp_path: Path, remark: str, material: tuple[str, ...], stranding: tuple[str, ...], ferrule: bool | None
) -> None:
    (one,) = read(tmp_path, f"{HEADINGS};Remark", f"Line;1.5-16;2.5;{remark}")
    conductor = one.conductor
    assert (one.state, conductor.material, conductor.stranding, conductor.ferrule) == (
        "released", material, stranding, ferrule,
    )  # fmt: skip


@pytest.mark.parametrize("remark", ["not for aluminium", "no aluminium"])
def test_a_remark_that_refuses_a_metal_is_a_condition(tmp_path: Path, remark: str) -> None:
    (one,) = read(tmp_path, f"{HEADINGS};Remark", f"Line;1.5-16;2.5;{remark}")
    assert (one.state, one.conditions, one.conductor.material) == ("released", ("no_aluminium",), ())


@pytest.mark.parametrize("remark", ["not for flexible", "ferrule if moved", "flexible only < 40 °C"])
def test_a_remark_that_limits_and_is_not_understood_holds(tmp_path: Path, remark: str) -> None:
    (one,) = read(tmp_path, f"{HEADINGS};Remark", f"Line;1.5-16;2.5;{remark}")
    assert (one.state, [finding.code for finding in one.findings]) == ("held", ["condition_unread"])


def test_a_remark_against_what_the_size_says_holds(tmp_path: Path) -> None:
    (one,) = read(tmp_path, f"{HEADINGS};Remark", "Line;1.5-16 flexible;2.5;solid only")
    assert one.state == "held"


def test_a_rigid_conductor_is_not_flexible(tmp_path: Path) -> None:
    (one,) = read(tmp_path, "Terminal;Conductor, rigid mm²;Tightening torque Nm", "Line;1.5-16;2.5")
    assert one.conductor.stranding == ("solid",)
