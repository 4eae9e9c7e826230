"""Readers and writers of a catalogue do not turn each other away, and a reader sees whole states only."""

from __future__ import annotations

import lzma
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import duckdb
import pytest

Run = Callable[..., subprocess.CompletedProcess[str]]
Hold = Callable[..., subprocess.Popen[str]]

EARLIER = Path(__file__).parents[1] / "catalogue" / "earlier" / "layout_1.duckdb.xz"

SHEET = "Terminal;Conductor (mm²);Torque (N·m)\n{name};1,5–6;2,5\n"

# Each holds the catalogue until it is told to end, having said that it does.
READING = """
import sys, duckdb
with duckdb.connect(sys.argv[1], read_only=True) as opened:
    print("open", flush=True)
    sys.stdin.readline()
"""
WRITING = """
import sys
from pathlib import Path
from torquary_catalogue.store import open_catalogue
with open_catalogue(Path(sys.argv[1]), writing=True) as opened:
    row = "'d' AS digest, 'half.csv' AS file, 'read' AS state, '' AS title, '' AS maker, '' AS edition, 1 AS pages"
    opened.connection.execute(f"INSERT INTO sheet BY NAME SELECT {row}, now()::TIMESTAMP AS loaded_at")
    print("open", flush=True)
    sys.stdin.readline()
"""


