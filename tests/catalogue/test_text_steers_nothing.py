"""No text of a sheet, a file name or a catalogue steers the terminal or the page: it is shown as what it is."""

from __future__ import annotations

import ast
import json
import sys
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from io import StringIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hostile_text import IGNORABLE, ODD, STEERING, hostile, left_in
from hypothesis import Phase, example, given, settings
from lxml import html
from rich.console import Console
from sheets_by_hand import held, mm2, report, setting

import torquary_catalogue
from torquary_catalogue.command import main
from torquary_catalogue.demo import Demonstration
from torquary_catalogue.find import find, read_question
from torquary_catalogue.load import LoadedSheet, Summary
from torquary_catalogue.show.notice import write_notice
from torquary_catalogue.show.terminal import print_notice
from torquary_catalogue.show.visible import make_visible
from torquary_catalogue.store import open_catalogue
from torquary_catalogue.store.insert import load_report
from torquary_catalogue.store.words import refresh_words
from torquary_schema.values import Device, Finding, SheetReport, Terminal, Torque

STORED = hostile(without="\x00")
"""A NUL byte cannot be stored in the catalogue."""

FEW = settings(max_examples=4, phases=(Phase.explicit, Phase.reuse, Phase.generate))
"""Each example makes a catalogue and runs many commands; one that fails tells enough without being made smaller."""

NAMES = hostile(without="\x00").map(lambda text: text.replace("/", "")).filter(lambda text: len(text.encode()) < 200)


def make_sheet(text: str) -> SheetReport:
    """Return a report with the text in every place that a sheet fills."""
    doubt = Finding(code="unit_missing", message=f"No unit {text} is printed.", printed=text)
    parts: dict[str, Any] = {
        "device": Device(printed=f"Breaker {text}", maker=text, family="mcb", series=text, model=text),
        "terminal": Terminal(printed=f"Outgoing {text}", roles=("load_out",)),
        "place": replace(setting("x").place, text=text),
    }
    figure = Torque(printed=f"2.5 {text}", unit_printed=text, min_nm=None, nominal_nm=None, max_nm=None)
    released = setting("one-1", conductor=replace(mm2("1.5", "16"), printed=f"1.5–16 {text}"), **parts)
    waiting = replace(held("held-1", conductor=mm2("25", "35"), **parts), torque=figure, findings=(doubt,))
    return report(released, waiting, file=f"{text}.pdf", title=text, maker=text, edition=text, findings=(doubt,))


@contextmanager
def harbour(text: str) -> Iterator[Path]:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "harbour.duckdb"
        with open_catalogue(path, writing=True) as catalogue:
            refresh_words(catalogue)
            load_report(catalogue, make_sheet(text), pictures={"held-1": b"\x89PNG"})
        yield path


def run(*arguments: object) -> Result:
    done = CliRunner().invoke(main, [str(one) for one in arguments], catch_exceptions=False)
    assert left_in(done.output) == set(), (arguments, done.output)
    return done


def test_every_character_that_steers_or_does_not_show_is_named() -> None:
    for letter in map(chr, range(sys.maxunicode + 1)):
        if unicodedata.category(letter) in STEERING or letter in IGNORABLE:
            assert left_in(make_visible(f"2{letter}5")) == set(), hex(ord(letter))
        elif letter.isalnum():
            assert make_visible(letter) == letter


def test_what_is_named_can_be_told() -> None:
    assert make_visible("2.5\x1b[3D9.0 \u202e\n\udcff") == "2.5<U+001B>[3D9.0 <U+202E><U+000A><byte FF>"
    assert make_visible("− + ± “2,5” N·m mm² Ω 締付 ½") == "− + ± “2,5” N·m mm² Ω 締付 ½"


@FEW
@given(text=STORED)
@example(text="\x1b[2A\r\x1b[K9.0 N·m")
@example(text="".join(ODD[1:]))
def test_an_answer_shows_its_texts_as_they_are(text: str) -> None:
    with harbour(text) as path:
        for words in (("mcb", "10mm2"), ("mcb", "30mm2"), ("mcb", "50mm2"), ("contactor", text), ("10mm2", text)):
            plain = run("find", *words, "--catalogue", path)
            assert "mcb" not in words or "<U+" in plain.stdout
        told = json.loads(run("find", "mcb", "10mm2", "--json", "--catalogue", path).stdout)
        assert told["rows"][0]["terminal_printed"] == f"Outgoing {text}"
        run("find", "mcb", "10mm2", "--picture", path.with_name("row.png"), "--catalogue", path)


@FEW
@given(text=STORED)
@example(text="\x1b[2A\r\x1b[K9.0 N·m")
@example(text="".join(ODD[1:]))
def test_a_terminal_is_given_no_code_but_those_of_the_style(text: str) -> None:
    with harbour(text) as path, open_catalogue(path) as catalogue:
        for words in ("mcb 10mm2", "mcb 30mm2", f"contactor {text}"):
            shown = StringIO()
            console = Console(file=shown, force_terminal=True, color_system=None, width=300)
            print_notice(write_notice(find(catalogue, read_question(catalogue, words))), console)
            assert left_in(shown.getvalue()) == set()


