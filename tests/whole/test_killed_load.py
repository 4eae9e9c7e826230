"""A load that is killed leaves the catalogue as it was before the sheet it was at."""

from __future__ import annotations

import csv
import os
import random
import signal
import subprocess
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest
from loads_to_kill import KILLS, find_workers, make_sheets, try_kills

Run = Callable[..., subprocess.CompletedProcess[str]]

SHEET = "Terminal;Conductor (mm²);Torque (N·m)\n{rows}"

# Kills itself inside the transaction, when the rows of new sheets are in and not yet committed.
KILL_HALF_WAY = """
import os, signal, sys
from pathlib import Path
from torquary_catalogue.load import load_sheets
from torquary_catalogue.store import insert, insert_new

real = insert.insert_read

def insert_and_die(catalogue, reports, reader):
    real(catalogue, reports, reader)
    if any(report.file == "second.csv" for report in reports):
        os.kill(os.getpid(), signal.SIGKILL)

insert.insert_read = insert_new.insert_read = insert_and_die
catalogue, *sheets = map(Path, sys.argv[1:])
load_sheets(catalogue, sheets)
"""

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="there is no SIGKILL")


def write_sheet(path: Path, rows: int) -> Path:
    lines = "".join(f"T{n};{n};{n / 10:.1f}\n" for n in range(1, rows + 1))
    path.write_text(SHEET.format(rows=lines), encoding="utf-8")
    return path


def count(torquary: Run, catalogue: Path) -> dict[str, int]:
    """Return the number of settings by sheet, told by an export."""
    out = catalogue.with_suffix(".csv")
    done = torquary("export", out, "--catalogue", catalogue)
    assert done.returncode == 0, done.stderr
    found: dict[str, int] = {}
    with out.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            found[row["file"]] = found.get(row["file"], 0) + 1
    return found


def test_a_load_killed_inside_the_write_leaves_what_was_there_before(torquary: Run, tmp_path: Path) -> None:
    catalogue = tmp_path / "here.duckdb"
    names = ("first", "second", "third")
    sheets = [write_sheet(tmp_path / f"{name}.csv", 8 + n) for n, name in enumerate(names)]
    assert torquary("load", sheets[0], "--catalogue", catalogue).returncode in (0, 1)
    killed = subprocess.run([sys.executable, "-c", KILL_HALF_WAY, str(catalogue), *map(str, sheets)], timeout=120)
    assert killed.returncode == -signal.SIGKILL
    assert count(torquary, catalogue) == {"first.csv": 8}
    assert torquary("load", *sheets, "--catalogue", catalogue).returncode in (0, 1)
    assert count(torquary, catalogue) == {"first.csv": 8, "second.csv": 9, "third.csv": 10}


def test_loads_killed_at_random_moments_leave_whole_sheets_only(tmp_path: Path) -> None:
    """Several workers read at once."""
    assert try_kills(tmp_path, make_sheets(tmp_path / "sheets"), KILLS) >= KILLS


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="workers are found in /proc")
def test_workers_killed_at_random_moments_cost_their_sheets_only(tmp_path: Path) -> None:
    """A killed worker's sheet is refused by name, and read by the next load."""
    chosen = random.Random(20261201)

    def kill_a_worker() -> int:
        workers = find_workers() if chosen.random() < 0.1 else []
        with suppress(ProcessLookupError, IndexError):
            os.kill(chosen.choice(workers), signal.SIGKILL)
            return 1
        return 0

    assert try_kills(tmp_path, make_sheets(tmp_path / "sheets"), KILLS, disturb=kill_a_worker)
