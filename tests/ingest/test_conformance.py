"""Every installed plug-in keeps the promises of its seam, and the check finds one that does not."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import Any, cast

import pytest

from torquary_ingest.conformance import check_extractor, check_opener, make_noise
from torquary_ingest.document import Cell, Document, Doubt, Entry, Page, Reading, Table, Word
from torquary_ingest.errors import SheetRefused
from torquary_ingest.plugins import Extractor, Opener, OpenWish
from torquary_ingest.registry import EXTRACTORS, OPENERS, Plugin, find_plugins
from torquary_schema.values import Box, Place, ScopeText

SHEETS = Path(__file__).parents[2] / "sample_sheets"

WORD = Word(text="P1=2.5", box=Box(x0=10, top=10, x1=40, bottom=20), size=9)
OWN = Document(file="own.pdf", kind="test", pages=(Page(number=1, words=(WORD,), tables=()),), page_count=1)
TORQUE = Entry(field="torque", cell=Cell(row=1, column=1, text="2.5"), unit_printed="N·m")
READING = Reading(place=Place(page=1), entries=(TORQUE,))


OVER_ALL = ScopeText(kind="caption", text="Everywhere", page=1)


class Sound:
    """Keeps every promise; the broken ones below differ from it in one thing each."""

    name = "sound"
    specific = True

    def recognises(self, document: Document) -> bool:
        return document.file == "own.pdf"

    def readings(self, document: Document, tables: tuple[Table, ...]) -> Iterable[Reading]:
        return (READING,) if document.file == "own.pdf" else ()


@pytest.mark.parametrize("plugin", find_plugins(EXTRACTORS), ids=lambda plugin: plugin.name)
def test_every_installed_extractor_keeps_its_promises(plugin: Plugin) -> None:
    assert plugin.fault == ""
    assert check_extractor(cast(Extractor, plugin.made)) == ()


@pytest.mark.parametrize("plugin", find_plugins(OPENERS), ids=lambda plugin: plugin.name)
def test_every_installed_opener_keeps_its_promises(plugin: Plugin, tmp_path: Path) -> None:
    assert plugin.fault == ""
    opener = cast(Opener, plugin.made)
    suffix = {"pdf": ".pdf", "delimited": ".csv", "workbook": ".xlsx", "web_page": ".html"}.get(opener.name, ".none")
    samples = sorted(path for path in SHEETS.iterdir() if path.suffix == suffix)
    assert check_opener(opener, tmp_path, samples) == ()


def test_noise_is_always_the_same() -> None:
    assert make_noise() == make_noise()


def test_a_sound_extractor_passes() -> None:
    assert check_extractor(Sound(), [OWN]) == ()


def crash(*_: object) -> Any:
    raise ZeroDivisionError("at once")


@pytest.mark.parametrize(
    ("attribute", "value", "said"),
    [
        ("name", "Not Good", "name"),
        ("specific", None, "specific"),
        ("recognises", crash, "ZeroDivisionError"),
        ("recognises", lambda *_: None, "True or False"),
        ("recognises", lambda *_: False, "must be True for a document of its own layout"),
        ("readings", crash, "ZeroDivisionError"),
        ("readings", lambda *_: ["2.5 Nm"], "gave a str"),
        ("readings", lambda *_: (), "no reading with a torque"),
        ("readings", lambda *_: (replace(READING, place=Place(page=9)),), "no page of the document"),
        ("readings", lambda *_: (replace(READING, entries=(replace(TORQUE, field="twist"),)),), "'twist'"),
        (
            "readings",
            lambda *_: (replace(READING, doubts=(Doubt(code="hunch", message="?"),)),),
            "'hunch'",
        ),
        (
            "readings",
            lambda *_: (replace(READING, entries=(replace(TORQUE, cell=replace(TORQUE.cell, text="3.5")),)),),
            "'3.5' is not printed",
        ),
        ("readings", lambda *_: (replace(READING, scope=(OVER_ALL,)),), "'Everywhere' is not printed"),
        ("readings", lambda *_: (replace(READING, scope=(replace(OVER_ALL, kind="sheet"),)),), "'sheet' is none of"),
    ],
)
def test_each_broken_promise_of_an_extractor_is_named(attribute: str, value: object, said: str) -> None:
    broken = type("Broken", (), {**vars(Sound), attribute: value})()
    faults = check_extractor(broken, [OWN])
    assert any(said in fault for fault in faults), faults


def test_an_extractor_that_changes_its_mind_is_named() -> None:
    answers = iter(range(1000))

    class Fickle(Sound):
        def readings(self, document: Document, tables: tuple[Table, ...]) -> Iterable[Reading]:
            return (replace(READING, place=Place(page=1, row=next(answers))),) if document is OWN else ()

    assert any("the same readings when asked again" in fault for fault in check_extractor(Fickle(), [OWN]))


@pytest.mark.parametrize(
    ("attribute", "value", "said"),
    [
        ("name", "", "name"),
        ("recognises", crash, "ZeroDivisionError"),
        ("recognises", lambda *_: 1, "True or False"),
        ("recognises", lambda *_: False, "must be True for a sample"),
        ("open", crash, "may raise SheetRefused alone"),
        ("open", lambda *_: "text", "gave a str"),
        ("open", lambda *_: replace(OWN, page_count=0), "must ascend"),
    ],
)
def test_each_broken_promise_of_an_opener_is_named(attribute: str, value: object, said: str, tmp_path: Path) -> None:
    sample = tmp_path / "sample.drum"
    sample.write_bytes(b"DRUM")
    sound = {"name": "drum", "recognises": lambda *_: True, "open": lambda *_: OWN}
    assert check_opener(cast(Opener, type("SoundOpener", (), sound)()), tmp_path, [sample]) == ()
    faults = check_opener(cast(Opener, type("Broken", (), {**sound, attribute: value})()), tmp_path, [sample])
    assert any(said in fault for fault in faults), faults


def test_a_refusal_with_an_unknown_code_or_more_than_a_line_is_named(tmp_path: Path) -> None:
    class Vague:
        name = "vague"

        def recognises(self, path: Path, head: bytes) -> bool:
            return True

        def open(self, path: Path, wish: OpenWish) -> Document:
            raise SheetRefused("dislike", "no\nreally")

    faults = check_opener(Vague(), tmp_path)
    assert any("'dislike'" in fault for fault in faults)
    assert any("in one line" in fault for fault in faults)