@FEW
@given(text=STORED)
def test_held_readings_their_page_and_decisions_show_texts_as_they_are(text: str) -> None:
    with harbour(text) as path:
        look = path.with_name("look")
        assert run("held", "--catalogue", path).stdout.count("\n") == 6
        assert json.loads(run("held", "--json", "--catalogue", path).stdout)["held"][0]["file"] == f"{text}.pdf"
        run("held", "--pictures", look, "--catalogue", path)
        assert left_in((look / "held.html").read_text("utf-8")) == set()
        [article] = html.parse(str(look / "held.html")).getroot().findall(".//article")
        printed = json.loads(article.get("data-printed"))
        decisions = {"torquary_decisions": 1, "who": f"O {text}", "why": text, "decisions": [
            {"id": "held-1", "verdict": "correct", "torque": "3 Nm", "printed": printed}]}  # fmt: skip
        file = path.with_name("decisions.json")
        file.write_text(json.dumps(decisions), "utf-8")
        done = run("decide", "--from", file, "--catalogue", path)
        assert done.exit_code == 0, done.output
        run("find", "mcb", "30mm2", "--catalogue", path)


@FEW
@given(text=STORED)
def test_an_export_keeps_the_text_and_its_message_shows_it(text: str) -> None:
    with harbour(text) as path:
        run("export", path.with_name(f"{text}x.csv".replace("/", "")), "--catalogue", path)
        run("export", path.with_name("out.jsonl"), "--catalogue", path)
        first = json.loads(path.with_name("out.jsonl").read_text("utf-8").split("\n")[0])
        assert first["terminal"]["printed"] == f"Outgoing {text}"


@FEW
@given(text=hostile(without="\x00"))
def test_wrong_use_shows_what_was_typed_as_it_is(text: str) -> None:
    with TemporaryDirectory() as folder:
        missing = Path(folder) / text.replace("/", "")
        for words in (
            (text,), (f"--{text}",), ("find", f"--{text}", "x"), ("export", "x", "y", text),
            ("export", "x", "--format", text),
            ("read", missing), ("load", missing), ("tables", missing), ("profile", missing),
            ("find", "mcb", "--catalogue", missing), ("find", "mcb", "--unit", text), ("held", "--catalogue", missing),
            ("decide", text, "accept", "--who", "O", "--why", "x", "--catalogue", missing), ("decide", text, text),
            ("decide", "--from", missing), ("demo", "--catalogue", Path(folder) / text.replace("/", "") / "x"),
        ):  # fmt: skip
            assert run(*words).exit_code in (2, 3), words


@settings(FEW, max_examples=2)
@given(name=NAMES, text=hostile(without='\x00\r\x85\u2028"').map(lambda text: text.replace(",", "")))
def test_reading_sheets_shows_names_and_texts_as_they_are(name: str, text: str) -> None:
    with TemporaryDirectory() as folder:
        here = Path(folder)
        sheet = here / f"{name}.csv"
        head = (f"Maker {text}", f"Device,Terminal,Conductor mm²,Torque N·m,Q{text}x")
        rows = (f"MCB {text},L{text},1.5-16,2.5,1", "MCB,N,1.5-16,7 lbs,1")
        sheet.write_text("\n".join((*head, *rows)), "utf-8")
        run("read", sheet)
        run("read", sheet, "--json")
        run("tables", sheet)
        run("tables", sheet, "--json")
        run("profile", sheet, "--to", here / f"{name}.json")
        run("profile", sheet, "--json")
        for _ in range(2):
            run("load", sheet, "--catalogue", here / "new.duckdb")
        (here / f"{name}.pdf").write_bytes(b"no sheet")
        run("load", here, "--json", "--catalogue", here / "new.duckdb")


@given(text=hostile())
def test_the_demo_and_the_list_of_plug_ins_show_texts_as_they_are(text: str) -> None:
    sheet = LoadedSheet(file=text, digest=text, outcome="refused", findings=make_sheet(text).findings)
    summary = Summary(sheets=(sheet,), held=(), unread=(text,))
    plugin = type("Plugin", (), {"name": text, "origin": text, "fault": text, "made": None})()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("torquary_catalogue.demo.demonstrate", lambda path: Demonstration(summary=summary, answers=()))
        patch.setattr("torquary_ingest.registry.find_plugins", lambda group: [plugin])
        for more in ((), ("--json",)):
            run("demo", "--catalogue", text.replace("\x00", ""), *more)
            run("extractors", *more)


def test_a_file_name_makes_no_line_of_its_own(tmp_path: Path) -> None:
    sheet = tmp_path / "a\nb.csv: loaded, 5 released, 0 held"
    sheet.write_text("Terminal,Torque N·m\nL1,2.5\n", "utf-8")
    done = run("load", sheet, "--catalogue", tmp_path / "new.duckdb")
    assert not any(line.startswith("b.csv") for line in done.stdout.splitlines())
    assert "a<U+000A>b.csv" in done.stdout


def test_text_leaves_by_one_door() -> None:
    """Nothing but show/visible.py prints; rich consoles are opened where a terminal is drawn on."""
    top = Path(torquary_catalogue.__file__).parent
    doors: dict[str, set[str]] = {}
    for file in top.rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            called = node.func if isinstance(node, ast.Call) else None
            name = called.attr if isinstance(called, ast.Attribute) else getattr(called, "id", "")
            if name in ("echo", "secho", "print", "Console", "style", "echo_via_pager"):
                doors.setdefault(name, set()).add(file.relative_to(top).as_posix())
    assert doors == {
        "echo": {"show/visible.py"},
        "print": {"show/terminal.py"},
        "Console": {"show/terminal.py", "command/progress.py"},
    }
