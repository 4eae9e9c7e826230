"""Torque cells: text in, value or doubt out. Unit factors: NIST SP 811 App. B, exact by definition."""

from __future__ import annotations

import csv
import re
from decimal import Decimal
from pathlib import Path

import pytest

from torquary_ingest.figures import read_conductor, read_drive, read_torque, torque_like

D = Decimal
_FACTS = Path(__file__).parents[2] / "facts"
_FORMS = list(csv.DictReader((_FACTS / "print_forms.csv").read_text("utf-8").splitlines()))
Bounds = tuple[str | None, str | None, str | None]

VALUES: list[tuple[str, str, str, Bounds]] = [
    # text, heading unit, decimal mark, (minimum, nominal, maximum) in N·m
    ("2,5", "Nm", "", ("2.5", "2.5", "2.5")),
    ("1.2–\n1.5", "Nm", "", ("1.2", None, "1.5")),
    ("1.2 Nm – 1.5 Nm", "", "", ("1.2", None, "1.5")),
    ("2.5 bis 3", "Nm", "", ("2.5", None, "3")),
    ("de 1,2 à 1,5 Nm", "", "", ("1.2", None, "1.5")),
    ("от 1,2 до 1,5 Н·м", "", "", ("1.2", None, "1.5")),
    ("between 1.2 and 1.5 Nm", "", "", ("1.2", None, "1.5")),
    ("0.5\u00ad0.6", "Nm", "", ("0.5", None, "0.6")),
    ("max. 1.2", "Nm", "", (None, None, "1.2")),
    ("1 200", "N·cm", "", ("12", "12", "12")),
    ("7 lb-in / 0.7 N·m", "", "", ("0.7", "0.7", "0.7")),  # 6.5 to 7.5 lbf·in meet 0.65 to 0.75 N·m
    ("mind. 0,8", "Nm", "", ("0.8", None, None)),
    ("1,2 mind.", "Nm", "", ("1.2", None, None)),
    ("non oltre 1,2", "Nm", "", (None, None, "1.2")),
    ("pelo menos 1,2", "Nm", "", ("1.2", None, None)),
    ("min. 0,9", "Nm", "", ("0.9", None, None)),
    ("≤ 1.8 N·m", "", "", (None, None, "1.8")),
    ("up to 3.0", "Nm", "", (None, None, "3.0")),
    ("bis zu 2,5 Nm", "", "", (None, None, "2.5")),
    ("2.5 N·m以下", "", "", (None, None, "2.5")),
    ("min. 0.5 max. 0.8 Nm", "", "", ("0.5", None, "0.8")),
    ("0.5 Nm min., 0.8 Nm max.", "", "", ("0.5", None, "0.8")),
    ("2.0 +0.2/-0.1 Nm", "", "", ("1.9", "2.0", "2.2")),
    ("2.0 Nm (±10 %)", "", "", ("1.8", "2.0", "2.2")),
    ("3.0 Nm ± 0.3 Nm", "", "", ("2.7", "3.0", "3.3")),
    ("0,500", "Nm", "", ("0.5", "0.5", "0.5")),
    ("1,200", "Nm", ",", ("1.2", "1.2", "1.2")),
    ("1.250", "N·cm", ",", ("12.5", "12.5", "12.5")),
    ("1.200,0", "mNm", ",", ("1.2", "1.2", "1.2")),
    ("1 200", "mN·m", "", ("1.2", "1.2", "1.2")),
    ("1\u2009200", "mN·m", "", ("1.2", "1.2", "1.2")),
    ("1'200", "mN·m", "", ("1.2", "1.2", "1.2")),
    ("２．５Ｎ・ｍ", "", "", ("2.5", "2.5", "2.5")),
    ("tighten to 2.5 Nm", "", "", ("2.5", "2.5", "2.5")),
    ("PZ2, 2.0 Nm", "", "", ("2.0", "2.0", "2.0")),
    ("Max. tightening torque: 2.5 Nm", "", "", (None, None, "2.5")),
    ("0.5÷0.8 Nm", "", "", ("0.5", None, "0.8")),
]


@pytest.mark.parametrize(("text", "unit", "mark", "bounds"), VALUES)
def test_a_certain_figure(text: str, unit: str, mark: str, bounds: Bounds) -> None:
    assert mark in (".", ",", "")
    reading = read_torque(text, unit=unit, decimal_mark=mark)  # type: ignore[arg-type]
    assert reading.doubts == ()
    (figure,) = reading.figures
    got = (figure.torque.min_nm, figure.torque.nominal_nm, figure.torque.max_nm)
    assert got == tuple(None if b is None else D(b) for b in bounds)


