"""How long `torquary find` takes among many settings: cold, beside bare DuckDB that fetches the same rows, and warm.

Processor time, which other programs on the machine change less than the clock.

Run: python tests/bench/find_among_many.py [CATALOGUE [ROUNDS]], with one that `many_settings.py` made; without one
of 1,000 settings is made.
The two take turns, so that whatever else the machine does falls on both. Ends with status 1 above a limit.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from many_settings import MAKERS, TYPES, fill

from torquary_catalogue.find import find, read_question
from torquary_catalogue.find.query import ask
from torquary_catalogue.store import open_catalogue

COLD, MEMORY = 1.5, 300
"""Times as long as bare, and megabytes at the peak, at most."""
MEDIAN, SLOWEST = 0.030, 0.100
"""Seconds of a warm question at most: half of them, and all but one in a hundred."""
FEW = 1_000
"""Settings of an office's first catalogue."""


def choose_questions(sheets: int) -> tuple[str, ...]:
    """Return ten kinds of question to a catalogue of so many sheets: types, makers and files that it has.

    With and without terminal, maker, size; another system, outside, and an unknown type.
    """
    types = min(sheets, TYPES)
    one, *more = (number % types for number in (1234, 77, 4999, 12, 2500, 801))
    neutral, earth, aux, outside, gauge = (f"QX{number}" for number in more)
    return (
        f"QX{one} 10mm2 outgoing",
        f"QX{one} 10mm2",
        f"Ovrel{one % MAKERS} QX{one} outgoing",
        f"{neutral} neutral 6mm2",
        f"{earth} earth",
        f"{aux} aux 1mm2",
        f"{outside} 100mm2 outgoing",
        f"{gauge} AWG 8 line",
        f"sheet-{4321 % sheets} 10mm2",
        "QX99999 10mm2 outgoing",
    )


BARE = """
import duckdb, sys
catalogue = duckdb.connect(sys.argv[1], read_only=True)
sheets, ids = ({key.split("/")[at] for key in sys.argv[2:]} for at in (0, 1))
marks = [", ".join("?" * len(part)) or "NULL" for part in (sheets, ids)]
asked = "SELECT * FROM setting WHERE sheet IN ({}) AND id IN ({})".format(*marks)
catalogue.execute(asked, [*sheets, *ids]).fetchall()
"""


@dataclass(frozen=True, slots=True)
class Took:
    """Seconds of processor time and megabytes at the peak."""

    seconds: float
    megabytes: float


def run(command: list[str]) -> Took:
    """Return what a command takes."""
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL)
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    return Took(used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)


def measure_cold(path: Path, asked: str, rounds: int) -> tuple[float, float, float]:
    """Return the medians of bare and find in seconds, and the peak of find in megabytes."""
    with open_catalogue(path) as catalogue:
        rows = ask(catalogue, read_question(catalogue, asked))
    keys = [f"{row.sheet}/{row.id}" for row in rows]
    bare = [sys.executable, "-c", BARE, str(path), *keys]
    find_it = [str(Path(sys.executable).with_name("torquary")), "find", *asked.split(), "--catalogue", str(path)]
    pairs = [(run(bare), run(find_it)) for _ in range(rounds)]
    times = [statistics.median(one.seconds for one in side) for side in zip(*pairs, strict=True)]
    return times[0], times[1], max(found.megabytes for _, found in pairs)


def measure_warm(path: Path, questions: Sequence[str], rounds: int) -> list[float]:
    """Return the seconds of each question, asked in turn on one connection, the first round left out."""
    times = []
    with open_catalogue(path) as catalogue:
        for number in range(rounds + 1):
            for asked in questions:
                start = time.process_time()
                find(catalogue, read_question(catalogue, asked))
                if number:
                    times.append(time.process_time() - start)
    return sorted(times)


def main() -> int:
    """Measure the catalogue named, or one that is made; return the exit status."""
    if len(sys.argv) > 1:
        return measure_all(Path(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 5)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "few.duckdb")
        with open_catalogue(path, writing=True) as catalogue:
            fill(catalogue, FEW)
        return measure_all(path, 5)


def measure_all(path: Path, rounds: int) -> int:
    """Measure and print a table in Markdown; return the exit status."""
    with open_catalogue(path) as catalogue:
        questions = choose_questions(catalogue.rows("SELECT count(*) AS sheets FROM sheet")[0]["sheets"])
    print("| question | bare s | find s | ratio | peak MB |\n|---|---|---|---|---|")
    good = True
    for asked in questions:
        bare, took, peak = measure_cold(path, asked, rounds)
        good = good and took <= COLD * bare and peak <= MEMORY
        print(f"| {asked} | {bare:.3f} | {took:.3f} | {took / bare:.2f} | {peak:.0f} |", flush=True)
    warm = measure_warm(path, questions, rounds)
    median, slowest = statistics.median(warm), warm[min(len(warm) - 1, len(warm) * 99 // 100)]
    print(f"\nwarm: median {median * 1000:.0f} ms, 99 of 100 within {slowest * 1000:.0f} ms")
    return 0 if good and median <= MEDIAN and slowest <= SLOWEST else 1


if __name__ == "__main__":
    sys.exit(main())