@pytest.fixture
def hold() -> Iterator[Hold]:
    """Start a script that holds the catalogue; all are ended afterwards."""
    held: list[subprocess.Popen[str]] = []

    def start(script: str, catalogue: Path) -> subprocess.Popen[str]:
        process = subprocess.Popen(
            [sys.executable, "-c", script, str(catalogue)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        held.append(process)
        assert process.stdout is not None
        assert process.stdout.readline() == "open\n"
        return process

    yield start
    for process in held:
        process.communicate()


@pytest.fixture
def catalogue(torquary: Run, tmp_path: Path) -> Path:
    """A catalogue that holds one sheet."""
    path = tmp_path / "here.duckdb"
    assert torquary("load", write_sheet(tmp_path, "A1"), "--catalogue", path).returncode == 0
    return path


def write_sheet(folder: Path, name: str) -> Path:
    path = folder / f"{name}.csv"
    path.write_text(SHEET.format(name=name), encoding="utf-8")
    return path


def list_sheets(path: Path) -> set[str]:
    with duckdb.connect(str(path), read_only=True) as opened:
        return {file for (file,) in opened.execute("SELECT file FROM sheet WHERE state = 'read'").fetchall()}


@pytest.mark.skipif(sys.platform == "win32", reason="Windows replaces no open file")
def test_a_reader_that_stays_keeps_no_load_off(torquary: Run, tmp_path: Path, catalogue: Path, hold: Hold) -> None:
    hold(READING, catalogue)
    done = torquary("load", write_sheet(tmp_path, "B1"), "--catalogue", catalogue)
    assert done.returncode == 0, done.stderr
    assert list_sheets(catalogue) == {"A1.csv", "B1.csv"}


def test_who_asks_while_a_writer_is_at_work_is_told_the_last_whole_state(
    torquary: Run, catalogue: Path, hold: Hold
) -> None:
    writer = hold(WRITING, catalogue)
    done = torquary("find", "A1", "--catalogue", catalogue)
    assert done.returncode == 0, done.stderr
    assert list_sheets(catalogue) == {"A1.csv"}
    writer.communicate("\n")
    assert list_sheets(catalogue) == {"A1.csv", "half.csv"}


@pytest.mark.parametrize("exists", [True, False])
def test_a_second_load_waits_for_the_first(tmp_path: Path, catalogue: Path, hold: Hold, exists: bool) -> None:
    path = catalogue if exists else tmp_path / "new.duckdb"
    first = hold(WRITING, path)
    command = str(Path(sys.executable).with_name("torquary"))
    second = subprocess.Popen([command, "load", str(write_sheet(tmp_path, "C1")), "--catalogue", str(path)])
    with pytest.raises(subprocess.TimeoutExpired):
        second.wait(3)
    first.communicate("\n")
    assert second.wait(120) == 0
    assert {"half.csv", "C1.csv"} <= list_sheets(path)


@pytest.mark.skipif(sys.platform == "win32", reason="the lock is POSIX's")
def test_what_another_program_writes_meanwhile_is_not_lost(catalogue: Path, hold: Hold) -> None:
    hold(WRITING, catalogue)
    with pytest.raises(duckdb.IOException, match="lock"):
        duckdb.connect(str(catalogue))


@pytest.mark.skipif(sys.platform == "win32", reason="there is no SIGKILL")
def test_a_killed_writer_leaves_the_catalogue_and_the_next_one_clears_up(
    torquary: Run, tmp_path: Path, catalogue: Path, hold: Hold
) -> None:
    before = catalogue.read_bytes()
    writer = hold(WRITING, catalogue)
    writer.send_signal(signal.SIGKILL)
    writer.wait()
    assert catalogue.read_bytes() == before
    done = torquary("load", write_sheet(tmp_path, "B1"), "--catalogue", catalogue)
    assert done.returncode == 0, done.stderr
    assert list_sheets(catalogue) == {"A1.csv", "B1.csv"}
    assert [path.name for path in tmp_path.iterdir() if "here.duckdb" in path.name] == ["here.duckdb"]


def test_what_a_killed_program_left_in_the_log_is_kept(torquary: Run, tmp_path: Path, catalogue: Path) -> None:
    logged = tmp_path / "logged.duckdb"
    with duckdb.connect(str(catalogue)) as opened:
        opened.execute("SET checkpoint_threshold = '1GB'")
        opened.execute("UPDATE sheet SET file = 'renamed.csv'")
        for end in ("", ".wal"):
            shutil.copyfile(f"{catalogue}{end}", f"{logged}{end}")
    done = torquary("load", write_sheet(tmp_path, "B1"), "--catalogue", logged)
    assert done.returncode == 0, done.stderr
    assert not Path(f"{logged}.wal").exists()
    assert list_sheets(logged) == {"renamed.csv", "B1.csv"}


def test_a_load_that_changes_nothing_leaves_the_file_alone(torquary: Run, tmp_path: Path, catalogue: Path) -> None:
    before = catalogue.stat()
    assert torquary("load", tmp_path / "A1.csv", "--catalogue", catalogue).returncode == 0
    assert (catalogue.stat().st_ino, catalogue.stat().st_mtime_ns) == (before.st_ino, before.st_mtime_ns)


@pytest.mark.skipif(sys.platform == "win32", reason="modes and links are POSIX's")
def test_a_link_to_the_catalogue_and_its_mode_stay(torquary: Run, tmp_path: Path, catalogue: Path) -> None:
    catalogue.chmod(0o660)
    link = tmp_path / "link.duckdb"
    link.symlink_to(catalogue)
    assert torquary("load", write_sheet(tmp_path, "B1"), "--catalogue", link).returncode == 0
    assert link.is_symlink()
    assert os.stat(catalogue).st_mode & 0o777 == 0o660
    assert list_sheets(catalogue) == {"A1.csv", "B1.csv"}


def test_readers_that_meet_a_file_of_an_earlier_version_at_once_are_all_answered(tmp_path: Path, hold: Hold) -> None:
    """One of them brings it up to date; the others wait for it."""
    path = tmp_path / "earlier.duckdb"
    path.write_bytes(lzma.decompress(EARLIER.read_bytes()))
    hold(READING, path)
    command = str(Path(sys.executable).with_name("torquary"))
    words = [command, "find", "Quillhaven", "QB", "Load", "--catalogue", str(path)]
    asking = [
        subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, encoding="utf-8")
        for _ in range(6)
    ]
    told = [process.communicate() for process in asking]
    assert [error for _, error in told] == [""] * 6
    assert len({answer for answer, _ in told}) == 1
    assert "Load 2, 4, 6" in told[0][0]
    assert [one.name for one in tmp_path.iterdir()] == ["earlier.duckdb"]


@pytest.mark.parametrize("count", [20, 50])
def test_many_questions_at_once_during_a_load_are_all_answered(tmp_path: Path, catalogue: Path, count: int) -> None:
    command = str(Path(sys.executable).with_name("torquary"))
    sheets = [str(write_sheet(tmp_path, f"B{number}")) for number in range(6)]
    loading = subprocess.Popen([command, "load", *sheets, "--catalogue", str(catalogue)], stdout=subprocess.DEVNULL)
    question = [command, "find", "A1", "--json", "--catalogue", str(catalogue)]
    asking = [subprocess.Popen(question, stdout=subprocess.PIPE, stderr=subprocess.PIPE) for _ in range(count)]
    told = [process.communicate() for process in asking]
    assert {(process.returncode, error) for process, (_, error) in zip(asking, told, strict=True)} == {(0, b"")}
    assert loading.wait(240) == 0
    assert len(list_sheets(catalogue)) == 7