FRACTIONS = [("3½", "3.5"), ("5 1/2", "5.5"), ("5¹⁄₂", "5.5"), ("7⁄8", "0.875"), ("1/2", "0.5"), ("1 1⁄8", "1.125")]


@pytest.mark.parametrize(("text", "feet"), FRACTIONS)
def test_fractions_of_a_foot_pound(text: str, feet: str) -> None:
    reading = read_torque(text, unit="lbf·ft")
    assert reading.doubts == ()
    assert reading.figures[0].torque.nominal_nm == D(feet) * D("1.3558179483314004")


HELD = [
    ("1.250", "N·cm", "number_ambiguous"),
    ("1,250", "N·cm", "number_ambiguous"),
    ("1/2 Nm", "", "number_ambiguous"),
    ("1 200", "N·m", "number_ambiguous"),
    ("2.\n5", "Nm", "number_broken"),
    ("2,\n5 Nm", "", "number_broken"),
    ("2. 5 Nm", "", "number_broken"),
    ("2,", "Nm", "number_broken"),
    ("2–3.", "Nm", "number_broken"),
    ("0.821.2", "Nm", "number_unreadable"),
    ("22..55", "Nm", "number_unreadable"),
    ("-0.5 Nm", "", "number_unreadable"),
    ("0 Nm", "", "number_unreadable"),
    ("10000000000 Nm", "", "number_unreadable"),
    ("0.00000000005 Nm", "", "number_unreadable"),
    ("05 Nm", "", "number_unreadable"),
    ("51/2 lb-ft", "", "unit_missing"),
    ("0.8 ± 10 Nm", "", "number_unreadable"),
    ("2.O Nm", "", "number_unreadable"),
    ("l.5 Nm", "", "number_unreadable"),
    ("1O.5 Nm", "", "number_unreadable"),
    ("~2.5 Nm", "", "number_unreadable"),
    ("$2.5", "Nm", "number_unreadable"),
    ("2.5 - 2.0 Nm", "", "range_reversed"),
    ("2-Mar", "Nm", "date_for_range"),
    ("4-Jun", "Nm", "date_for_range"),
    ("Feb-03", "Nm", "date_for_range"),
    ("3. Mai", "Nm", "date_for_range"),
    ("2 févr.", "Nm", "date_for_range"),
    ("5月3日", "Nm", "date_for_range"),
    ("01.02.2024", "Nm", "date_for_range"),
    ("2024-05-14", "Nm", "date_for_range"),
    ("45353", "Nm", "date_for_range"),
    ("12\x00.5", "Nm", "nul_byte"),
    ("2.\ufffd", "Nm", "character_unreadable"),
    ("(cid:15)(cid:16)", "Nm", "character_unreadable"),
    ("14", "lbs", "unit_doubtful"),
    ("14 lbs", "", "unit_doubtful"),
    ("1.2 nm", "", "unit_doubtful"),
    ("1.2 NM", "", "unit_doubtful"),
    ("1.2 MNm", "", "unit_doubtful"),
    ("14 #in", "", "unit_doubtful"),
    ("2.5", "", "unit_missing"),
    ("2.5", "mm", "unit_not_torque"),
    ("2.5", "Nm / lb-in", "unit_doubtful"),
    ("2.5¹", "Nm", "note_unresolved"),
    ("2.5*", "Nm", "note_unresolved"),
    ("2.5 1)", "Nm", "note_unresolved"),
    ("2.5 Nm (dry)", "", "condition_unread"),
    ("ca. 2.5 Nm", "", "condition_unread"),
    ("1.6/1.8", "Nm", "condition_unread"),
    ("1.2 1.5", "Nm", "condition_unread"),
    ("20 lb-in / 4.0 N·m", "", "units_disagree"),
    ("21 lb-in / 2.5 N·m", "", "units_disagree"),  # 20.5 to 21.5 lbf·in are 2.32 to 2.43 N·m, 2.5 is 2.45 to 2.55
    ("3.0 Nm ± 3 lb-in", "", "units_disagree"),
    ("0.5 ≤ Nm", "", "number_unreadable"),
    ("M5: 1.2 2.5", "Nm", "condition_unread"),
    ("M5 10", "Nm", "condition_unread"),
    ("PZ2 10", "Nm", "condition_unread"),
    ("10 1,2 mm²", "Nm", "condition_unread"),
    ("AWG 22 3", "Nm", "condition_unread"),
    ("10 mm² and 3", "Nm", "condition_unread"),
    ("2.5 Cu 3.0", "Nm", "condition_unread"),
    ("#2 10", "Nm", "number_unreadable"),
    ("/ 2.5", "Nm", "number_unreadable"),
    ("2.5 /", "Nm", "number_unreadable"),
]


