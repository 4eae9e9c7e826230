"""Writes into the README what commands really print: outputs, the table of commands, the table of findings.

Each written part stands between `<!-- NAME -->` and `<!-- end NAME -->`.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

import click

from torquary_catalogue.command import main as group
from torquary_schema.findings import codes

TOP = Path(__file__).parents[2]
README = TOP / "README.md"
SHEETS = ("hobbletarn_mcb_ed4.pdf", "orvantzel_spd.pdf", "zwirbelhorn_schutzgeraete.pdf")
FIND = (("spd", "earth", "16mm2"), ("mcb", "50mm2", "outgoing"))
HOUSE = "Quillhaven Schaltgeräte\nReihenschalter QS\nKlemme;Leiter mm²;Mz.\nL1;1,5-6;2,5\nN;1,5-6;2,0\n"
TOOL = """\
import duckdb

with duckdb.connect("torquary.duckdb", read_only=True) as catalogue:
    for row in catalogue.execute(
        "SELECT terminal_printed, conductor_printed, round(nominal_nm, 4), file, page FROM current_setting "
        "WHERE family = 'spd' AND state = 'released' ORDER BY number"
    ).fetchall():
        print(*row, sep=" | ")
"""


def write_commands() -> str:
    """Return the table of commands, from click."""
    assert isinstance(group, click.Group)
    context = click.Context(group)
    lines = ["| command | does |", "| --- | --- |"]
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        assert command is not None
        usage = " ".join(command.collect_usage_pieces(click.Context(command))).replace("|", "\\|")
        lines.append(f"| `torquary {name} {usage}` | {command.get_short_help_str(200)} |")
    return "\n".join(lines)


def write_findings() -> str:
    """Return the table of finding codes, from the file of codes."""
    lines = ["| code | holds | means |", "| --- | --- | --- |"]
    for code in codes().values():
        means = code.meaning.replace("|", "\\|")
        lines.append(f"| `{code.key}` | {'holds' if code.holds else ''} | {means} |")
    return "\n".join(lines)


def write_outputs() -> dict[str, str]:
    """Run the commands in a folder of their own and return what they print."""
    with TemporaryDirectory() as folder:
        here = Path(folder)
        (here / "sheets").mkdir()
        for name in SHEETS:
            shutil.copy(TOP / "sample_sheets" / name, here / "sheets")
        load = _show(here, "load", "sheets")
        find = "\n\n".join(_show(here, "find", *words) for words in FIND)
        told = _run(here, [sys.executable, "-c", TOOL])
        profile = _explain_heading(here)
    tool = f"```python\n{TOOL}```\n\nprints\n\n```text\n{told}\n```"
    return {"output: load": load, "output: profile": profile, "output: find": find, "output: tool": tool}


def _explain_heading(here: Path) -> str:
    """List the headings of a sheet, fill in the unknown one as its user does, and load the sheet with it."""
    (here / "quillhaven.csv").write_text(HOUSE, encoding="utf-8")
    listed = _show(here, "profile", "quillhaven.csv")
    target = here / "quillhaven.profile.json"
    profile = json.loads(target.read_text("utf-8"))
    profile["maker"] = "Quillhaven"
    profile["headings"][-1] |= {"means": "torque", "unit": "N·m"}
    target.write_text(json.dumps(profile, ensure_ascii=False), encoding="utf-8")
    loaded = _show(here, "load", "--profile", target.name, "quillhaven.csv")
    return listed.removesuffix("```") + loaded.removeprefix("```text\n")


def _show(here: Path, *arguments: str) -> str:
    command = Path(sys.executable).with_name("torquary")
    return f"```text\n$ torquary {' '.join(arguments)}\n{_run(here, [str(command), *arguments])}\n```"


def _run(here: Path, command: list[str]) -> str:
    environment = {key: value for key, value in os.environ.items() if key != "TORQUARY_CATALOGUE"}
    done = subprocess.run(
        command, cwd=here, env=environment, capture_output=True, text=True, encoding="utf-8", timeout=240
    )
    if done.returncode not in (0, 1) or done.stderr:
        raise RuntimeError(done.stderr or f"exit status {done.returncode}")
    return "\n".join(line.rstrip() for line in done.stdout.strip().splitlines())


def write_parts() -> dict[str, str]:
    """Return every written part of the README by name."""
    return {**write_outputs(), "commands": write_commands(), "findings": write_findings()}


def put_part(text: str, name: str, part: str) -> str:
    """Return the text with the part in its place; ValueError when there is none."""
    begin, end = f"<!-- {name} -->", f"<!-- end {name} -->"
    pattern = re.escape(begin) + rf"(?:.*?{re.escape(end)})?"
    found = re.search(pattern, text, re.DOTALL)
    if found is None:
        raise ValueError(f"the README has no place for {name}")
    return f"{text[: found.start()]}{begin}\n\n{part}\n\n{end}{text[found.end() :]}"


def main() -> None:
    """Write the README."""
    text = README.read_text("utf-8")
    for name, part in write_parts().items():
        text = put_part(text, name, part)
    README.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
