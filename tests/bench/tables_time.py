"""Tell how long `torquary tables` takes a page, and how much of it is starting.

Usage: python tests/bench/tables_time.py FILE... [--rounds 3] [--against OTHER/bin/torquary]

Runs the command on each PDF file, and finds the same tables in one process whose readers are warm; the least time
of the rounds counts. With `--against`, the command of another installation runs in turn with ours, so that a busy
machine slows both. Prints a JSON object: pages, seconds a page of the command (wall) and of the warm process
(processor time), which part of the command's time is neither opening nor tables, and the ratio to the other.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import time
from pathlib import Path

OURS = Path(sys.executable).with_name("torquary")


def time_command(command: Path, files: list[Path]) -> float:
    """Return the seconds that the command takes for the files, one after another."""
    begun = time.monotonic()
    for file in files:
        done = subprocess.run([command, "tables", file, "--json"], capture_output=True, check=False)
        if done.returncode not in (0, 1):
            raise SystemExit(f"{file}: {done.stderr.decode()}")
    return time.monotonic() - begun


def time_warm(files: list[Path]) -> tuple[float, int]:
    """Return the processor time of finding the tables without any start, and the pages."""
    from torquary_ingest.opening import open_sheet
    from torquary_ingest.plugins import OpenWish

    begun, pages = time.process_time(), 0
    for file in files:
        pages += open_sheet(file, OpenWish(every_page=True, pictures=False, figures=False)).document.page_count
    return time.process_time() - begun, pages


def main() -> None:
    """Time, print."""
    options = argparse.ArgumentParser()
    options.add_argument("files", nargs="+", type=Path)
    options.add_argument("--rounds", type=int, default=3)
    options.add_argument("--against", type=Path)
    wish = options.parse_args()
    time_warm(wish.files[:1])
    ours, others, warm = [], [], []
    for _ in range(wish.rounds):
        ours.append(time_command(OURS, wish.files))
        warm.append(time_warm(wish.files))
        if wish.against:
            others.append(time_command(wish.against, wish.files))
    pages = warm[0][1]
    least = min(took for took, _ in warm)
    told = {
        "pages": pages,
        "seconds_a_page": round(min(ours) / pages, 3),
        "seconds_a_page_warm": round(least / pages, 3),
        "part_of_starting": round(1 - least / min(ours), 2),
    }
    if others:
        told["ratio"] = round(min(others) / min(ours), 2)
    print(json.dumps(told))


if __name__ == "__main__":
    main()
