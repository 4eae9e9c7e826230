"""How questions fare while sheets are loaded: are any refused, how long do they wait, and what does the load take?

Run: python tests/bench/readers_trial.py [READERS] [SHEETS] [LOADS]. Each reader is a process that opens the
catalogue for each question and asks, about once in `PAUSE` seconds, until the loads have ended. Ends with status 1 if a
question or a load is refused.
"""

from __future__ import annotations

import os
import random
import statistics
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import torquary_ingest.extractors.headed
import torquary_ingest.one_sheet
import torquary_ingest.openers.delimited.reading  # noqa: F401  (imported before the forks)
from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.find import find, read_question
from torquary_catalogue.load import load_sheets
from torquary_catalogue.store import open_catalogue
from torquary_ingest import reader

SHEET = "Terminal;Conductor (mm²);Torque (N·m)\n"
PAUSE = 10.0
"""Seconds between two questions of a reader, on the average."""


class Readers:
    """Processes, forked from this one, that ask and write down what they were told and how long it took."""

    def __init__(self, catalogue: Path, number: int) -> None:
        self.over = catalogue.with_name("over")
        self.logs = [catalogue.with_name(f"reader{n}.txt") for n in range(number)]
        self.running = [fork(lambda log=log: self.ask(catalogue, log)) for log in self.logs]

    def ask(self, catalogue: Path, log: Path) -> int:
        with log.open("w", encoding="utf-8") as file:
            while not self.over.exists():
                time.sleep(random.uniform(0, 2 * PAUSE))
                start, told = time.monotonic(), ""
                try:
                    with open_catalogue(catalogue) as opened:
                        find(opened, read_question(opened, "L1 4mm2"))
                except TorquaryError as error:
                    told = error.message
                print(f"{time.monotonic() - start:.3f}", told, file=file)
        return 0

    def end(self) -> tuple[list[float], Counter[str]]:
        self.over.touch()
        for process in self.running:
            os.waitpid(process, 0)
        lines = [line.partition(" ") for log in self.logs for line in log.read_text("utf-8").splitlines()]
        return sorted(float(wait) for wait, _, _ in lines), Counter(told for _, _, told in lines if told)


def fork(task: Callable[[], int]) -> int:
    """Run the task in a forked process and return its id."""
    process = os.fork()
    if process == 0:
        random.seed(os.getpid())
        status = 120
        try:
            status = task()
        except BaseException:
            traceback.print_exc()
        os._exit(status)
    return process


def load(catalogue: Path, sheets: list[Path]) -> int:
    try:
        load_sheets(catalogue, sheets)
    except TorquaryError as error:
        print("load:", error.message, file=sys.stderr)
        return error.status
    return 0


def write_sheets(folder: Path, number: int) -> list[Path]:
    sheets = []
    for sheet in range(number):
        path = folder / f"sheet{sheet:03}.csv"
        rows = "".join(f"L{n};1,5–{n + 5};{n / 10 + sheet / 100:.2f}\n".replace(".", ",") for n in range(1, 30))
        path.write_text(SHEET + rows, encoding="utf-8")
        sheets.append(path)
    return sheets


def main() -> int:
    readers, number, loads = (int(word) for word in [*sys.argv[1:], *("50", "60", "1")[len(sys.argv) - 1 :]])
    # The store is what is tried: sheets are read in the process that loads, the readers imported once.
    reader.run_apart = lambda task, paths, **_: (task(path) for path in paths)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        catalogue = folder / "here.duckdb"
        first, *sheets = write_sheets(folder, number + 1)
        os.waitpid(fork(lambda: load(catalogue, [first])), 0)
        asking = Readers(catalogue, readers)
        start = time.monotonic()
        share = len(sheets) // loads
        parts = [sheets[n * share : (n + 1) * share] for n in range(loads)]
        running = [fork(lambda part=part: load(catalogue, part)) for part in parts]
        ended = [os.waitstatus_to_exitcode(os.waitpid(process, 0)[1]) for process in running]
        took = time.monotonic() - start
        waits, refusals = asking.end()
        with open_catalogue(catalogue) as opened:
            [found] = opened.rows("SELECT count(*) AS sheets FROM sheet WHERE state = 'read'")
    refused = sum(refusals.values())
    print(f"{readers} readers, {loads} load(s) of {share} sheets: {took:.1f} s, statuses {ended}")
    print(f"{len(waits)} questions, {refused} refused; seconds: median {statistics.median(waits):.2f}, "
          f"longest {waits[-1]:.2f}; sheets in the catalogue: {found['sheets']} of {number + 1}")  # fmt: skip
    for text, times in refusals.items():
        print(f"  {times} x {text}")
    return 1 if refused or any(ended) else 0


if __name__ == "__main__":
    sys.exit(main())
