"""A board of 24 terminals from its list to the second visit, as its users have it: planned on the command line, worked
on at a telephone, corrected, recalled after a new edition, looked at again.
"""

from __future__ import annotations

import csv
import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from browser import CHROMIUM, Browser, start

from torquary_schema.validation import find_form_fault

TOP = Path(__file__).parents[2]
SHEETS = TOP / "sample_sheets"
BOARDS = TOP / "tests" / "sample_boards"
BEFORE = (
    "hobbletarn_mcb_ed3", "pelquorre_interrupteur", "orvantzel_spd", "zwirbelhorn_schutzgeraete", "hobbletarn_bars",
)  # fmt: skip
FIRST, SECOND = "2031-05-02", "2032-05-04"
LOOSE = "2.2 F3 | load"

Torquary = Callable[..., Any]


@pytest.mark.skipif(CHROMIUM is None, reason="needs Chromium, which .ci/run installs")
def test_a_board_from_its_list_to_the_second_visit(torquary: Torquary, tmp_path: Path) -> None:
    torquary("load", *(SHEETS / f"{name}.pdf" for name in BEFORE))
    plan_board(torquary, tmp_path)
    with start(tmp_path / "profile") as browser:
        browser.open(tmp_path / "first.html", wide=360)
        assert browser.run("document.documentElement.scrollWidth") <= 360
        first, mended = fill_in(browser, tmp_path)
    assert take(torquary, first) == "added: 22, of these corrections: 0; there already: 0\n"
    assert take(torquary, mended) == "added: 1, of these corrections: 1; there already: 21\n"
    torquary("load", SHEETS / "hobbletarn_mcb_ed4.pdf")
    check_recall(torquary)
    visit_again(torquary, tmp_path)


def plan_board(torquary: Torquary, folder: Path) -> None:
    """Plan it in every form; what is said and written is the same work."""
    words = ("plan", BOARDS / "quay_house.csv", "--driver", BOARDS / "td_07.json", "--on", FIRST)
    targets = [word for kind in ("pdf", "html", "json", "csv") for word in ("-o", folder / f"first.{kind}")]
    told = torquary(*words, *targets)
    assert told.returncode == 1
    assert "24 terminals, 22 in 6 settings, 1 bit change, 1 without a certain figure, 1 left out" in told.stdout
    assert "2.4 F5 | load (row 14): 35 mm² is outside what is printed" in told.stdout
    torquary(*words, "--paper", "letter", "-o", folder / "letter.pdf")
    for name, points in (("first", (595, 842)), ("letter", (612, 792))):
        with pypdfium2.PdfDocument(folder / f"{name}.pdf") as paper:
            assert tuple(round(side) for side in paper[0].get_size()) == points
            text = "".join(page.get_textpage().get_text_range() for page in paper)
        assert all(f"SET {value} N·m" in text for value in ("3.5", "3", "2", "4.5"))
    form = json.loads((folder / "first.json").read_text("utf-8"))
    assert find_form_fault("plan", form) is None
    (plan,) = form["plans"]
    assert (len(plan["settings"]), plan["fewest_bit_changes_proved"]) == (6, True)


def fill_in(browser: Browser, folder: Path) -> tuple[Path, Path]:
    """Fill in every terminal by the mouse and save; then correct one and save again."""
    browser.click("one('who')")
    browser.send("Input.insertText", text="Ines")
    for at in range(browser.run("items.length")):
        name = browser.run(f"JSON.parse(items[{at}].dataset.entry).terminal")
        browser.click(f"items[{at}].querySelector('[value={'loose' if name == LOOSE else 'as_set'}]')")
        browser.click(f"items[{at}].querySelector('[name=done]')")
    assert browser.run("one('done').textContent") == "22 of 22 looked at, 22 set"
    pictures = os.environ.get("TORQUARY_PICTURES")
    if pictures:
        browser.picture(Path(pictures) / "board_at_360.png")
    first = browser.click_to_save("one('save')", folder / "first")
    browser.click("items[0].querySelector('[value=over_tight]')")
    return first, browser.click_to_save("one('save')", folder / "mended")


def take(torquary: Torquary, path: Path) -> str:
    return str(torquary("board", "take", path, "--on", "2033-01-01").stdout)


def check_recall(torquary: Torquary) -> None:
    told = torquary("recall", "Quay House")
    assert told.returncode == 1
    for what, count in (("plan, Quay House, plan of", 3), ("work, Quay House, visit of", 3)):
        assert f"{what} {FIRST}: {count} of " in told.stdout
    assert "2 N·m then, superseded (by hobbletarn_mcb_ed4.pdf" in told.stdout


def visit_again(torquary: Torquary, folder: Path) -> None:
    """A year later, with the plan of that day as a table: one has loosened, one was never looked at."""
    path = folder / "second.csv"
    words = ("plan", BOARDS / "quay_house.csv", "--driver", BOARDS / "td_07.json", "--on", SECOND)
    assert "driver TD-07: due for calibration" in torquary(*words, "-o", path).stdout
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    planned = [row for row in rows if row["state"] == "planned"]
    (printed,) = [row["printed"] for row in planned if row["name"] == LOOSE]
    assert "hobbletarn_mcb_ed4.pdf, Edition 4, page 1" in printed
    for row in planned[1:]:
        found = "loose" if row["name"] == "1.2 F0 | PE" else "as set"
        row.update(found=found, done="yes" if found == "loose" else "no", who="Osk", when=SECOND)
    with path.open("w", encoding="utf-8-sig", newline="") as file:
        writer = csv.DictWriter(file, rows[0].keys())
        writer.writeheader()
        writer.writerows(rows)
    assert take(torquary, path) == "added: 21, of these corrections: 0; there already: 0\n"
    told = torquary("board", "history", "Quay House", "-o", folder / "record.pdf").stdout
    assert f"Quay House, {SECOND} compared with {FIRST}: 1 had loosened, 20 held" in told
    assert "loosened: 1.2 F0 | PE (before: as set, set)" in told
    with pypdfium2.PdfDocument(folder / "record.pdf") as paper:
        last = paper[len(paper) - 1].get_textpage().get_text_range()
    assert "Label for the door" in last
    assert f", {SECOND} by Ines, Osk" in last.replace("\r\n", " ")
