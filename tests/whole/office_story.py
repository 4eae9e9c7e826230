"""The story of an office: sheets come, change and go, and at each step every figure that is found is the true one.

    python tests/whole/office_story.py FOLDER
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any
from unittest.mock import patch

from click.testing import CliRunner

from torquary_catalogue import load
from torquary_catalogue.command import main
from torquary_catalogue.find import find, read_question
from torquary_catalogue.store import open_catalogue
from torquary_ingest.reader import ReadSheet

Truth = dict[str, dict[str, str]]
"""Device → "file terminal" → figure in N·m, of what is released."""

NUMBERS = range(101, 141)
DOUBTFUL = range(104, 141, 4)
"""Devices whose PE is printed "1.2 greased", which is held."""

WHO = ("--who", "Ines", "--why", "compared with the paper")
_PAGE = (
    "<html><head><title>{title}</title></head><body><h1>{title}</h1><p>{line}</p><table><tr><th>Terminal</th>"
    "<th>Conductor mm²</th><th>Tightening torque N·m</th></tr>{rows}</table></body></html>"
)
_ROW = "<tr><td>{terminal}</td><td>4</td><td>{torque}</td></tr>"


class Story:
    """An office with its folder, its catalogue and what is true; `told` are the steps so far."""

    def __init__(
        self, folder: Path, say: Callable[[str], None] = lambda line: None, *, whole: bool = False
    ) -> None:
        self.sheets = folder / "sheets"
        self.catalogue = folder / "office.duckdb"
        self.truth: Truth = {}
        self.told: list[str] = []
        self._say = say
        self._whole = whole
        self._before: Truth = {}

    def run(self, *arguments: object) -> str:
        words = [*map(str, arguments), "--catalogue", str(self.catalogue)]
        done = CliRunner().invoke(main, words, catch_exceptions=False)
        assert done.exit_code in (0, 1), done.output
        return done.stdout

    def ask(self, *arguments: object) -> Any:
        return json.loads(self.run(*arguments, "--json"))

    def put(self, name: str, title: str, line: str, **torques: str) -> None:
        rows = "".join(_ROW.format(terminal=terminal, torque=torque) for terminal, torque in torques.items())
        path = self.sheets / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(_PAGE.format(title=title, line=line, rows=rows), "utf-8")

    def check(self, step: str) -> None:
        """Compare every figure that `find` gives with what is true, for every device asked."""
        asked = self._to_ask()
        with open_catalogue(self.catalogue) as opened:
            for device, wanted in asked.items():
                rows = find(opened, read_question(opened, device)).rows
                found = {f"{row.file} {row.terminal_printed}": f"{row.max_nm:f}" for row in rows if row.max_nm}
                assert found == wanted, (step, device, found, wanted)
        count = sum(map(len, asked.values()))
        self.told.append(step)
        self._before = {device: dict(figures) for device, figures in self.truth.items()}
        self._say(f"{step}: {len(asked)} devices asked, {count} figures, all true")

    def _to_ask(self) -> Truth:
        """Return what is true of every device, or if not `whole` of those that a step changed and of each tenth."""
        return {
            device: figures
            for at, (device, figures) in enumerate(self.truth.items())
            if self._whole or at % 10 == len(self.told) % 10 or self._before.get(device) != figures
        }

    def held(self, number: int, terminal: str = "PE") -> str:
        """Return the id of the reading that waits for this device and terminal."""
        device, rows = name_of(number), self.ask("held")["held"]
        (found,) = [
            row["id"] for row in rows if device in row["device_printed"] and row["terminal_printed"] == terminal
        ]
        return str(found)


def name_of(number: int) -> str:
    return f"QB {number}"


def line_of(number: int, edition: int) -> str:
    return f"Document no. QH-10{number} Edition {edition}"


def tell(story: Story) -> None:
    """Go through the years of the office; AssertionError at the first figure that is not true."""
    for step in (
        load_forty, decide_some, note_answers, bring_editions, share_a_name, withdraw_one, read_better, add_a_row,
        take_back, lose_a_file, recall,
    ):  # fmt: skip
        step(story)


def load_forty(story: Story) -> None:
    for number in NUMBERS:
        torques = {"L1": f"{number / 50:.1f}5", "N": "1.8"} | ({"PE": "1.2 greased"} if number in DOUBTFUL else {})
        story.put(f"qb_{number}.html", f"Breaker {name_of(number)}", line_of(number, 3), **torques)
        story.truth[name_of(number)] = {
            f"qb_{number}.html {terminal}": torque for terminal, torque in torques.items() if terminal != "PE"
        }
    told = story.run("load", story.sheets)
    assert told.startswith("40 sheet(s): 40 loaded; settings read: 80 released, 10 held")
    story.check("forty sheets loaded")


def decide_some(story: Story) -> None:
    for number, words, figure in (
        (104, ("accept",), "1.2"), (108, ("correct", "--torque", "1.4 Nm"), "1.4"), (112, ("accept",), "1.2"),
        (116, ("reject",), None), (120, ("correct", "--torque", "1.3 Nm"), "1.3"),
    ):  # fmt: skip
        story.run("decide", story.held(number), *words, *WHO)
        if figure is not None:
            story.truth[name_of(number)][f"qb_{number}.html PE"] = figure
    story.check("five readings decided")


def note_answers(story: Story) -> None:
    for number in (101, 102, 103, 104, 105, 112):
        story.run("find", name_of(number), "--note", f"board {number}")
    assert "all stand as they were" in story.run("recall")
    story.check("six answers noted")


def bring_editions(story: Story) -> None:
    """Of 104 the decided print is the same; of 108 it is another, and waits."""
    for number, torques in (
        (101, {"L1": "2.25", "N": "1.8"}), (104, {"L1": "2.05", "N": "1.8", "PE": "1.2 greased"}),
        (108, {"L1": "2.15", "N": "1.8", "PE": "1.6 greased"}),
    ):  # fmt: skip
        file = f"qb_{number}_ed4.html"
        story.put(file, f"Breaker {name_of(number)}", line_of(number, 4), **torques)
        story.truth[name_of(number)] = {f"{file} {name}": torque for name, torque in torques.items() if name != "PE"}
    story.truth[name_of(104)]["qb_104_ed4.html PE"] = "1.2"
    told = story.run("load", story.sheets)
    assert told.count("replaces 1 other sheet(s)") == 3
    assert told.count("[decision_not_carried]") == 1
    assert "rose: Breaker QB 101 | L1 | 4: 2.05 N·m" in story.run("changes", "qb_101.html", "qb_101_ed4.html")
    story.check("three later editions")
    assert story.run("load", story.sheets).count("not in force") == 3
    story.check("the folder loaded again")


def share_a_name(story: Story) -> None:
    story.put("other/qb_102.html", "Main switch GS 63", "Grobnickel", L1="3.5")
    told = story.run("load", story.sheets / "other")
    assert "[sheet_name_shared]" in told
    story.truth["GS 63"] = {"qb_102.html L1": "3.5"}
    story.check("another maker's file of the same name")


def withdraw_one(story: Story) -> None:
    story.run("sheet", "qb_103.html", "withdraw", *WHO)
    story.truth[name_of(103)] = {}
    story.check("a sheet withdrawn")
    for more in ((), ("--again",)):
        assert "Ines withdrew it on " in story.run("load", story.sheets / "qb_103.html", *more)
        story.check("the withdrawn sheet loaded again")


def read_better(story: Story) -> None:
    """Other ids for all, a row more for 106, PE of 112 for another conductor, a digit more for 105."""
    real = load.read_all

    def read(*arguments: Any) -> Iterator[tuple[Path, ReadSheet]]:
        for path, sheet in real(*arguments):
            yield path, replace(sheet, report=replace(sheet.report, settings=_better(sheet)))

    with patch.object(load, "read_all", read), patch.object(load, "READER_VERSION", load.READER_VERSION + 1):
        story.run("load", story.sheets)
    story.truth[name_of(106)]["qb_106.html A1"] = "1.8"
    story.truth[name_of(105)]["qb_105.html L1"] = "2.154"
    del story.truth[name_of(112)]["qb_112.html PE"]
    story.check("read by a better reader")
    story.run("decide", story.held(112), "accept", *WHO)
    story.truth[name_of(112)]["qb_112.html PE"] = "1.2"
    story.check("what the better reader asked about is decided")


def _better(sheet: ReadSheet) -> tuple[Any, ...]:
    made = []
    for one in sheet.report.settings:
        new = replace(one, id=f"better{one.id[:14]}")
        if sheet.report.file == "qb_112.html" and one.terminal.printed == "PE":
            wide = replace(one.conductor, printed="4–6", max_mm2=Decimal(6))
            new = replace(new, conductor=wide)
        if sheet.report.file == "qb_105.html" and one.terminal.printed == "L1":
            assert one.torque is not None
            figure = Decimal("2.154")
            more = replace(one.torque, printed="2.154", min_nm=figure, nominal_nm=figure, max_nm=figure)
            new = replace(new, torque=more)
        made.append(new)
        if sheet.report.file == "qb_106.html" and one.terminal.printed == "N":
            made.append(replace(new, id="betterA1", terminal=replace(one.terminal, printed="A1", roles=("coil",))))
    return tuple(made)


def add_a_row(story: Story) -> None:
    row = ("--page", 1, "--device", "Breaker QB 107", "--terminal", "PE", "--torque", "1.1 Nm", "--conductor", "4 mm2")
    story.run("add", "qb_107.html", *row, *WHO)
    story.truth[name_of(107)]["qb_107.html PE"] = "1.1"
    story.check("a row added that the reader missed")
    assert "row added, which the reader did not read, by Ines" in story.run("find", "QB 107 PE")


def take_back(story: Story) -> None:
    made = story.ask("decisions")["decisions"]
    rejected = next(one["number"] for one in made if one["kind"] == "reject")
    story.run("decisions", "--undo", rejected, *WHO)
    story.check("a rejection taken back: it waits again")
    story.run("decide", story.held(116), "accept", *WHO)
    story.truth[name_of(116)]["qb_116.html PE"] = "1.2"
    superseded = next(one["number"] for one in made if one["kind"] == "supersede" and one["file"] == "qb_108.html")
    story.run("decisions", "--undo", superseded, *WHO)
    story.truth[name_of(108)] |= {"qb_108.html L1": "2.25", "qb_108.html N": "1.8", "qb_108.html PE": "1.4"}
    story.run("load", story.sheets)
    story.check("an edition taken back: both answer")


def lose_a_file(story: Story) -> None:
    (story.sheets / "qb_109.html").unlink()
    assert story.run("load", story.sheets).count(": gone from ") == 1
    story.check("a file gone from the folder: it answers as before")


def recall(story: Story) -> None:
    """Of the six answers noted those of an edition replaced, a sheet withdrawn and a figure read otherwise."""
    given = story.ask("recall")["given"]
    told = {
        one["what_for"]: sorted({figure["reason"] for figure in one["figures"] if figure["reason"]}) for one in given
    }
    assert told == {
        "board 101": ["superseded"], "board 103": ["withdrawn"], "board 104": ["superseded"], "board 105": ["changed"],
        "board 112": ["changed"],
    }  # fmt: skip
    story.check("what was given out is recalled")


if __name__ == "__main__":
    tell(Story(Path(sys.argv[1]), print, whole=True))
