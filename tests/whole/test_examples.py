"""Who follows the documents in a fresh clone gets what they show; the demo leaves its reader a next command."""

from __future__ import annotations

import json
import re
import shlex
import subprocess
from collections.abc import Callable
from pathlib import Path

import click
import pytest

from torquary_catalogue.command import main as group

TOP = Path(__file__).parents[2]
README = (TOP / "README.md").read_text("utf-8")
DEVELOPERS = (TOP / "DEVELOPERS.md").read_text("utf-8")
EXPLAINED = TOP / "sample_sheets" / "explained"
SCRIPTS = re.findall(r"`(?:\.venv/bin/)?python (tests/\S+\.py)([^`]*)`", DEVELOPERS)

Run = Callable[..., subprocess.CompletedProcess[str]]


def test_every_example_of_the_readme_is_one_that_is_run() -> None:
    """test_docs.py runs the parts named output; no command with an output stands outside them."""
    run = re.sub(r"<!-- (output: [\w ]+) -->.*?<!-- end \1 -->", "", README, flags=re.DOTALL)
    assert "<!-- output:" in README
    assert re.findall(r"^\$ .*", run, re.MULTILINE) == []
    assert [kind for kind in re.findall(r"^```(\w+)", run, re.MULTILINE) if kind not in ("sh", "bat")] == []


@pytest.mark.parametrize("text", [README, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_every_command_in_running_text_exists_with_its_options(text: str) -> None:
    assert isinstance(group, click.Group)
    named = [span.split() for span in re.findall(r"`torquary ([^`]*)`", text)]
    assert named
    for name, *rest in named:
        command = group.get_command(click.Context(group), name)
        assert command is not None, name
        if isinstance(command, click.Group) and rest and rest[0].isalpha():
            name, *rest = rest
            command = command.get_command(click.Context(command), name)
            assert command is not None, name
        known = {option for parameter in command.params for option in parameter.opts}
        assert {word for word in rest if word.startswith("--")} <= known, (name, rest)


@pytest.mark.parametrize(("script", "rest"), SCRIPTS)
def test_every_script_that_developers_are_told_of_is_there_with_its_options(script: str, rest: str) -> None:
    text = (TOP / script).read_text("utf-8")
    for option in re.findall(r"--[a-z-]+", rest):
        assert f'"{option}"' in text, (script, option)
    compile(text, script, "exec")


def test_the_profile_shown_is_the_one_that_is_written_filled_in(torquary: Run) -> None:
    done = torquary("profile", EXPLAINED / "quillhaven.csv", "--json")
    written = json.loads(done.stdout)
    written["maker"] = "Quillhaven"
    written["headings"][-1] |= {"means": "torque", "unit": "N·m"}
    assert json.loads((EXPLAINED / "quillhaven.profile.json").read_text("utf-8")) == written


def test_the_demo_ends_with_a_command_that_answers_and_can_be_run_again(torquary: Run, tmp_path: Path) -> None:
    here = tmp_path / "here"
    (here / "torquary.duckdb").write_bytes(b"mine")
    first = torquary("demo", TORQUARY_CATALOGUE=str(here / "torquary.duckdb"))
    assert first.returncode == 0, first.stderr
    program, *words = shlex.split(first.stdout.splitlines()[-1])
    assert Path(program).name == "torquary"
    asked = torquary(*words)
    assert (asked.returncode, asked.stderr) == (0, "")
    assert "N·m" in asked.stdout
    again = torquary("demo")
    # The edition that a later one replaced is not read again.
    assert (again.returncode, "14 loaded, 1 unchanged" in again.stdout) == (0, True)
    assert again.stdout.splitlines()[-1] == first.stdout.splitlines()[-1]
    assert (here / "torquary.duckdb").read_bytes() == b"mine"
    assert sorted(path.name for path in here.iterdir()) == ["demo.duckdb", "torquary.duckdb"]


def test_the_demo_leaves_a_catalogue_of_other_sheets_alone(torquary: Run, tmp_path: Path) -> None:
    sheet = tmp_path / "here" / "quay.csv"
    sheet.write_text("Device,Terminal,Conductor mm²,Torque N·m\nMCB QS,Outgoing,1.5-16,2.5\n", "utf-8")
    torquary("load", "quay.csv", "--catalogue", "demo.duckdb")
    before = torquary("export", "before.jsonl", "--catalogue", "demo.duckdb")
    refused = torquary("demo")
    assert (refused.returncode, refused.stdout) == (2, "")
    assert "holds other sheets (quay.csv)" in refused.stderr
    torquary("export", "after.jsonl", "--catalogue", "demo.duckdb")
    assert before.returncode == 0
    assert sheet.with_name("after.jsonl").read_bytes() == sheet.with_name("before.jsonl").read_bytes()


