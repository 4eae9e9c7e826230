"""Writes into the README what commands really print: outputs, the table of commands, the table of findings.

Each written part stands between `<!-- NAME -->` and `<!-- end NAME -->`.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

import click

sys.path.insert(0, str(Path(__file__).parent))

from examples import find_parts, make_clone, run_part

from torquary_catalogue.command import main as group
from torquary_schema.findings import codes

README = Path(__file__).parents[2] / "README.md"


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
    """Run the README's examples in a clone, in their order, and return each part as it is now."""
    parts = find_parts(README.read_text("utf-8"))
    with TemporaryDirectory() as folder:
        clone = make_clone(Path(folder) / "torquary")
        return {name: run_part(part, clone) for name, part in parts.items()}


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
