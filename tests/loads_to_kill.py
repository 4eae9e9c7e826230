"""Loads that are killed at random moments, and what they leave: whole sheets, as those of an undisturbed load."""

from __future__ import annotations

import os
import random
import signal
import sys
import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from multiprocessing import forkserver
from pathlib import Path

from torquary_catalogue.load import load_sheets
from torquary_catalogue.store import open_catalogue

SAMPLES = Path(__file__).parents[1] / "sample_sheets"
KILLS = int(os.environ.get("TORQUARY_KILLS", "3"))
"""Kills tried of each kind; 200 were, with none that did harm."""
_ON_ONE = 5
"""Loads of one catalogue that are killed before it is completed undisturbed."""
_TABLES = ("setting", "finding", "picture")

Rows = dict[str, list[str]]
"""Digest → all that the catalogue holds of the sheet, but numbers that tell the order in which sheets came."""


def make_sheets(folder: Path, count: int = 12) -> list[Path]:
    """Return `count` short files and a PDF file, which several workers read at once."""
    made = write_sheets(folder, count)
    return [*made[:2], SAMPLES / "orvantzel_spd.pdf", *made[2:]]


def write_sheets(folder: Path, count: int) -> list[Path]:
    """Return `count` short files in a new folder, each of another device and with other figures."""
    folder.mkdir()
    made = []
    for number in range(count):
        made.append(folder / f"sheet_{number:02}.csv")
        rows = (f"T{row};{row};{row / 10 + number / 100:.2f}" for row in range(1, 7))
        lines = (f"Main switch QX {number}", "", "Terminal;Conductor mm²;Torque N·m", *rows)
        made[-1].write_text("\n".join(lines) + "\n", encoding="utf-8")
    return made


class Load:
    """A load in a process of its own, forked from this one: a command that starts anew imports for seconds first."""

    may_end: tuple[int, ...] = (0,)

    def __init__(self, catalogue: Path, sheets: Sequence[Path]) -> None:
        self.status: int | None = None
        self.pid = self._start(catalogue, sheets)

    def _start(self, catalogue: Path, sheets: Sequence[Path]) -> int:
        # A load that is killed while it hands the server a sheet takes it along, which is its own in earnest.
        forkserver.ensure_running()
        pid = os.fork()
        if pid == 0:
            with suppress(BaseException):
                # Workers come from the server of this process, which a fork of it cannot wait for.
                forkserver._forkserver.ensure_running = lambda: None  # type: ignore[attr-defined]
                load_sheets(catalogue, sheets)
                os._exit(0)
            os._exit(1)
        return pid

    def finish(self) -> None:
        while not self.is_over():
            time.sleep(0.05)
        assert self.status in self.may_end

    def is_over(self) -> bool:
        if self.status is None:
            ended, status = os.waitpid(self.pid, os.WNOHANG)
            self.status = os.waitstatus_to_exitcode(status) if ended else None
        return self.status is not None

    def kill(self) -> bool:
        """Kill it; tell whether it was still at work."""
        if self.is_over():
            assert self.status in self.may_end
            return False
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        return True


def read_rows(catalogue: Path) -> Rows:
    """Return what a catalogue that opens holds of each sheet; a refused one gives nothing and is read again."""
    if not catalogue.exists():
        return {}
    with open_catalogue(catalogue) as opened:
        sheets = opened.rows("SELECT * EXCLUDE (loaded_at, number) FROM sheet WHERE state <> 'refused'")
        found: Rows = {row["digest"]: [str(row)] for row in sheets}
        for table in _TABLES:
            left_out = "EXCLUDE (sheet_number)" if table == "setting" else ""
            for row in opened.rows(f"SELECT * {left_out} FROM {table} ORDER BY ALL"):
                found.get(row["sheet"], []).append(str(row))
    return found


class ClusterLoad(Load):
    """A load on a cluster, as its command: a process with Dask in it is not to be forked. It may lose all workers."""

    address: str
    may_end = (0, 2)

    def _start(self, catalogue: Path, sheets: Sequence[Path]) -> int:
        command = str(Path(sys.executable).with_name("torquary"))
        words = [command, "load", *map(str, sheets), "--catalogue", str(catalogue), "--cluster", self.address]
        silent = [(os.POSIX_SPAWN_OPEN, 1, os.devnull, os.O_WRONLY, 0)]
        return os.posix_spawn(command, words, os.environ, file_actions=silent)


def find_workers() -> list[int]:
    """Return the processes that read sheets: children of the server of workers of this process."""
    server = forkserver._forkserver._forkserver_pid  # type: ignore[attr-defined]
    found = []
    for path in Path("/proc").glob("[0-9]*/stat"):
        with suppress(OSError):
            if int(path.read_text().rpartition(") ")[2].split()[1]) == server:
                found.append(int(path.parent.name))
    return found


def try_kills(
    folder: Path, sheets: Sequence[Path], kills: int, start: type[Load] = Load, disturb: Callable[[], int] = lambda: 0
) -> int:
    """Kill loads at random moments until `kills` are killed, and see what they leave; return how many loads it took.

    After some kills of one catalogue the load is completed, which must then give all rows of an undisturbed load.
    `disturb` does other harm while a load goes on, every hundredth of a second, and returns how many kills that were.
    """
    whole = folder / "whole.duckdb"
    load_sheets(whole, sheets)
    began = time.monotonic()
    start(folder / "timed.duckdb", sheets).finish()
    longest = time.monotonic() - began
    wanted, chosen, killed, loads = read_rows(whole), random.Random(20261130), 0, 0
    while killed < kills:
        catalogue = folder / f"killed_{loads}.duckdb"
        for _ in range(min(_ON_ONE, kills - killed)):
            load = start(catalogue, sheets)
            end = time.monotonic() + chosen.uniform(0, longest)
            while not load.is_over() and time.monotonic() < end:
                killed += disturb()
                time.sleep(0.01)
            killed += load.kill()
            loads += 1
            check(read_rows(catalogue), wanted)
        load_sheets(catalogue, sheets)
        found = read_rows(catalogue)
        check(found, wanted)
        assert set(found) == set(wanted)
        leave_nothing(catalogue)
    return loads


def leave_nothing(catalogue: Path) -> None:
    """See that the killed loads left no file beside the catalogue once another one was through; take it away."""
    assert [path.name for path in catalogue.parent.glob(f"{catalogue.name}*")] == [catalogue.name]
    catalogue.unlink()


def check(found: Rows, wanted: Rows) -> None:
    """Each sheet that is there is whole."""
    assert set(found) <= set(wanted)
    for digest, rows in found.items():
        assert rows == wanted[digest]
