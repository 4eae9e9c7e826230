"""The page of a plan as its user has it: a telephone of 360 pixels, filled in, reloaded, saved,
opened and taken in.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from axe import serious_faults
from boards_by_hand import certain, driver, listed, plan
from browser import CHROMIUM, Browser, start

from torquary_catalogue.board.page import PATTERNS, write_page
from torquary_catalogue.board.plan import CAUTIONS
from torquary_catalogue.board.record_file import Given, read_record
from torquary_catalogue.board.settled import Unsettled
from torquary_schema.validation import read_schema

needs_browser = pytest.mark.skipif(
    CHROMIUM is None, reason="needs Chromium, which .ci/run installs"
)
HOSTILE = "F1</script><script>alert(1)</script>\u202e"


def text() -> str:
    told = [certain("2", None, ("cross_z", "2"), way=1), certain("2", way=2), certain("3.1", way=3)]
    odd = replace(told[2], terminal=replace(told[2].terminal, remark=HOSTILE))
    made = plan(*told[:2], odd, drivers=(driver(),))
    lost = Unsettled(
        terminal=listed("line", 4),
        why="50 mm² is outside",
        settles=("printed: 1.5–16",),
        command="",
    )
    return write_page([replace(made, unsettled=(lost,), left_out=(listed("", 5, joint="spare"),))])


def test_the_page_needs_nothing_else_and_shows_what_would_steer_as_what_it_is() -> None:
    page = text()
    assert (
        re.findall(r"""(?:src|href)\s*=|https?:|@import|url\(""", page.replace("link.href =", ""))
        == []
    )
    assert HOSTILE not in page
    assert "&lt;/script&gt;" in page
    assert "&lt;U+202E&gt;" in page
    lost = "1.4 F4 | line (row 5): 50 mm² is outside"
    assert all(
        said in page for said in (CAUTIONS[1], lost, "1.5 F5: spare", "SET 3.1 N·m", "Sheets used")
    )
    assert all(f".p{at} " in page for at in range(1, PATTERNS))


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("page") / "b7.html"
    path.write_text(text(), "utf-8")
    return path


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    with start(tmp_path_factory.mktemp("profile")) as started:
        yield started


def state(page: Browser) -> Any:
    return page.run("state()")


@needs_browser
def test_it_is_filled_in_kept_over_a_reload_saved_and_opened_again(
    browser: Browser, file: Path, tmp_path: Path
) -> None:
    browser.open(file, wide=360)
    assert browser.run("document.documentElement.scrollWidth") <= 360
    small = "[...document.querySelectorAll('label:has(input), button, summary')].filter(one => one.checkVisibility())"
    assert browser.run(f"Math.min(...{small}.map(one => one.getBoundingClientRect().height))") >= 44
    assert browser.run("faultIn(state())") == "Nothing is entered yet."
    browser.run("items[0].querySelector('[name=done]').click()")
    assert browser.run("faultIn(state())") == "Say who does the work."
    browser.run(
        "one('who').value = 'Ines'; one('who').dispatchEvent(new Event('input', {bubbles: true})); 1"
    )
    assert browser.run("faultIn(state())") == "Say as what it was found: 1.1 F1 | L1"
    browser.run("items[0].querySelector('[value=loose]').click()")
    browser.run("items[1].querySelector('[value=as_set]').click()")
    assert browser.run("one('done').textContent") == "2 of 3 looked at, 1 set"
    record = state(browser)
    jsonschema.validate(record, read_schema("work_record"))
    first, second = record["entries"]
    assert (first["found"], first["done"], first["set_nm"], first["driver"]) == (
        "loose",
        True,
        "2",
        "TD-1",
    )
    assert (second["found"], second["done"], first["calibrated"]) == ("as_set", False, "2031-03-01")
    browser.reload_until("state()", record)
    browser.run("localStorage.clear()")
    browser.reload_until("state().entries", [])
    assert browser.run(f"put({json.dumps(record)})") == 0
    assert state(browser) == record
    saved = browser.click_to_save("one('save')", tmp_path / "saved")
    assert saved.name == "work-record-2031-05-02.json"
    assert json.loads(saved.read_text("utf-8")) == record
    taken = read_record(saved, Given(), date(2031, 5, 3))
    assert [(one.found, one.done, one.who, one.visit) for one in taken] == [
        ("loose", True, "Ines", "2031-05-02"), ("as_set", False, "Ines", "2031-05-02")
    ]  # fmt: skip


@needs_browser
def test_it_is_plain_to_everybody(browser: Browser, file: Path) -> None:
    """No serious fault by axe-core."""
    browser.open(file, wide=360)
    assert serious_faults(browser) == []
