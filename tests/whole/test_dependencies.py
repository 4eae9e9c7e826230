"""What is imported is declared, what is declared is imported, and each declaration has a lowest version that works."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

TOP = Path(__file__).parents[2]
PROJECT = tomllib.loads((TOP / "pyproject.toml").read_text("utf-8"))["project"]
RUN = (TOP / ".ci" / "run").read_text("utf-8")
OWN = {"torquary", "torquary-coded-list"}
CALLED = {"hatchling", "import-linter", "mypy", "pytest-xdist", "ruff"}
"""What the tests and `.ci/run` call, without an import; stubs are for mypy."""


def normal(name: str) -> str:
    """Return a distribution's name as all its spellings are compared (PEP 503)."""
    return re.sub(r"[-_.]+", "-", name).lower()


def names_of(requirements: list[str]) -> set[str]:
    return {normal(re.split(r"[<>=~!\s]", line, maxsplit=1)[0]) for line in requirements}


NEEDED = names_of(PROJECT["dependencies"])
FOR_TESTS = names_of(PROJECT["optional-dependencies"]["test"])
WISHED = names_of([*PROJECT["optional-dependencies"]["cluster"], *PROJECT["optional-dependencies"]["remote"]])
"""What a part of the program needs that not everyone installs."""


def imported_modules(file: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            yield node.module
        elif isinstance(node, ast.Call) and ast.unparse(node.func).endswith(("find_spec", "importorskip")):
            yield from (one.value for one in node.args if isinstance(one, ast.Constant))


def distributions_of(*folders: str) -> set[str]:
    """Return the installed distributions that the modules under the folders import, ours left out."""
    known = packages_distributions()
    files = [file for folder in folders for file in (TOP / folder).rglob("*.py")]
    top = {module.split(".")[0] for file in files for module in imported_modules(file)}
    return {normal(name) for module in top for name in known.get(module, ())} - OWN


def test_what_is_imported_is_declared() -> None:
    """pdfminer.six and OpenCV used to come in with others only, and any of these may drop them."""
    assert distributions_of("schema", "ingest", "catalogue") - NEEDED - WISHED == set()
    assert distributions_of("tests", "sample_sheets") - NEEDED - FOR_TESTS == set()


def test_what_is_declared_is_used() -> None:
    assert (NEEDED | WISHED) - distributions_of("schema", "ingest", "catalogue") == set()
    assert WISHED <= FOR_TESTS
    stubs = {name for name in FOR_TESTS if "stubs" in name or name.startswith("types-")}
    assert FOR_TESTS - distributions_of("tests", "sample_sheets") - stubs - CALLED == set()


def test_the_lowest_versions_are_installed_and_tried() -> None:
    done = subprocess.run(
        [sys.executable, str(TOP / ".ci" / "lowest.py")], capture_output=True, text=True, check=True
    )
    lines = done.stdout.split()
    assert names_of(lines) == NEEDED
    assert all("==" in line for line in lines)
    assert "python3 .ci/lowest.py" in RUN
    for part in re.findall(r"tests/\S+\.py", RUN):
        assert (TOP / part).is_file(), part


@pytest.mark.parametrize("name", ["pdfminer.six", "pdfplumber", "rapidocr"])
def test_what_is_used_from_inside_is_pinned_and_says_why(name: str) -> None:
    text = (TOP / "pyproject.toml").read_text("utf-8")
    assert re.search(rf'    # [^\n]+\n    "{re.escape(name)}==[0-9.]+",\n', text)
