"""The examples of the documents, run in a clone: commands after `$ `, and Python programs with what they print.

An example stands in a part of the README between `<!-- output: NAME -->` and `<!-- end output: NAME -->`.
"""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

TOP = Path(__file__).parents[2]
CODE = ("schema", "ingest", "catalogue")
_PART = re.compile(r"<!-- (output: [\w ]+) -->\n(.*?)\n<!-- end \1 -->", re.DOTALL)
_BLOCK = re.compile(r"```(text|python)\n(.*?)```", re.DOTALL)


def make_clone(folder: Path) -> Path:
    """Copy what a clone of this checkout would hold, as it stands in the files now, to a folder that is not there."""
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=TOP, capture_output=True, check=True).stdout.decode("utf-8")
    for name in filter(None, listed.split("\0")):
        if (TOP / name).exists():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(TOP / name, folder / name)
    return folder


def find_parts(text: str) -> dict[str, str]:
    """Return the parts of a document that hold examples, by name, in their order."""
    return {found[1]: found[2].strip("\n") for found in _PART.finditer(text)}


def run_part(part: str, clone: Path) -> str:
    """Return the part with each output as it is now, the examples run in order in the clone.

    RuntimeError for a command that fails: with status 2 or more, or with a word on standard error.
    """
    program = ""

    def show(found: re.Match[str]) -> str:
        nonlocal program
        kind, body = found.groups()
        if kind == "python":
            program = body
            return found[0]
        if program:
            printed, program = _run([sys.executable, "-c", program], clone), ""
        else:
            printed = "\n".join(_show(line, clone) for line in body.splitlines() if line.startswith("$ "))
        return f"```text\n{printed}\n```"

    return _BLOCK.sub(show, part)


def _show(line: str, clone: Path) -> str:
    return f"{line}\n{run_command(line.removeprefix('$ '), clone)}"


def run_command(command: str, clone: Path) -> str:
    """Return what a command line that begins with `torquary` prints in the clone, with the clone's own code."""
    name, *arguments = shlex.split(command)
    if name != "torquary":
        raise RuntimeError(f"{command}: an example calls torquary")
    return _run([str(Path(sys.executable).with_name("torquary")), *arguments], clone)


def _run(command: list[str], clone: Path) -> str:
    environment = {key: value for key, value in os.environ.items() if key != "TORQUARY_CATALOGUE"}
    environment["PYTHONPATH"] = os.pathsep.join(str(clone / folder) for folder in CODE)
    done = subprocess.run(
        command, cwd=clone, env=environment, capture_output=True, text=True, encoding="utf-8", timeout=240
    )
    if done.returncode not in (0, 1) or done.stderr:
        raise RuntimeError(done.stderr or f"exit status {done.returncode}")
    return "\n".join(line.rstrip() for line in done.stdout.strip().splitlines())
