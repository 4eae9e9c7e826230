"""Tell what it costs to load one sheet of four rows among many, in processor time, and how much two workers gain.

Usage: python tests/bench/load_time.py [--there N] [--more N] [--rounds N] [--seed N]

Loads `--there` CSV sheets that it makes, then times `torquary load` of `--more` others into the same catalogue, with
one processor and with two; what is told for a sheet is the processor time of all that the command starts, divided
by the sheets. Linux only: the command's servers are waited for as orphans.
"""

from __future__ import annotations

import argparse
import ctypes
import os
import random
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from measured import Measure, write_measures

BAR, GAIN = 0.060, 1.7
"""Seconds of processor time for a sheet, and times as fast with two workers as with one, by the clock."""

_ADOPT_ORPHANS = 36
"""PR_SET_CHILD_SUBREAPER of prctl(2)."""

_KINDS = ("Main switch", "Breaker", "Residual-current device")


def make_sheets(folder: Path, count: int, seed: int) -> None:
    """Write `count` delimited sheets of four rows, each of a device of its own."""
    dice = random.Random(seed)
    folder.mkdir(exist_ok=True)
    for number in range(count):
        device = f"{dice.choice(_KINDS)} QX {seed}{number:05}"
        rows = [f"{name};{dice.choice((1.5, 4, 10))};{dice.randint(8, 45) / 10}" for name in ("L1", "L2", "N", "PE")]
        lines = [device, "", "Terminal;Conductor mm²;Torque N·m", *rows]
        (folder / f"sheet_{seed}_{number:05}.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")


def load(catalogue: Path, folder: Path, processors: int) -> tuple[float, float]:
    """Return the seconds by the clock and of processor time that `torquary load` of the folder takes."""
    torquary = str(Path(sys.executable).with_name("torquary"))
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.monotonic()
    free = sorted(os.sched_getaffinity(0))
    asked = [torquary, "load", str(folder), "--catalogue", str(catalogue)]
    with subprocess.Popen(
        asked, stdout=subprocess.DEVNULL, preexec_fn=lambda: os.sched_setaffinity(0, free[:processors])
    ) as running:
        running.wait()
        clock = time.monotonic() - start
    while True:
        try:
            os.wait()
        except ChildProcessError:
            break
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return clock, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def measure(there: int, more: int, rounds: int, seed: int) -> list[Measure]:
    """Load and measure; a round is one load with one processor and one with two, of the same sheets."""
    ctypes.CDLL(None).prctl(_ADOPT_ORPHANS, 1, 0, 0, 0)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        make_sheets(folder / "there", there, seed)
        make_sheets(folder / "more", more, seed + 1)
        load(folder / "first.duckdb", folder / "there", 2)
        one, two = [], []
        for _ in range(rounds):
            for took, processors in ((one, 1), (two, 2)):
                shutil.copyfile(folder / "first.duckdb", folder / "now.duckdb")
                took.append(load(folder / "now.duckdb", folder / "more", processors))
    sheet = statistics.median(cpu for _, cpu in two) / more
    gain = statistics.median(alone[0] / both[0] for alone, both in zip(one, two, strict=True))
    what = f"one CSV of four rows, of {more} loaded among {there}"
    return [
        Measure(what=what, against="processor time", value=sheet, bar=BAR, unit="s"),
        Measure(what="load with two processors", against="with one, by the clock", value=gain, bar=GAIN, least=True),
    ]


def main() -> int:
    """Measure and print; exit status 1 where a bar is missed."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--there", type=int, default=2000)
    parser.add_argument("--more", type=int, default=200)
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--seed", type=int, default=3)
    return write_measures(measure(**vars(parser.parse_args())))


if __name__ == "__main__":
    sys.exit(main())
