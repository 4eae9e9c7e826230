"""The page of held readings as a person uses it, in a real browser: keys, typing, saving, a narrow screen."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from axe import serious_faults
from browser import CHROMIUM, Browser, start
from lacking_readings import lacking, put, run, states
from sheets_by_hand import torque

from torquary_schema.validation import read_schema
from torquary_schema.values import Beside, Finding, ScopeText, Setting

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="needs Chromium, which .ci/run installs")

DOUBTFUL = Finding(code="unit_doubtful", message="'lbs' may be lbf·in or lbf·ft")
UNREAD = Finding(code="condition_unread", message="the cell also says 'from version 2'")


def readings() -> Iterator[Setting]:
    """Three rows without a device, each with its type beside it; one of lbs; one that is sure but for a word."""
    for row in (1, 2, 3):
        yield replace(lacking(row, "device"), beside=(Beside(heading="Type", text=f"QX {row}"),))
    pounds = lacking(4, torque=torque("20 lbs", None, None, unit="lbs"), findings=(DOUBTFUL,))
    yield replace(pounds, torque=torque("20 lbs", "2.26", "2.26", unit="lbs"))
    under = (ScopeText(kind="section_row", text="Main terminals"), ScopeText(kind="note", text="a) copper only"))
    yield replace(lacking(5, findings=(UNREAD,), scope=under), conditions=("copper_only",))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("held")
    catalogue = put(folder / "harbour.duckdb", *readings())
    run(catalogue, "held", "--pictures", str(folder))
    return folder


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    with start(tmp_path_factory.mktemp("profile")) as started:
        yield started


COLLECT = "(() => { try { return collect(); } catch (error) { return error.message; } })()"
UNTOUCHED = "[...new Set(all.map(verdictOf))]"


@pytest.fixture
def page(browser: Browser, folder: Path) -> Browser:
    browser.open(folder / "held.html", wide=1200)
    browser.run("localStorage.clear()")
    browser.reload_until(UNTOUCHED, ["leave"])
    return browser


def focus(page: Browser, row: int) -> None:
    page.run(f"document.querySelector('article[data-id=row-{row}]').focus()")


def verdicts(page: Browser) -> dict[str, str]:
    return dict(page.run("Object.fromEntries(all.map(item => [item.dataset.key, verdictOf(item)]))"))


def answer(page: Browser, value: str, **fields: str) -> None:
    """Fill in the form of the question which device it is."""
    script = f"const form = questions[0]; form.querySelector('[value={value}]').click();"
    for name, text in fields.items():
        script += f"form.querySelector('[name={name}]').value = {json.dumps(text)};"
    page.run(f"(() => {{ {script} form.dispatchEvent(new Event('change')); }})()")


def type_torque(page: Browser, row: int, text: str) -> None:
    focus(page, row)
    page.press("c")
    page.run(f"document.activeElement.value = {json.dumps(text)}")
    page.run("document.activeElement.dispatchEvent(new Event('input', {bubbles: true}))")


def sign(page: Browser) -> None:
    page.run("one('who').value = 'Ines'; one('why').value = 'compared'; keep()")


def collect(page: Browser) -> Any:
    return page.run(COLLECT)


def test_nothing_is_decided_without_a_card_in_focus(page: Browser) -> None:
    page.run("document.activeElement.blur()")
    for key in "acr":
        page.press(key)
    assert set(verdicts(page).values()) == {"leave"}


def test_a_doubtful_unit_is_not_accepted_by_a_key(page: Browser) -> None:
    for row in (4, 1, 5):
        focus(page, row)
        page.press("a")
    told = verdicts(page)
    assert [told[f"row-{row}"] for row in (4, 1, 5)] == ["leave", "leave", "accept"]


def test_a_correction_that_cannot_be_read_is_refused_while_it_is_typed(page: Browser) -> None:
    sign(page)
    for text in ("2.5", "20 lbs", "2.500 Nm", "about 2 Nm"):
        type_torque(page, 5, text)
        assert page.run("document.activeElement.getAttribute('aria-invalid')") == "true", text
        assert page.run("document.activeElement.closest('div').querySelector('.note').textContent"), text
        assert isinstance(collect(page), str)
    for text in ("2.5 Nm", "2,5 N·m", "20-25 lb-in", "max. 2 Nm"):
        type_torque(page, 5, text)
        assert page.run("document.activeElement.getAttribute('aria-invalid')") is None, text
    assert collect(page)["decisions"][0]["torque"] == "max. 2 Nm"


def test_what_is_shown_and_correctable(page: Browser) -> None:
    shown = page.run("document.querySelector('article[data-id=row-5]').innerText")
    for text in ("Breaker BK-16", "size 2", "electrical terminal", "copper", "Main terminals", "a) copper only"):
        assert text in shown, text
    sign(page)
    focus(page, 5)
    page.press("c")
    fields = {"drive": "PZ 3", "device": "QX 80", "purpose": "mounting"}
    for name, text in fields.items():
        page.run(f"document.querySelector('article[data-id=row-5] [name={name}]').value = {json.dumps(text)}")
    page.run("document.querySelector('article[data-id=row-5] [value=no_retightening]').click()")
    (told,) = collect(page)["decisions"]
    assert told | {**fields, "conditions": ["copper_only", "no_retightening"]} == told


def test_an_answer_covers_its_rows_a_reload_loses_nothing_and_the_file_opens_again(page: Browser, folder: Path) -> None:
    answer(page, "answer", device_from="Type", reach="list")
    focus(page, 5)
    page.press("r")
    sign(page)
    assert page.run("one('count').textContent") == "4 of 5 decided or answered"
    record = collect(page)
    jsonschema.validate(record, read_schema("decisions"))
    page.reload_until(COLLECT, record)
    page.run("localStorage.clear()")
    page.reload_until(UNTOUCHED, ["leave"])
    page.run(f"open({json.dumps(record)})")
    assert collect(page) == record
    saved = folder / "decisions.json"
    saved.write_text(json.dumps(record), encoding="utf-8")
    catalogue = put(folder / "copy.duckdb", *readings())
    assert "3 reading(s) answered: 3 released" in run(catalogue, "decide", "--from", str(saved)).stdout
    assert [*states(catalogue).values()] == ["released"] * 3 + ["held", "rejected"]


def test_readings_are_found_by_cause_and_words(page: Browser) -> None:
    seen = "items.filter(item => item.checkVisibility()).map(item => item.dataset.id)"

    def look_for(words: str, cause: str) -> Any:
        page.run(f"one('search').value = '{words}'; one('cause').value = '{cause}'; filter()")
        return page.run(seen)

    assert look_for("20 lbs", "") == ["row-4"]
    assert look_for("", "Which device?") == ["row-1", "row-2", "row-3"]


@pytest.mark.parametrize("wide", [360, 1200])
def test_it_never_scrolls_sideways_and_is_plain_to_everybody(page: Browser, folder: Path, wide: int) -> None:
    """No serious fault by axe-core, with the forms opened."""
    page.open(folder / "held.html", wide=wide)
    answer(page, "answer")
    page.run("items[4].querySelector('[value=correct]').click()")
    assert page.run("document.documentElement.scrollWidth") <= wide
    assert serious_faults(page) == []
