"""What cells say where a heading has two meanings: keys of screws, gauges, articles, marks lost. Sheets are our own."""

from __future__ import annotations

from pathlib import Path

import pytest
from text_sheets import settings_of

from torquary_ingest.clauses.parts import cut_parts
from torquary_ingest.figures.conductor_words import read_conductor_words
from torquary_schema.vocabulary import roles_of_markings
from torquary_schema.words import spot

HEAD = "Devices QR\n\nModel;Terminal;mm²;Torque N·m;{}\n"


def told(path: Path, text: str) -> list[tuple[str, str, str]]:
    """Return state, name of the terminal and torque of each row."""
    return [(one.state, one.terminal.printed, one.torque.printed) for one in settings_of(path, text)]


@pytest.mark.parametrize(("key", "state"), [("13 mm", "released"), ("load terminal 2", "held")])
def test_a_column_of_screws_gives_how_they_are_driven_unless_it_names_terminals(
    tmp_path: Path, key: str, state: str
) -> None:
    rows = HEAD.format("Screw") + f"QR 4;Input;0.5–4;0.6;PZ1\nQR 6;Output;4–35;3;{key}\n"
    assert {one for one, _, _ in told(tmp_path / "t.csv", rows)} == {state}


@pytest.mark.parametrize(("article", "state"), [("10-2201", "released"), ("10-25", "held")])
def test_the_number_of_an_article_is_no_range(tmp_path: Path, article: str, state: str) -> None:
    rows = f"Devices QR\n\nArticle no.;Terminal;mm²;Torque N·m\n{article};Input;0.5–4;0.6\n"
    assert [one for one, _, _ in told(tmp_path / "t.csv", rows)] == [state]


def test_gauges_under_a_heading_for_ratings_are_sizes(tmp_path: Path) -> None:
    rows = "Arrancadores QR\n\nModelo;Borne;Sección mm²;Calibre;Par de apriete N·m\n"
    rows += "QR 4;Entrada;1,5–10;AWG 16–8;1,7\nQR 9;Entrada;10–70;AWG 8–2/0;9\n"
    found = settings_of(tmp_path / "t.csv", rows)
    assert [(one.conductor.min_awg, one.conductor.max_awg, one.device.model) for one in found] == [
        ("16", "8", "QR 4"),
        ("8", "2/0", "QR 9"),
    ]


@pytest.mark.parametrize(("torque", "state"), [("4", "held"), ("2", "released"), ("0.07", "released")])
def test_a_torque_far_from_others_of_its_size_and_near_them_ten_times_less_holds(
    tmp_path: Path, torque: str, state: str
) -> None:
    rows = HEAD.format("Note") + "".join(f"QR {at};A{at};0.5–2.5;{value};\n" for at, value in ((1, "0.5"), (2, "0.6")))
    found = told(tmp_path / "t.csv", rows + f"QR 3;B1;0.5–2.5;{torque};\n")
    assert [one for one, _, _ in found] == ["released", "released", state]


@pytest.mark.parametrize(
    ("text", "sizes"),
    [
        ("Borne de neutro: 1,5 a 16 mm²; par 1,5 N·m", ["1,5 a 16 mm²"]),
        ("Svorky pro vodiče: 1,5 a 2,5 mm²; moment 0,5 N·m", ["1,5", "2,5 mm²"]),
    ],
)
def test_a_between_figures_far_apart_is_to_and_in_czech_and(tmp_path: Path, text: str, sizes: list[str]) -> None:
    found = settings_of(tmp_path / "t.html", f"<h1>Contactor QR 9</h1><p>{text}.</p>")
    assert [one.conductor.printed for one in found] == sizes


def test_terminals_of_something_unread_keep_its_name(tmp_path: Path) -> None:
    page = "<h1>Contador QR 9</h1><ul><li>Bornes de tensión: 0,5 a 2,5 mm²; par 0,5 N·m</li></ul>"
    assert [one.terminal.printed for one in settings_of(tmp_path / "t.html", page)] == ["Bornes de tensión"]


def test_words_that_are_no_kind_marking_or_terminal() -> None:
    assert read_conductor_words("Solid-state relays").stranding == ()
    assert roles_of_markings("90") == ()
    assert roles_of_markings("95/96") == ("trip_signal",)
    assert not spot("tightened", "borne de recharge")
    assert "terminal" in {element.kind for part in cut_parts("borne de terre") for element in part.elements}
