"""What the documents say is so: commands, findings, outputs, hooks and the two set-up commands."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

from torquary_catalogue.command import main as group
from torquary_ingest.plugins import Extractor, Opener
from torquary_schema.findings import codes

TOP = Path(__file__).parents[2]
README = (TOP / "README.md").read_text("utf-8")
DEVELOPERS = (TOP / "DEVELOPERS.md").read_text("utf-8")
INSTALL = "python3 -m venv .venv && .venv/bin/pip install . --quiet && .venv/bin/torquary demo"
TEST = 'python3 -m venv .venv && .venv/bin/pip install -e ".[test]" --quiet && .venv/bin/pytest -n auto'


@pytest.fixture(scope="module")
def writer() -> ModuleType:
    spec = importlib.util.spec_from_file_location("torquary_write_docs", Path(__file__).with_name("write_docs.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_every_written_part_is_what_would_be_written_now(writer: ModuleType) -> None:
    for name, part in writer.write_parts().items():
        assert f"<!-- {name} -->\n\n{part}\n\n<!-- end {name} -->" in README, f"{name}: run tests/whole/write_docs.py"


def test_every_command_and_finding_is_in_the_readme() -> None:
    assert group.commands or group.list_commands(None)
    for name in group.list_commands(None):
        assert f"| `torquary {name}" in README
    for code in codes():
        assert f"| `{code}` |" in README


def test_every_hook_is_documented() -> None:
    for protocol in (Opener, Extractor):
        members = {name for name in {**vars(protocol), **protocol.__annotations__} if not name.startswith("_")}
        assert len(members) >= 3
        for member in members:
            assert f"`{member}`" in DEVELOPERS or f"`{member}(" in DEVELOPERS, member
    for group_name in ("torquary.openers", "torquary.extractors"):
        assert group_name in DEVELOPERS


def test_the_two_set_up_commands_stand_where_they_are_used() -> None:
    assert f"\n{INSTALL}\n" in README
    assert f"\n{TEST}\n" in README
    assert f"\n{TEST}\n" in DEVELOPERS
    assert f"\n{TEST}\n" in (TOP / ".ci" / "run").read_text("utf-8")


def test_no_path_of_a_machine_is_printed() -> None:
    for text in (README, DEVELOPERS):
        assert not any(mark in text for mark in ("/home/", "/tmp/", "C:\\"))