@pytest.mark.parametrize(("text", "unit", "code"), HELD)
def test_a_doubtful_figure_says_why(text: str, unit: str, code: str) -> None:
    assert code in [d.code for d in read_torque(text, unit=unit).doubts]


KINDS = [
    ("", "blank"), ("–", "not_applicable"), ("n/a", "not_applicable"), ("not applicable", "not_applicable"),
    ('"', "ditto"), ("″", "ditto"), ("〃", "ditto"), ("do.", "ditto"), ("idem", "ditto"), ("dito", "ditto"),
    ("↓", "ditto"), ("hand-tight", "words"), ("Nm", "words"), ("*", "words"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "kind"), KINDS)
def test_cells_without_a_figure(text: str, kind: str) -> None:
    reading = read_torque(text, unit="Nm")
    assert (reading.kind, reading.figures) == (kind, ())
    assert [d.code for d in reading.doubts] == (["ditto_doubtful"] if text == "↓" else [])


def test_sizes_threads_and_words_belong_to_their_figure() -> None:
    pairs = read_torque("1.5–6 mm²: 1.2 Nm; 10 mm²: 2.0 Nm")
    assert pairs.doubts == ()
    assert [(f.conductor.max_mm2, f.torque.nominal_nm) for f in pairs.figures if f.conductor] == [
        (D(6), D("1.2")),
        (D(10), D("2.0")),
    ]
    (bracket,) = read_torque("2.5 N·m (10 mm²)").figures
    assert bracket.conductor is not None
    assert bracket.conductor.min_mm2 == D(10)
    (thread,) = read_torque("M5: 2.0 Nm").figures
    assert (thread.thread, thread.torque.nominal_nm) == ("M5", D("2.0"))
    stranded = read_torque("solid 2.0 Nm, flexible 1.6 Nm").figures
    assert [f.conductor.stranding for f in stranded if f.conductor] == [("solid",), ("flexible",)]
    roles = read_torque("L/N: 2.0 Nm; PE: 1.2 Nm")
    assert [f.condition for f in roles.figures] == ["L N", "PE"]


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("10 mm² or more: 4 Nm", D(10), None), ("6 mm² and over 4 Nm", D(6), None), ("4 Nm over 6 mm²", D(6), None),
        ("4 Nm for 10 mm² or less", None, D(10)), ("up to 6 mm²: 4 Nm", None, D(6)),
    ],
)  # fmt: skip
def test_a_limit_of_a_size_is_none_of_the_torque(text: str, low: D | None, high: D | None) -> None:
    (figure,) = read_torque(text).figures
    torque, conductor = figure.torque, figure.conductor
    assert (torque.min_nm, torque.max_nm) == (D(4), D(4))
    assert conductor is not None
    assert (conductor.min_mm2, conductor.max_mm2) == (low, high)


@pytest.mark.parametrize("text", ["10 mm² max. 4 Nm", "10 mm² min. 4 Nm", "8 AWG over 4 Nm"])
def test_a_limit_between_a_size_and_a_figure_is_of_either(text: str) -> None:
    assert [doubt.code for doubt in read_torque(text).doubts] == ["condition_unread"]


def test_torque_like_is_for_finders() -> None:
    assert torque_like("2.5 Nm")
    assert torque_like("Drehmoment 22 lb-in")
    assert not torque_like("2.5 mm²")
    assert not torque_like("Nm")


