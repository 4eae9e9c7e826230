"""Change numbers that decide what is read, released or held, a little, and tell which changes no test notices.

Usage: python tests/bench/changed_constants.py [--count 24] [--seed 1] [--apart-from REPORT] [--only WORD] [--list]

Draws module constants at random and changes each in a copy of the project, downwards and upwards, by the smallest
change that should matter: a count up to 100 by one, everything else by a fifth. Runs the tests that stand beside its
module (`BESIDE`; `--tests` names others) and prints a line for each change, then the sum. A report is what an
earlier run printed: its constants are not drawn again. `--only tables/region.py` or `--only FLUSH` tries, without
drawing, the constants whose address has this in it; `--list` prints all that can be drawn.

Facts (an inch, pi), exit statuses, versions, the plan of a board and what is only for speed are left out, and so are
scans and the witness, whose models take minutes a test. A constant that no test notices may still be noticed by the
whole suite: what is counted is what the tests nearest to it find.
"""

from __future__ import annotations

import argparse
import ast
import importlib
import os
import resource
import shutil
import sys
import tempfile
from collections.abc import Iterator, Sequence
from decimal import Decimal
from functools import cache
from pathlib import Path
from random import Random
from typing import NamedTuple

import pytest

PROJECT = Path(__file__).parents[2]
HOMES = ("schema/torquary_schema", "ingest/torquary_ingest", "catalogue/torquary_catalogue")
INGEST, FIND = "ingest/torquary_ingest/", "catalogue/torquary_catalogue/"

BESIDE = {
    "schema/": "tests/schema",
    INGEST + "checks/": "tests/ingest/checks tests/ingest/test_testify.py",
    INGEST + "clauses/": "tests/ingest/clauses tests/ingest/extractors/test_texts_and_lists.py",
    INGEST + "document/": "tests/ingest/test_cards_of_lines.py tests/ingest/test_cards_side_by_side.py",
    INGEST + "evidence/": "tests/ingest/evidence tests/ingest/test_print_in_a_name_s_place.py",
    INGEST + "extractors/": "tests/ingest/extractors tests/ingest/test_layouts_of_properties.py",
    INGEST + "figures/": "tests/ingest/figures",
    INGEST + "headings/": "tests/ingest/evidence tests/ingest/extractors tests/ingest/profiles",
    INGEST + "normalise/": "tests/ingest/evidence tests/ingest/scope tests/ingest/extractors/test_headed_tables.py",
    INGEST + "openers/delimited/": "tests/ingest/openers/test_delimited_encoding.py "
    "tests/ingest/openers/test_delimited_opener.py",
    INGEST + "openers/pdf/": " ".join(
        f"tests/ingest/openers/test_{name}.py"
        for name in ("pdf_words", "pdf_word_edges", "pdf_visible", "pdf_visible_shares", "pdf_files", "rules_drawn")
    ),
    INGEST + "openers/web_page/": " ".join(
        f"tests/ingest/openers/test_{name}.py"
        for name in ("styles_at_the_edge", "web_page_bad_files", "web_page_hidden_text", "web_page_opener")
    ),
    INGEST + "openers/workbook/": " ".join(
        f"tests/ingest/openers/test_workbook_{name}.py" for name in ("bad_files", "formats", "hidden_text", "opener")
    ),
    INGEST + "printed_claims": "tests/ingest/test_printed_claims.py",
    INGEST + "proposals": "tests/ingest/test_proposals.py",
    INGEST + "scope/": "tests/ingest/scope",
    INGEST + "skeleton/": "tests/ingest/skeleton",
    INGEST + "tables/": "tests/ingest/tables",
    FIND + "find/": "tests/catalogue/test_question_words.py",
    FIND + "store/kinship": "tests/catalogue/test_sheets_in_force.py",
}
"""The tests nearest to a module, by the beginning of its address."""

LEFT_OUT = ("openers/lengths.py", "font_programs.py", "page_words.py", "word_index.py")
HEAVY = ("pdfplumber", "pypdfium2", "duckdb", "pandas", "reportlab.pdfgen.canvas", "lxml.html", "lark", "pint", "numpy",
         "jsonschema", "tinycss2", "cssselect", "openpyxl", "click", "python_calamine")  # fmt: skip
MOST_SECONDS = 240


class Constant(NamedTuple):
    """A module constant: file from the project's root, name, where its number stands (line from 1, columns from 0)."""

    file: str
    name: str
    line: int
    start: int
    end: int
    printed: str

    def __str__(self) -> str:
        return f"{self.file}:{self.name}"


def constants() -> list[Constant]:
    """Return all constants that can be drawn, in the order of their addresses."""
    found: list[Constant] = []
    for home in HOMES:
        for path in sorted((PROJECT / home).rglob("*.py")):
            file = path.relative_to(PROJECT).as_posix()
            if any(map(file.startswith, BESIDE)) and not any(part in file for part in LEFT_OUT):
                found += _constants_of(file, path.read_text())
    return found


