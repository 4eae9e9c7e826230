"""What names no terminal or device though it stands where a name does. Sheets are our own."""

from __future__ import annotations

from pathlib import Path

from text_sheets import settings_of

from torquary_ingest.clauses.tokens import read_tokens
from torquary_ingest.document import Reading
from torquary_ingest.evidence.names import names_over
from torquary_ingest.evidence.no_names import is_no_name
from torquary_ingest.scope import Level
from torquary_schema.values import Place, ScopeText


def test_a_note_about_a_sister_is_not_for_the_sheet_s_own_type(tmp_path: Path) -> None:
    page = (
        "<h1>BQ-275 battery isolator</h1><p>Input stud IN: 14 N·m, ring lug up to 95 mm².</p>"
        "<p>BQ-500 has the same layout. Its input stud is M12: 28 N·m, ring lug up to 120 mm².</p>"
    )
    devices = {one.torque.printed: one.device.printed for one in settings_of(tmp_path / "t.html", page)}
    assert "BQ-500" in devices["28 N·m"]
    assert "BQ-275" not in devices["28 N·m"]
    assert "BQ-500" not in devices["14 N·m"]


def test_a_device_of_another_series_stays_beside_the_product_that_it_may_go_with(tmp_path: Path) -> None:
    page = (
        "<h1>Circuit breaker QSN 63</h1>"
        "<p>For the residual current device QFN 40 tighten the neutral terminal (1 to 16 mm²) to 1.8 N·m.</p>"
    )
    (one,) = settings_of(tmp_path / "t.html", page)
    assert "QFN 40" in one.device.printed
    assert "QSN 63" in one.device.printed


def test_a_bullet_over_a_torque_heads_nothing() -> None:
    reading = Reading(place=Place(page=1), entries=())
    lines = {"• Same sizes as the input terminals": [], "Input terminals": ["Input terminals"]}
    for line, names in lines.items():
        over = Level(kind="over", scope=(ScopeText(kind="list_heading", text=line, page=1),))
        assert list(names_over(reading, (over,))) == names


def test_a_question_names_no_terminal() -> None:
    assert is_no_name("How is the bolt of the cable lug tightened?")
    assert not is_no_name("Bolt of the cable lug")


def test_the_last_letter_of_a_type_marks_no_terminal() -> None:
    said = {text: [one.text for one in read_tokens(text) if one.kind == "marking"] for text in ("QRB2-N", "terminal N")}
    assert said == {"QRB2-N": [], "terminal N": ["N"]}


def test_a_range_broken_at_its_dash_is_one_size(tmp_path: Path) -> None:
    page = "<h1>Luminaire QL 4</h1><p>Dimming: terminal D1, D2, wire 0.5<br>– 1.5 mm², tightening torque 0.4 N·m.</p>"
    (one,) = settings_of(tmp_path / "t.html", page)
    assert (str(one.conductor.min_mm2), str(one.conductor.max_mm2)) == ("0.5", "1.5")


def test_a_line_that_gives_a_limit_names_no_terminal() -> None:
    reading = Reading(place=Place(page=1), entries=())
    lines = {"Generator output max. 6.5 / 16 kWp": [], "Output terminals max. 16 mm²": None}
    for line, names in lines.items():
        over = Level(kind="over", scope=(ScopeText(kind="caption", text=line, page=1),))
        assert list(names_over(reading, (over,))) == (names if names is not None else [line])


def test_the_end_of_a_sentence_is_no_name() -> None:
    assert is_no_name("de ligação à terra.")
    assert not is_no_name("terminals of aux. cont.")
    assert not is_no_name("borne de terre")
