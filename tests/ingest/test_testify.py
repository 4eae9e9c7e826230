"""The witness stands before release: it holds what the page does not show, and never releases."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from torquary_ingest import testify
from torquary_ingest.document import Cell, Doubt, Entry, Reading
from torquary_ingest.normalise import settle
from torquary_ingest.one_sheet import take_readings
from torquary_ingest.opening import open_sheet
from torquary_ingest.plugins import OpenWish
from torquary_ingest.reader import read_sheet
from torquary_ingest.skeleton import make_skeleton
from torquary_ingest.witness import Testimony as Answer
from torquary_ingest.witness import faces
from torquary_ingest.witness.recogniser import load_recogniser
from torquary_schema.values import Setting

SAMPLES = Path(__file__).parents[2] / "sample_sheets"
SHEET = SAMPLES / "duskwarren_contactor.pdf"
AGAINST = Doubt(code="text_differs_from_picture", message="the text layer says '2.5', the picture reads '8.5'")
UNTOLD = Doubt(code="not_witnessed", message="no recogniser is installed")


SWORN = Answer(agrees=True, means="recogniser")


class Sworn:
    """A witness that says one thing to every claim, or stops."""

    def __init__(self, answer: Answer | Exception) -> None:
        self.answer = answer

    def check(self, page: int, claims: Sequence[Any], rules: Sequence[Any] = ()) -> tuple[Answer, ...]:
        if isinstance(self.answer, Exception):
            raise self.answer
        return (self.answer,) * len(claims)


def swear(monkeypatch: pytest.MonkeyPatch, answer: Answer | Exception) -> None:
    @contextmanager
    def opened(path: Path, *, password: str = "") -> Iterator[Sworn]:
        yield Sworn(answer)

    monkeypatch.setattr(testify.Witness, "open", opened)


def states(settings: Sequence[Setting]) -> list[str]:
    return [setting.state for setting in settings]


@pytest.mark.parametrize(
    ("answer", "code"),
    [
        (Answer(agrees=False, doubts=(AGAINST,)), "text_differs_from_picture"),
        (Answer(agrees=None, doubts=(UNTOLD,)), "not_witnessed"),
        (RuntimeError("the model broke"), "not_witnessed"),
        (MemoryError(), "not_witnessed"),
    ],
)
def test_what_is_not_confirmed_is_held_and_nothing_is_lost(
    monkeypatch: pytest.MonkeyPatch, answer: Answer | Exception, code: str
) -> None:
    swear(monkeypatch, SWORN)
    before = read_sheet(SHEET).settings
    swear(monkeypatch, answer)
    after = read_sheet(SHEET).settings
    assert [setting.id for setting in after] == [setting.id for setting in before]
    assert "released" in states(before)
    assert "released" not in states(after)
    for old, new in zip(before, after, strict=True):
        assert old.state != "released" or code in {finding.code for finding in new.findings}


def test_what_the_picture_cannot_tell_is_released_on_wish_and_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    for answer in (Answer(agrees=None, doubts=(UNTOLD,)), RuntimeError("the model broke")):
        swear(monkeypatch, answer)
        settings = read_sheet(SHEET, unwitnessed=True).settings
        assert states(settings) == ["released"] * len(settings)
        assert all("released_unwitnessed" in {f.code for f in setting.findings} for setting in settings)
        assert all("witnessed" not in {f.code for f in setting.findings} for setting in settings)


def test_what_the_picture_contradicts_is_held_whatever_is_wished(monkeypatch: pytest.MonkeyPatch) -> None:
    swear(monkeypatch, Answer(agrees=False, doubts=(AGAINST,)))
    settings = read_sheet(SHEET, unwitnessed=True).settings
    assert states(settings) == ["held"] * len(settings)
    for setting in settings:
        (message,) = [f.message for f in setting.findings if f.code == "text_differs_from_picture"]
        assert "2.5" in message
        assert "8.5" in message


def test_without_a_recogniser_only_what_ink_and_shapes_prove_is_released(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("torquary_ingest.witness.witness.load_recogniser", lambda: None)
    monkeypatch.setattr(faces, "SIGNS", faces.SIGNS.replace("à", ""))
    sheet = SAMPLES / "pelquorre_interrupteur.pdf"  # "2,5 à 50 mm²": a letter that no known shape proves
    held = [setting for setting in read_sheet(sheet).settings if setting.state == "held"]
    assert held
    assert all("not_witnessed" in {f.code for f in setting.findings} for setting in held)
    wished = read_sheet(sheet, unwitnessed=True).settings
    assert states(wished) == ["released"] * len(wished)
    assert {s.id for s in wished if "released_unwitnessed" in {f.code for f in s.findings}} == {s.id for s in held}


def test_an_agreeing_witness_releases_nothing_that_was_held(monkeypatch: pytest.MonkeyPatch) -> None:
    sheet = SAMPLES / "grobnickel_main_switch.pdf"
    opened = open_sheet(sheet, OpenWish())
    skeleton = make_skeleton(opened.document, opened.tables)
    before = settle(opened.document, opened.tables, take_readings(opened)[0], skeleton)[0]
    assert "held" in states(before)
    swear(monkeypatch, SWORN)
    after = {setting.id: setting.state for setting in read_sheet(sheet).settings}
    assert all(after[setting.id] == "held" for setting in before if setting.state == "held")


def test_an_honest_sheet_is_released_and_says_that_it_was_witnessed() -> None:
    settings = read_sheet(SHEET).settings
    assert "released" in states(settings)
    for setting in settings:
        assert ("witnessed" in {f.code for f in setting.findings}) == (setting.state == "released")


def test_a_text_layer_that_says_another_digit_is_held() -> None:
    opened = open_sheet(SHEET, OpenWish())
    readings = [falsify(reading) for reading in take_readings(opened)[0]]
    before = settle(opened.document, opened.tables, readings, make_skeleton(opened.document, opened.tables))[0]
    assert "released" in states(before), "the lie must pass every other check, else it proves nothing"
    after = testify.witness_settings(SHEET, opened.document, opened.tables, readings, before, OpenWish())
    assert "released" not in states(after)
    expected = "text_differs_from_picture" if load_recogniser() else "not_witnessed"
    assert any(expected in {f.code for f in setting.findings} for setting in after)


def test_a_file_without_pictures_needs_no_witness(monkeypatch: pytest.MonkeyPatch) -> None:
    swear(monkeypatch, RuntimeError("asked"))
    sheet = SAMPLES / "mossgrindle_verteilerklemmen.csv"
    assert "released" in states(read_sheet(sheet).settings)


def falsify(reading: Reading) -> Reading:
    """Return the reading with every figure of torque one digit higher in text and words, place unchanged."""
    return replace(reading, entries=tuple(_falsify(entry) for entry in reading.entries))


def _falsify(entry: Entry) -> Entry:
    if not entry.field.startswith("torque"):
        return entry
    other = str.maketrans("123456789", "234567891")
    cell: Cell = entry.cell
    words = tuple(replace(word, text=word.text.translate(other)) for word in cell.words)
    return replace(entry, cell=replace(cell, text=cell.text.translate(other), words=words))
