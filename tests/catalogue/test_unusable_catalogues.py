"""A catalogue that cannot be used is one line and status 3, whatever is wrong with it, and is left as it is."""

from __future__ import annotations

import os
import random
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

import duckdb
import pytest
from click.testing import CliRunner, Result
from sheets_by_hand import report, setting

from torquary_catalogue import load
from torquary_catalogue.command import main
from torquary_catalogue.store import open_catalogue
from torquary_catalogue.store.faults import explain
from torquary_catalogue.store.insert import load_report
from torquary_catalogue.store.layout import LAYOUT
from torquary_catalogue.store.words import refresh_words
from torquary_ingest.reader import ReadSheet

COMMANDS = (
    ("find", "mcb"),
    ("held",),
    ("export", "out.csv"),
    ("export", "out.jsonl"),
    ("export", "out.parquet"),
    ("decide", "a1a1", "reject", "--who", "x", "--why", "y"),
)


def ask(*words: str, catalogue: Path) -> Result:
    """Run a command in this process; a traceback would be raised."""
    return CliRunner().invoke(main, [*words, "--catalogue", str(catalogue)], catch_exceptions=False)


def make(path: Path) -> Path:
    with open_catalogue(path, writing=True) as opened:
        refresh_words(opened)
        load_report(opened, report(setting("a1a1a1"), setting("b2b2b2", state="held")))
    return path


def make_foreign(path: Path) -> None:
    with duckdb.connect(str(path)) as opened:
        opened.execute("CREATE TABLE letters (text VARCHAR)")


def make_sqlite(path: Path) -> None:
    opened = sqlite3.connect(path)
    opened.execute("CREATE TABLE letters (text TEXT)")
    opened.commit()
    opened.close()


def make_newer(path: Path) -> None:
    make(path)
    with duckdb.connect(str(path)) as opened:
        opened.execute("UPDATE catalogue_format SET version = ?", [LAYOUT + 1])


def make_newer_storage(path: Path) -> None:
    """Raise the number of the storage version in DuckDB's header, and its checksum with it, as a later one would."""
    make_foreign(path)
    content = bytearray(path.read_bytes())
    content[12] = 250
    path.write_bytes(content)


def make_cut(path: Path) -> None:
    make(path)
    path.write_bytes(path.read_bytes()[:20000])


def make_empty(path: Path) -> None:
    path.touch()


def make_pipe(path: Path) -> None:
    if sys.platform == "win32":
        pytest.skip("there are no named pipes")
    os.mkfifo(path)


UNUSABLE: tuple[tuple[Callable[[Path], None], str], ...] = (
    (make_foreign, "not a torquary catalogue"),
    (make_sqlite, "not a catalogue"),
    (make_newer, "update torquary"),
    (make_newer_storage, "passing.duckdb"),
    (make_cut, "damaged"),
    (make_empty, "is empty"),
    (make_pipe, "a device or a pipe"),
)


@pytest.mark.parametrize(("spoil", "said"), UNUSABLE, ids=lambda one: getattr(one, "__name__", ""))
def test_what_is_no_usable_catalogue_is_said_in_one_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, spoil: Callable[[Path], None], said: str
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "sheet.csv").write_text("Terminal;Torque (N·m)\nL1;2,5\n", encoding="utf-8")
    path = tmp_path / "passing.duckdb"
    spoil(path)
    before = path.read_bytes() if path.is_file() else b""
    for words in (*COMMANDS, ("load", "sheet.csv")):
        done = ask(*words, catalogue=path)
        assert (done.exit_code, done.output.count("\n")) == (3, 1), (words, done.output)
        assert said in done.output
    assert (path.read_bytes() if path.is_file() else b"") == before


