"""How questions fare while sheets are loaded: are any refused, how long do they wait, and what does the load take?

Run: python tests/bench/readers_trial.py [READERS] [SHEETS] [LOADS]. Each reader is a process that opens the
catalogue for each question and asks, about once a second, until the loads have ended. Ends with status 1 if a
question or a load is refused.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

SHEET = "Terminal;Conductor (mm²);Torque (N·m)\n"
COMMAND = str(Path(sys.executable).with_name("torquary"))


READER = """
import random, sys, time
from pathlib import Path
from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.find import find, read_question
from torquary_catalogue.store import open_catalogue

catalogue, over, pause = Path(sys.argv[1]), Path(sys.argv[2]), float(sys.argv[3])
while not over.exists():
    time.sleep(random.uniform(0, 2 * pause))
    start, told = time.monotonic(), ""
    try:
        with open_catalogue(catalogue) as opened:
            find(opened, read_question(opened, "L1 4mm2"))
    except TorquaryError as error:
        told = error.message
    print(f"{time.monotonic() - start:.3f}", told, flush=True)
"""
SETTLE = 10.0
"""Seconds that the readers have to start."""
PAUSE = 1.0
"""Seconds between two questions of a reader, on the average."""


class Readers:
    """Processes that ask; `waits` are the seconds of wall time of each question, `refusals` what they were told."""

    def __init__(self, catalogue: Path, number: int) -> None:
        self.over = catalogue.with_name("over")
        command = [sys.executable, "-c", READER, str(catalogue), str(self.over), str(PAUSE)]
        self.running = [subprocess.Popen(command, stdout=subprocess.PIPE, text=True) for _ in range(number)]

    def end(self) -> tuple[list[float], Counter[str]]:
        self.over.touch()
        lines = [line.partition(" ") for one in self.running for line in one.communicate()[0].splitlines()]
        return sorted(float(wait) for wait, _, _ in lines), Counter(told for _, _, told in lines if told)


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
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        catalogue = folder / "here.duckdb"
        first, *sheets = write_sheets(folder, number + 1)
        subprocess.run([COMMAND, "load", str(first), "--catalogue", str(catalogue)], check=False, capture_output=True)
        asking = Readers(catalogue, readers)
        time.sleep(SETTLE)
        start = time.monotonic()
        share = len(sheets) // loads
        running = [
            subprocess.Popen(
                [COMMAND, "load", *map(str, sheets[n * share : (n + 1) * share]), "--catalogue", str(catalogue)],
                stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True,
            )
            for n in range(loads)
        ]  # fmt: skip
        ended = [(process.communicate()[1], process.returncode) for process in running]
        took = time.monotonic() - start
        waits, refusals = asking.end()
        count = "import duckdb, sys; print(duckdb.connect(sys.argv[1], read_only=True).sql("
        count += "\"SELECT count(*) FROM sheet WHERE state = 'read'\").fetchone()[0])"
        found = subprocess.run([sys.executable, "-c", count, str(catalogue)], capture_output=True, text=True).stdout
    refused = sum(refusals.values())
    print(f"{readers} readers, {loads} load(s) of {share} sheets: {took:.1f} s, statuses {[code for _, code in ended]}")
    print(f"{len(waits)} questions, {refused} refused; seconds: median {statistics.median(waits):.2f}, "
          f"longest {waits[-1]:.2f}; sheets in the catalogue: {found.strip()}")  # fmt: skip
    for text, times in (refusals + Counter(text.strip()[-200:] for text, code in ended if code > 1)).items():
        print(f"  {times} x {text}")
    return 1 if refused or any(code > 1 for _, code in ended) else 0


if __name__ == "__main__":
    sys.exit(main())