def _constants_of(file: str, source: str) -> Iterator[Constant]:
    for statement in ast.parse(source).body:
        if isinstance(statement, ast.Assign):
            target, value = statement.targets[0], statement.value
        elif isinstance(statement, ast.AnnAssign) and statement.value:
            target, value = statement.target, statement.value
        else:
            continue
        pairs = [(target, value)]
        if isinstance(target, ast.Tuple) and isinstance(value, ast.Tuple):
            pairs = list(zip(target.elts, value.elts, strict=True))
        for name, number in pairs:
            while isinstance(number, ast.Call) and getattr(number.func, "id", "") == "Decimal":
                number = number.args[0]
            text = ast.get_source_segment(source, number) or ""
            if isinstance(name, ast.Name) and isinstance(number, ast.Constant) and _is_number(text):
                yield Constant(file, name.id, number.lineno, number.col_offset, number.end_col_offset or 0, text)


def _is_number(text: str) -> bool:
    bare = text.strip("\"'").replace("_", "")
    return bare.replace(".", "", 1).isdigit() and float(bare) > 0


def changes(printed: str) -> tuple[str, str]:
    """Return the number a little smaller and a little larger, as it is printed (`"0.8"` in quotes stays so)."""
    quote = printed[0] if printed[0] in "\"'" else ""
    bare = Decimal(printed.strip("\"'").replace("_", ""))
    if "." not in printed and bare <= 100:
        made = (bare - 1, bare + 1)
    else:
        made = (bare * Decimal("0.8"), bare * Decimal("1.2"))
    whole = "." not in printed and not quote
    return tuple(f"{quote}{int(one) if whole else one}{quote}" for one in made)  # type: ignore[return-value]


def _tests_beside(file: str) -> list[str]:
    """Return the test files of a module, those that import it first: they find a change soonest."""
    named = next((tests for start, tests in BESIDE.items() if file.startswith(start)), "").split()
    paths = [PROJECT / name for name in named]
    files = [found for path in paths for found in (sorted(path.rglob("test_*.py")) if path.is_dir() else [path])]
    module = file.partition("/")[2].removesuffix(".py").replace("/", ".")
    files.sort(key=lambda path: f"{module} import" not in path.read_text())
    return [path.relative_to(PROJECT).as_posix() for path in files]


def try_change(copy: Path, constant: Constant, number: str, tests: Sequence[str]) -> bool:
    """Write the other number into the copy, run the tests there, put it back; True when a test failed."""
    path = copy / constant.file
    kept, times = path.read_bytes(), path.stat()
    lines = kept.decode().splitlines(keepends=True)
    line = lines[constant.line - 1]
    lines[constant.line - 1] = line[: constant.start] + number + line[constant.end :]
    path.write_text("".join(lines))
    try:
        return _tests_fail(copy, tests)
    finally:
        path.write_bytes(kept)
        os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))


@cache
def _pass_unchanged(copy: Path, *tests: str) -> bool:
    return not _tests_fail(copy, tests)


def _tests_fail(copy: Path, tests: Sequence[str]) -> bool:
    """Run tests in a process forked here, so that the libraries are loaded once; one without an end fails."""
    child = os.fork()
    if child:
        return os.waitpid(child, 0)[1] != 0
    status = 70
    try:
        resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS, MOST_SECONDS))
        os.chdir(copy)
        homes = [str(copy / home.split("/")[0]) for home in HOMES]
        os.environ |= {"PYTHONPATH": os.pathsep.join(homes), "PYTHONDONTWRITEBYTECODE": "1"}
        sys.path[:0], sys.dont_write_bytecode = homes, True
        for out in (1, 2):
            os.dup2(os.open(os.devnull, os.O_WRONLY), out)
        status = int(pytest.main(["-q", "-x", "-n", "0", "-p", "no:cacheprovider", *tests]))
    finally:
        os._exit(status)


def _chosen(options: argparse.Namespace) -> list[Constant]:
    every = constants()
    if options.only:
        return [one for one in every if options.only in str(one)]
    if options.list:
        return every
    said = options.apart_from.read_text() if options.apart_from else ""
    before = {word for line in said.splitlines() for word in line.split()}
    left = [one for one in every if str(one) not in before]
    return sorted(Random(options.seed).sample(left, options.count))


def main() -> int:
    options = _options()
    drawn = _chosen(options)
    if options.list:
        print(*(f"{one} {one.printed}" for one in drawn), sep="\n")
        return 0
    for library in HEAVY:
        importlib.import_module(library)
    unnoticed = quiet = tried = 0
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "project"
        shutil.copytree(PROJECT, copy, ignore=shutil.ignore_patterns(".venv", ".git", "rounds", ".*_cache"))
        for constant in drawn:
            tests = options.tests or _tests_beside(constant.file)
            if not _pass_unchanged(copy, *tests):
                print(f"tests fail before anything is changed: {' '.join(tests)}", file=sys.stderr)
                return 1
            missed = 0
            for number in changes(constant.printed):
                noticed = try_change(copy, constant, number, tests)
                print("noticed  " if noticed else "UNNOTICED", constant, constant.printed, "->", number, flush=True)
                missed, tried = missed + (not noticed), tried + 1
            unnoticed, quiet = unnoticed + missed, quiet + (missed == 2)
    print(f"{unnoticed} of {tried} changes went unnoticed; of {len(drawn)} constants {quiet} can be changed both ways")
    return 0


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--count", type=int, default=24)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--apart-from", type=Path)
    parser.add_argument("--only", default="")
    parser.add_argument("--tests", nargs="+", default=[])
    parser.add_argument("--list", action="store_true")
    return parser.parse_args()


if __name__ == "__main__":
    sys.exit(main())
