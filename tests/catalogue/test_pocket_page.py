"""The page for the pocket in a real browser, from a file: its answers are those of `torquary find`.

`python tests/bench/pocket_against_find.py` compares ten thousand questions; here are some hundreds.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from axe import serious_faults
from browser import CHROMIUM, Browser, start
from pocket_questions import BY_PAGE, answer_by_command, make_questions, name_rows
from question_bank import sheets

from torquary_catalogue.find.answer import CAUTIONS
from torquary_catalogue.load import load_sheets
from torquary_catalogue.pocket import Chosen, choose, write_pocket
from torquary_catalogue.store import Catalogue, open_catalogue

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="needs Chromium, which .ci/run installs")

QUESTIONS = 200


@pytest.fixture(scope="module")
def catalogue(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Catalogue]:
    path = Path(tmp_path_factory.mktemp("pocket")) / "bank.duckdb"
    load_sheets(path, sheets())
    with open_catalogue(path) as opened:
        yield opened


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    with start(tmp_path_factory.mktemp("profile")) as started:
        yield started


def put(catalogue: Catalogue, chosen: Chosen, file: Path, **wishes: Any) -> Path:
    wanted = {"made_on": date.today(), "good_for": 90, "unit": "newton_metre", "pictures": False} | wishes
    file.write_text(write_pocket(catalogue, chosen, **wanted).text, encoding="utf-8")
    return file


def ask(page: Browser, words: str) -> str:
    """Type the words, press the button, and return what is shown."""
    page.run(f"one('words').value = {json.dumps(words)}; one('ask').requestSubmit()")
    return str(page.run("one('answer').innerText"))


@pytest.fixture(scope="module")
def differing(catalogue: Catalogue, browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Any:
    """Compare with the command what the page answers once a script of ours has run on it."""
    chosen = choose(catalogue)
    file = put(catalogue, chosen, tmp_path_factory.mktemp("page") / "pocket.html")
    rows = [(row.sheet, row.id) for row in chosen.rows]

    def compare(asked: list[str], first: str = "0") -> list[str]:
        browser.open(file, wide=360)
        browser.run(first)
        told = browser.run(f"{json.dumps(asked)}.map({BY_PAGE})")
        both = zip(asked, told, strict=True)
        return [words for words, one in both if name_rows(one, rows) != answer_by_command(catalogue, words)]

    return compare


def test_page_and_command_give_the_same_answers(catalogue: Catalogue, differing: Any) -> None:
    assert differing(list(make_questions(catalogue, QUESTIONS, 20))) == []


def test_the_comparison_sees_a_rule_that_differs(differing: Any) -> None:
    asked = ["main switch tails 25mm", "neutral bar", "mcb 50mm2 outgoing", "spd earth 16mm2"]
    assert differing(asked) == []
    assert differing(asked, "ROWS.forEach(row => { row.max_area = null; })") == ["mcb 50mm2 outgoing"]
    assert differing(asked, "WHOLE.delete('tails'), 0") == ["main switch tails 25mm"]


def test_an_answer_shows_print_sheet_edition_page_and_picture(
    catalogue: Catalogue, browser: Browser, tmp_path: Path
) -> None:
    browser.open(put(catalogue, choose(catalogue), tmp_path / "pocket.html", pictures=True), wide=360)
    shown = ask(browser, "gn100 line 25mm")
    place = "grobnickel_main_switch.pdf, Issue B, 2026, page 1"
    for text in ("One figure", "taken as", "4 N·m", "“4 N·m”", place, "not printed: match it to the screw head"):
        assert text in shown, text
    picture = "document.querySelector('#answer img')"
    assert browser.run(f"{picture}.decode().then(() => {picture}.naturalWidth)") > 100
    for caution in CAUTIONS:
        assert caution in browser.run("document.body.innerText")


def test_it_needs_no_network(catalogue: Catalogue, tmp_path: Path) -> None:
    text = put(catalogue, choose(catalogue), tmp_path / "pocket.html", pictures=True).read_text("utf-8")
    assert "default-src 'none'" in text
    assert "<script src" not in text
    assert "<link" not in text
    assert "https://" not in text


@pytest.mark.parametrize(("made", "asks"), [(date(2020, 1, 1), True), (date.today(), False), (date(2999, 1, 1), True)])
def test_past_its_life_it_asks_before_it_answers(
    catalogue: Catalogue, browser: Browser, tmp_path: Path, made: date, asks: bool
) -> None:
    browser.open(put(catalogue, choose(catalogue), tmp_path / "pocket.html", made_on=made), wide=360)
    shown = ask(browser, "gn100 line 25mm")
    assert ("4 N·m" in shown) is not asks
    assert browser.run("one('past').checkVisibility()") is asks
    if asks:
        browser.run("one('agree').click()")
        after = browser.run("one('answer').innerText")
        assert "4 N·m" in after
        assert "a sheet may have changed" in after or "not made yet" in after


def test_a_held_reading_is_named_and_its_figure_is_not_in_the_page(
    catalogue: Catalogue, browser: Browser, tmp_path: Path
) -> None:
    held = catalogue.rows("SELECT * FROM held_setting ORDER BY file, number")
    assert held
    for sheet in {row["sheet"] for row in held}:
        chosen = choose(catalogue, [sheet])
        file = put(catalogue, chosen, tmp_path / "pocket.html")
        rows = [row for row in chosen.rows if row.state == "held"]
        assert all(row.figures == (None,) * 4 and row.torque_printed is None for row in rows)
        browser.open(file, wide=360)
        carried = browser.run(
            "ROWS.filter(row => row.state === 'held').map(row => ({ figures: row.figures, shown: row.shown }))"
        )
        assert len(carried) == len(rows)
        for row in carried:
            assert row["figures"] == [None] * 4
            assert not any(row["shown"][name] for name in ("torque", "limit", "torques", "printed"))
        one = rows[0]
        shown = ask(browser, f"{one.device_printed} {one.terminal_printed}")
        if shown.startswith("Held, not given"):
            assert f"Look at {one.file}, page {one.page}" in shown
            assert "why held" in shown


def test_what_stays_behind_is_told(catalogue: Catalogue, browser: Browser, tmp_path: Path) -> None:
    chosen = choose(catalogue, makers=["Grobnickel"])
    assert {row.maker for row in chosen.rows} == {"Grobnickel Works"}
    browser.open(put(catalogue, chosen, tmp_path / "pocket.html"), wide=360)
    told = browser.run("document.body.textContent")
    assert "Only what was chosen is here: maker Grobnickel" in told
    assert "Pictures of the printed rows: torquary pocket --pictures" in told
    assert "grobnickel_main_switch.pdf" in told
    assert "Nothing known" not in ask(browser, "gn100 line 25mm")


@pytest.mark.parametrize("wide", [360, 1200])
def test_it_never_scrolls_sideways_and_is_plain_to_everybody(
    catalogue: Catalogue, browser: Browser, tmp_path: Path, wide: int
) -> None:
    """No serious fault by axe-core, with each kind of answer on show."""
    browser.open(put(catalogue, choose(catalogue), tmp_path / "pocket.html", pictures=True), wide=wide)
    for words in ("gn100 line 25mm", "neutral bar", "mcb 50mm2 outgoing", "mainswich qxz", "10mm2 16mm2"):
        assert ask(browser, words)
        assert browser.run("document.documentElement.scrollWidth") <= wide
        assert serious_faults(browser) == []
