"""The page of held readings asks of a column whether it is torques at all: answered, saved, opened again."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import jsonschema
import pytest
from axe import serious_faults
from browser import CHROMIUM, Browser, start
from wrong_columns import TORQUES, Terminals

from torquary_schema.validation import read_schema

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="needs Chromium, which .ci/run installs")

WRONG = "questions.find((form) => form.innerText.includes('0,5–2,5'))"


@pytest.fixture
def terminals(tmp_path: Path) -> Terminals:
    there = Terminals(tmp_path)
    there.load("rk.pdf")
    there.run("held", "--pictures", str(tmp_path), status=None)
    return there


@pytest.fixture
def page(tmp_path: Path, terminals: Terminals) -> Iterator[Browser]:
    profile = tmp_path / "profile"
    profile.mkdir()
    with start(profile) as browser:
        browser.open(terminals.folder / "held.html", wide=360)
        yield browser


def test_one_choice_says_that_a_column_is_none(page: Browser, terminals: Terminals) -> None:
    assert page.run("document.documentElement.scrollWidth") <= 360
    assert serious_faults(page) == []
    assert "Is it no torques at all" in page.run(f"{WRONG}.innerText")
    page.run(f"{WRONG}.querySelector('[value=answer]').click()")
    assert page.run("one('count').textContent") == "4 of 8 decided or answered"
    page.run("one('who').value = 'Ines'; one('why').value = 'sizes'; keep()")
    told = page.run("collect()")
    jsonschema.validate(told, read_schema("decisions"))
    (one,) = told["decisions"]
    assert (one["verdict"], one["reach"], one["no_torque"]) == ("answer", "column", True)
    page.run("for (const item of all) apply(item, {verdict: 'leave'})")
    page.run(f"open({json.dumps(told)})")
    assert page.run("collect()") == told
    (terminals.folder / "decisions.json").write_text(json.dumps(told), "utf-8")
    terminals.run("decide", "--from", str(terminals.folder / "decisions.json"))
    assert terminals.figures() == TORQUES