TORQUE_FORMS = {
    # printed form → (minimum, maximum) in N·m of the first figure, "held" where a person decides
    "1,8 ... 2,0 Nm": ("1.8", "2.0"), "6…8 / 15...20": "held", "0.8 N · m; 7 lb. · in.": ("0.8", "0.8"),
    "0.6. 0.8 Nm (0.4425...0.5900 ft-lb)": ("0.6", "0.8"),
    "1.2 Nm – 1.5 Nm / 10.6 lbf in – 5.3 lbf in": "held", "<= 25 mm² = 2.5 Nm, 35 mm² = 4.5 Nm": ("2.5", "2.5"),
    "2.5 Nm for 10 mm2 only (foot mark *)": "held",
    "14-10 Cu, 12-10 Al 20 lb-in (2 N•m)": ("2.259696580552334", "2.259696580552334"),
    "20 lb-in | 4.0 N-m": "held", "500 lb-in (55.6 N•m)": "held", "900 lbf.in = 111.7 N.m": "held",
    "180cN・m, 26cN・m": "held", "5dNm": ("0.5", "0.5"), "2,0 ± 0,1 N·m (21 ± 1 kgf·cm)": ("1.9", "2.1"),
    "5.0±20% (kgf-cm)": ("0.392266", "0.588399"), "25 ± 2 in oz": ("0.16241569172719900625", "0.19066189898410318125"),
    "3.5 to 5.3 | 0.4 to 0.6": "held", "M3: 0.36 - 0.49 [N.m], 3.7 - 5.0 [kgf]": "held",
    "(締付トルク2.1N・m〜2.6 N・m)": ("2.1", "2.6"), "6.0~7.4 N・m": ("6.0", "7.4"), "Moment 3,5Nm": ("3.5", "3.5"),
    "0.79 (7)": "held", "3.0 ft-lb": ("4.0674538449942012", "4.0674538449942012"), "NSm": "words",
}  # fmt: skip


def test_every_print_form_of_a_torque_is_read_or_held() -> None:
    forms = [row["printed"] for row in _FORMS if row["kind"] == "torque"]
    assert sorted(forms) == sorted(TORQUE_FORMS)
    for printed, wanted in TORQUE_FORMS.items():
        reading = read_torque(printed)
        if wanted == "held":
            assert reading.doubts != (), printed
        elif wanted == "words":
            assert reading.kind == "words", printed
        else:
            torque = reading.figures[0].torque
            assert (torque.min_nm, torque.max_nm) == tuple(D(w) for w in wanted), printed
            assert reading.doubts == (), printed


SIZE_FORMS = {
    "2 x 1,5 ... 10 mm2": [("1.5", "10", None, None)], "0.14...6 mm² (AWG 26-10)": [("0.14", "6", "26", "10")],
    "2,5-35 / 12 2": "held", "6 AWG 1/0 MCM": [(None, None, "6", "1/0")],
    "1/0 AWG 300 MCM": [(None, None, "1/0", "300 kcmil")], "24 AWG 10 AWG": [(None, None, "24", "10")],
    "#14 - #10; 1/0 - 2/0; 3/0 - 200 MCM":
        [(None, None, "14", "10"), (None, None, "1/0", "2/0"), (None, None, "3/0", "200 kcmil")],
    "14–1/0": [(None, None, "14", "1/0")],
    "50...150 qmm; 25-95qmm": [("50", "150", None, None), ("25", "95", None, None)],
    "2m㎡, 3.5m㎡": [("2", "2", None, None), ("3.5", "3.5", None, None)],
    "Φ1.6、Φ2.0": "diameters", "14〜38 mm 2": [("14", "38", None, None)],
    "CU min AWG 18 (0,75mm2), max AWG 4 (25mm2)": [("0.75", "25", "18", "4")],
    "max 4mm² (d<2.8mm)": "held", "e* f* a*": "words", "R8-5, 5.5 – 4": "held",
}  # fmt: skip


def test_every_print_form_of_a_size_is_read_or_held() -> None:
    forms = [row["printed"] for row in _FORMS if row["kind"] == "size"]
    assert sorted(forms) == sorted(SIZE_FORMS)
    for printed, wanted in SIZE_FORMS.items():
        reading = read_conductor(printed)
        given = [(c.min_mm2, c.max_mm2, c.min_awg, c.max_awg) for c in reading.conductors]
        if wanted == "held":
            assert reading.doubts != (), printed
        elif wanted == "words":
            assert reading.kind == "words", printed
        elif wanted == "diameters":
            assert [round(c.min_mm2 or D(0), 4) for c in reading.conductors] == [D("2.0106"), D("3.1416")]
        else:
            numbers = [(a and D(a), b and D(b), c, d) for a, b, c, d in wanted]
            assert given == numbers, printed
            assert {d.code for d in reading.doubts} <= {"mcm_behind_awg"}, printed


def test_print_forms_of_drives_and_threads_give_no_false_torque() -> None:
    others = [row["printed"] for row in _FORMS if row["kind"] not in ("torque", "size")]
    assert len(others) + len(TORQUE_FORMS) + len(SIZE_FORMS) == len(_FORMS) == 45
    for printed in others:
        reading = read_torque(printed)
        assert reading.figures == () or reading.doubts != (), printed
    assert [(d.kind, d.size) for d in read_drive("PZ2 6 x 100 mm")] == [("cross_z", "2")]
    assert re.search("No.2", others[0])
