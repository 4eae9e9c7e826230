"""The page for the pocket with the plan of a board in it: both are used, on a telephone without a network."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from axe import serious_faults
from browser import CHROMIUM, Browser, start
from click.testing import CliRunner, Result

from torquary_catalogue.command import main

LIST = "board,mark,device,terminal,conductor\nB7,F1,BK-16,line,10 mm2\nB7,F1,BK-16,load,4 mm2\n"


def run(catalogue: Path, *arguments: object) -> Result:
    return CliRunner().invoke(main, [*map(str, arguments), "--catalogue", str(catalogue)], catch_exceptions=False)


@pytest.fixture
def board(tmp_path: Path) -> Path:
    path = tmp_path / "b7.csv"
    path.write_text(LIST, encoding="utf-8")
    return path


@pytest.fixture
def harbour(tmp_path: Path, harbour_file: Path) -> Path:
    path = tmp_path / "harbour.duckdb"
    path.write_bytes(harbour_file.read_bytes())
    return path


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    with start(tmp_path_factory.mktemp("profile")) as started:
        offline = {"latency": 0, "downloadThroughput": 0, "uploadThroughput": 0}
        started.send("Network.emulateNetworkConditions", offline=True, **offline)
        yield started


def test_the_page_carries_the_plan_and_both_are_on_record(harbour: Path, board: Path) -> None:
    page = board.with_name("pocket.html")
    done = run(harbour, "pocket", "-o", page, "--plan", board, "--json")
    assert (done.exit_code, json.loads(done.stdout)["boards"]) == (0, ["B7"])
    given = json.loads(run(harbour, "recall", "--all", "--json").stdout)["given"]
    assert sorted(one["kind"] for one in given) == ["plan", "pocket"]
    assert '<details id="plan">' in page.read_text("utf-8")
    run(harbour, "pocket", "-o", page)
    assert '<details id="plan">' not in page.read_text("utf-8")


@pytest.mark.parametrize(
    ("rows", "options", "status", "said"),
    [
        (LIST, ["--driver", "d.json"], 2, "--driver is for a plan: say of which list with --plan LIST"),
        ("board,mark,device,terminal\n", ["--plan"], 2, "no row"),
        (f"{LIST}B7,F2,ZZ-1,line,10 mm2\n", ["--plan"], 1, "not planned:\n  F2 | line (row 4)"),
    ],
)
def test_what_is_wrong_with_the_plan_is_said(
    harbour: Path, board: Path, rows: str, options: list[str], status: int, said: str
) -> None:
    board.write_text(rows, encoding="utf-8")
    page = board.with_name("pocket.html")
    done = run(harbour, "pocket", "-o", page, *options, *([board] if options == ["--plan"] else []))
    assert done.exit_code == status
    assert said in done.output
    assert page.exists() is (status == 1)


@pytest.mark.skipif(CHROMIUM is None, reason="needs Chromium, which .ci/run installs")
def test_on_a_telephone_work_is_entered_saved_and_a_question_answered(
    browser: Browser, harbour: Path, board: Path
) -> None:
    page = board.with_name("pocket.html")
    run(harbour, "pocket", "-o", page, "--plan", board, "--on", "2024-05-02")
    browser.open(page, wide=360)
    assert browser.run("one('plan').open") is False
    browser.click("one('plan').querySelector('summary')")
    assert browser.run("one('plan').open") is True
    assert browser.run("document.documentElement.scrollWidth") <= 360
    assert serious_faults(browser) == []
    card = "document.querySelector('#plan article')"
    browser.run("one('who').value = 'Ines'")
    browser.run(f"{card}.querySelector('[value=loose]').click()")
    browser.run(f"{card}.querySelector('[name=done]').click()")
    told: Any = "one('done').textContent"
    assert browser.run(told) == "1 of 2 looked at, 1 set"
    browser.reload_until(told, "1 of 2 looked at, 1 set")
    browser.run("one('plan').open = true; 1")
    saved = browser.click_to_save("one('save')", board.with_name("saved"))
    browser.run("one('words').value = 'BK-16 load 10mm2'; one('ask').requestSubmit()")
    assert "2 N·m" in browser.run("one('answer').innerText")
    assert run(harbour, "board", "take", saved).exit_code == 0
    assert "found loose, set to" in run(harbour, "board", "history", "B7").stdout


@pytest.mark.skipif(CHROMIUM is None, reason="needs Chromium, which .ci/run installs")
def test_past_the_page_s_life_the_plan_is_shown_only_after_a_question(
    browser: Browser, harbour: Path, board: Path
) -> None:
    page = board.with_name("pocket.html")
    run(harbour, "pocket", "-o", page, "--plan", board)
    old = page.read_text("utf-8").replace('"made_on": "20', '"made_on": "19', 1)
    page.write_text(old, encoding="utf-8")
    browser.open(page, wide=360)
    browser.click("one('plan').querySelector('summary')")
    assert (browser.run("one('plan').open"), browser.run("one('past').checkVisibility()")) == (False, True)
    browser.run("one('agree').click()")
    assert browser.run("one('plan').open") is True