def test_damage_anywhere_in_the_file_is_one_line_or_does_no_harm(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    whole = make(tmp_path / "whole.duckdb").read_bytes()
    proper = {words: ask(*words, catalogue=tmp_path / "whole.duckdb") for words in COMMANDS[:2]}
    chance = random.Random(20)
    refused = 0
    for place in range(4096 + 5, len(whole), len(whole) // 24):
        spoiled = bytearray(whole)
        for near in range(place, min(place + 65536, len(whole)), 512):
            spoiled[near] ^= 1 << chance.randrange(8)
        path = tmp_path / f"{place}.duckdb"
        path.write_bytes(spoiled)
        for words in COMMANDS:
            done = ask(*words, catalogue=path)
            refused += done.exit_code == 3
            if done.exit_code == 3:
                assert done.output.count("\n") == 1, done.output
            elif words in proper:
                assert (done.exit_code, done.output) == (proper[words].exit_code, proper[words].output)
        path.unlink()
    assert refused


def test_a_catalogue_made_read_only_is_asked_and_not_written(tmp_path: Path) -> None:
    path = make(tmp_path / "kept.duckdb")
    before = path.read_bytes()
    path.chmod(0o444)
    assert ask("find", "mcb", catalogue=path).exit_code in (0, 1)
    done = ask(*COMMANDS[-1], catalogue=path)
    assert (done.exit_code, done.output.count("\n")) == (3, 1)
    assert "read-only" in done.output
    assert path.read_bytes() == before


@pytest.mark.skipif(sys.platform == "win32", reason="limits of files are POSIX's")
@pytest.mark.parametrize("bytes_left", [0, 1 << 20])
def test_a_full_disk_is_one_line_and_leaves_the_catalogue(tmp_path: Path, bytes_left: int) -> None:
    path = make(tmp_path / "full.duckdb")
    before = path.read_bytes()
    # A limit on the size of files stands for the disk: the system refuses to write on in the same way.
    limit = bytes_left or len(before)
    script = (
        "import resource, sys\n"
        f"resource.setrlimit(resource.RLIMIT_FSIZE, ({limit}, {limit}))\n"
        "from torquary_catalogue.command import main\n"
        "main(sys.argv[1:])\n"
    )
    words = [*COMMANDS[-1], "--catalogue", str(path)]
    done = subprocess.run([sys.executable, "-c", script, *words], capture_output=True, text=True, timeout=240)
    assert (done.returncode, done.stderr.count("\n")) == (3, 1), done.stderr
    assert "no room" in done.stderr
    assert path.read_bytes() == before
    assert [one.name for one in tmp_path.iterdir()] == ["full.duckdb"]


@pytest.mark.parametrize(
    ("fault", "said"),
    [
        (duckdb.FatalException("FATAL Error: database has been invalidated\nstack trace"), "damaged"),
        (duckdb.InternalException("INTERNAL Error: attempted to access index 3\n0: frame"), "damaged"),
        (duckdb.IOException("IO Error: Corrupt database file: checksum of block 7 does not match"), "damaged"),
        (duckdb.IOException("IO Error: Could not set lock on file: Conflicting lock is held"), "another program"),
        (duckdb.OutOfMemoryException("Out of Memory Error: failed to allocate"), "memory"),
        (OSError(28, "No space left on device"), "no room"),
        (OSError(30, "Read-only file system"), "permissions"),
    ],
)
def test_each_fault_of_the_store_becomes_one_line(tmp_path: Path, fault: Exception, said: str) -> None:
    error = explain(tmp_path / "some.duckdb", fault)
    assert error.status == 3
    assert "some.duckdb" in error.message
    assert said in error.message
    assert "\n" not in error.message


@pytest.mark.skipif(sys.platform == "win32", reason="names are Unicode there")
@pytest.mark.parametrize(
    "words", [("find", "\udcff"), ("held", "--catalogue", "x\udcff.duckdb"), ("load", "\udcff.csv")]
)
def test_an_argument_that_is_not_utf_8_is_wrong_use(words: tuple[str, ...]) -> None:
    done = CliRunner().invoke(main, list(words), catch_exceptions=False)
    assert done.exit_code == 2
    assert r"\xff" in done.output.splitlines()[-1]


def test_a_sheet_that_cannot_be_stored_costs_itself_only(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    names = ("first.csv", "odd.csv", "last.csv")
    paths = [tmp_path / name for name in names]
    for path in paths:
        path.write_text(path.name, encoding="utf-8")
    # Text of a damaged file may hold half a character.
    titles = dict(zip(names, ("First", "half \ud83d", "Last"), strict=True))

    def read(unread: Mapping[Path, object], *_: object) -> Iterator[tuple[Path, ReadSheet]]:
        for path in unread:
            made = report(setting(path.stem), file=path.name, digest=path.stem, title=titles[path.name])
            yield path, ReadSheet(report=made)

    monkeypatch.setattr(load, "read_all", read)
    summary = load.load_sheets(tmp_path / "some.duckdb", paths)
    assert [sheet.outcome for sheet in summary.sheets] == ["loaded", "refused", "loaded"]
    assert [finding.code for finding in summary.sheets[1].findings] == ["sheet_not_stored"]
    with open_catalogue(tmp_path / "some.duckdb") as opened:
        states = {row["file"]: row["state"] for row in opened.rows("SELECT file, state FROM sheet")}
    assert states == {"first.csv": "read", "odd.csv": "refused", "last.csv": "read"}
