"""Leaflets that say the same in several languages, with figures and names of our own: one record for all of them."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from laid_out_sheets import draw as draw_tables
from reportlab.pdfbase.pdfmetrics import registerFont
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.reader import read_sheet
from torquary_ingest.skeleton.language_parts import language_named
from torquary_schema.values import Setting

_PITCH, _TOP, _LEFT, _WIDE = 18, 760, 50, 260
GERMAN = (
    "*DE – Montageanleitung",
    "Der Einbau ist nur durch eine Elektrofachkraft und bei freier Anlage erlaubt.",
    "• Versorgungsklemmen A1, A2: 0,5–2,5 mm², mit 0,6 Nm anziehen",
    "• Kontaktklemmen 15, 16, 18: 0,75–4 mm², mit 0,8 Nm anziehen",
    "• Hilfskontakt HK2: 0,5–1,5 mm², mit 0,4 Nm anziehen",
)
ENGLISH = (
    "*EN – Mounting instructions",
    "The device is to be mounted by an electrician and the supply must be off.",
    "• Supply terminals A1, A2: 0.5–2.5 mm², tighten to 0.6 N·m",
    "• Contact terminals 15, 16, 18: 0.75–4 mm², tighten to 0.8 N·m",
    "• Auxiliary contact HK2: 0.5–1.5 mm², tighten to 0.4 N·m",
)
ITALIAN = (
    "*IT – Istruzioni di montaggio",
    "Il montaggio di questo apparecchio è per il personale della rete.",
    "• Morsetti di alimentazione A1, A2: 0,5–2,5 mm², serrare a 0,6 Nm",
    "• Morsetti dei contatti 15, 16, 18: 0,75–4 mm², serrare a 0,8 Nm",
    "• Contatto ausiliario HK2: 0,5–1,5 mm², serrare a 0,4 Nm",
)
ONCE = [("A1", "0.6"), ("15", "0.8"), ("HK2", "0.4")]


def draw(path: Path, pages: Iterable[Sequence[Sequence[str]]]) -> Path:
    """Draw pages of parts side by side; a line that begins with "*" is bold."""
    for font in ("Vera", "VeraBd"):
        registerFont(TTFont(font, f"{font}.ttf"))
    canvas = Canvas(str(path), pagesize=(_LEFT + 4 * _WIDE, 842), invariant=1)
    for number, parts in enumerate(pages):
        if not number:
            canvas.setFont("VeraBd", 16)
            canvas.drawString(_LEFT, 800, "Vellmar RT 22")
        for column, part in enumerate(parts):
            for row, line in enumerate(part):
                canvas.setFont("VeraBd" if line.startswith("*") else "Vera", 9)
                canvas.drawString(_LEFT + 1.6 * _WIDE * column, _TOP - _PITCH * row, line.lstrip("*"))
        canvas.showPage()
    canvas.save()
    return path


def settings(path: Path) -> list[tuple[str, str, str]]:
    return [(one.state, _mark(one), str(one.torque and one.torque.max_nm)) for one in read_sheet(path).settings]


def _mark(setting: Setting) -> str:
    return next((mark for mark, _ in ONCE if mark in setting.terminal.printed), setting.terminal.printed)


@pytest.mark.parametrize("pages", [[[GERMAN, ENGLISH]], [[GERMAN], [ENGLISH], [ITALIAN]]], ids=["beside", "pages"])
def test_what_several_languages_say_alike_is_one_record(tmp_path: Path, pages: list[list[Sequence[str]]]) -> None:
    path = draw(tmp_path / "leaflet.pdf", pages)
    assert settings(path) == [("released", mark, torque) for mark, torque in ONCE]
    again = [f for one in read_sheet(path).settings for f in one.findings if f.code == "said_again"]
    assert len(again) == 3 * (sum(map(len, pages)) - 1)


def test_one_under_the_other_they_are_one_record_too(tmp_path: Path) -> None:
    path = draw(tmp_path / "leaflet.pdf", [[(*GERMAN, "", *ENGLISH, "", *ITALIAN)]])
    assert settings(path) == [("released", mark, torque) for mark, torque in ONCE]


def test_a_language_that_says_another_torque_holds_all(tmp_path: Path) -> None:
    other = [line.replace("0.4 N", "0.5 N") for line in ENGLISH]
    found = settings(draw(tmp_path / "leaflet.pdf", [[GERMAN], [other], [ITALIAN]]))
    assert [one for one in found if one[0] == "released"] == [("released", "A1", "0.6"), ("released", "15", "0.8")]
    assert {one for one in found if one[0] == "held"} == {("held", "HK2", "0.4"), ("held", "HK2", "0.5")}


def test_without_markings_the_order_tells_what_belongs_together(tmp_path: Path) -> None:
    pages = []
    for part, torque in ((GERMAN, "0,4"), (ENGLISH, "0.5")):
        unmarked = [line.replace(" HK2", "") for line in part]
        pages.append([[line.replace("0,4 N", f"{torque} N").replace("0.4 N", f"{torque} N") for line in unmarked]])
    found = settings(draw(tmp_path / "leaflet.pdf", pages))
    assert [torque for state, _, torque in found if state == "released"] == ["0.6", "0.8"]
    assert sorted(torque for state, _, torque in found if state == "held") == ["0.4", "0.5"]


@pytest.mark.parametrize(("printed", "kept"), [("0,8", 3), ("0,9", 2)])
def test_tables_in_two_languages_are_compared_too(tmp_path: Path, printed: str, kept: int) -> None:
    english = [
        ["Terminal", "Conductor mm²", "Torque Nm"],
        ["Main terminals 1, 3, 5", "1.5–16", "2.5"], ["Neutral N", "1.5–16", "2.0"],
        ["Contact 13, 14", "0.5–2.5", "0.8"],
    ]  # fmt: skip
    german = [
        ["Klemme", "Leiter mm²", "Drehmoment Nm"],
        ["Hauptklemmen 1, 3, 5", "1,5–16", "2,5"], ["Neutralleiter N", "1,5–16", "2,0"],
        ["Hilfskontakt 13, 14", "0,5–2,5", printed],
    ]  # fmt: skip
    parts = ("Vellmar RC 40", "English", ENGLISH[1], (english, []), "Deutsch", GERMAN[1], (german, []))
    found = read_sheet(draw_tables(tmp_path / "tables.pdf", *parts)).settings
    assert [one.terminal.printed.split()[-1] for one in found if one.state == "released"] == ["5", "N", "14"][:kept]
    assert len(found) == (3 if kept == 3 else 4)


def test_a_heading_that_names_a_language_is_no_mounting_screw(tmp_path: Path) -> None:
    found = read_sheet(draw(tmp_path / "leaflet.pdf", [[ITALIAN], [GERMAN]])).settings
    assert {one.purpose for one in found} == {"electrical_terminal"}
    assert not any("Istruzioni" in one.terminal.printed for one in found)


@pytest.mark.parametrize(
    ("text", "language"),
    [
        ("DE – Montageanleitung", "de"), ("FR", "fr"), ("GB/IE", "en"), ("[NL] Handleiding", "nl"), ("Svenska", "sv"),
        ("Montageanleitung", "de"), ("D Montageanleitung", "de"), ("F", "fr"),
        ("EN 60947-2", ""), ("Main terminals", ""), ("DEF", ""), ("", ""),
    ],
)  # fmt: skip
def test_a_heading_names_a_language(text: str, language: str) -> None:
    assert language_named(text) == language


def test_headings_as_large_as_the_title_name_languages_and_no_product(tmp_path: Path) -> None:
    canvas = Canvas(str(tmp_path / "large.pdf"), pagesize=(595, 842), invariant=1)
    registerFont(TTFont("Vera", "Vera.ttf"))
    spanish = (
        "ES – Instrucciones", "Antes de montar el aparato, desconecte la tensión de la instalación.",
        "Bobina A1, A2: de 0,75 a 2,5 mm². Par de apriete 0,7 N·m.",
    )  # fmt: skip
    english = ("EN – Instructions", "Switch off the supply before you work on the device.")
    for row, line in enumerate(("Vellmar IC 25 / IC 40", *spanish, *english)):
        large = row in (0, 1, 1 + len(spanish))
        canvas.setFont("Vera", 14 if large else 9)
        canvas.drawString(_LEFT, 780 - 26 * row, line)
    canvas.save()
    found = read_sheet(tmp_path / "large.pdf").settings
    assert [(one.device.printed, one.terminal.printed) for one in found] == [("Vellmar IC 25 / IC 40", "Bobina A1, A2")]
