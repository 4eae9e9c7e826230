"""Compare the time and memory of reading sheets with and without the witness, side by side.

Usage: python tests/bench/witness_time.py FILE... [--pages 300] [--rounds 3] [--ways one workers cold]

`--pages` draws one more sheet of that many pages (`long_sheet.py`), six of them with a torque table. Each round
reads all files with the witness and without it in turn, in new processes; "without" replaces the witness by
nothing, as no option of the command does. Ways: "one" reads them in one process whose readers are warm;
"workers" forks a process for each sheet from the warm server, as the command does; "cold" starts an interpreter
for each sheet, imports included. The least processor time (user and system) of each counts. Prints a JSON object:
seconds, their ratio, memory at its most in MiB, and milliseconds a figure that the witness adds.
"""

from __future__ import annotations

import argparse
import json
import resource
import subprocess
import sys
import tempfile
import time
from functools import partial
from pathlib import Path
from typing import Any
from unittest.mock import patch

sys.path.insert(0, str(Path(__file__).parent))

WAYS = ("one", "workers", "cold")


def read(path: Path, *, witness: bool) -> tuple[float, float, int]:
    """Read a file; return this process's processor time so far, its memory at its most in MiB, and the figures."""
    from torquary_ingest import one_sheet
    from torquary_ingest.plugins import OpenWish

    ask = one_sheet.witness_settings if witness else (lambda *given: given[4])
    with patch.object(one_sheet, "witness_settings", ask):
        report = one_sheet.read_one(path, OpenWish())
    figures = sum(setting.state == "released" for setting in report.settings)
    return time.process_time(), resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024, figures


def read_all(paths: list[Path], way: str, *, witness: bool) -> dict[str, float]:
    """Read the files and return what it took."""
    begun = 0.0
    if way == "workers":
        from witness_time import read as task

        from torquary_ingest.limits import Limits
        from torquary_ingest.worker import run_apart

        limits = Limits(seconds=600)
        took = list(run_apart(partial(task, witness=witness), paths, limits=limits, jobs=1))
        if strange := [answer for answer in took if not isinstance(answer, tuple)]:
            raise SystemExit(f"not read: {strange}")
        seconds = sum(one[0] for one in took)
    else:
        if way == "one":
            import torquary_ingest.openers.pdf.warm
            import torquary_ingest.warm
            import torquary_ingest.witness.warm  # noqa: F401

            read(Path(__file__).parents[2] / "sample_sheets" / "hobbletarn_bars.pdf", witness=witness)
            begun = time.process_time()
        took = [read(path, witness=witness) for path in paths]
        seconds = took[-1][0] - begun
    return {"seconds": seconds, "mib": max(one[1] for one in took), "figures": sum(one[2] for one in took)}


def run_once(paths: list[Path], way: str, witness: str) -> dict[str, float]:
    """Read the files in a new process, or each in one of its own."""
    groups = [[path] for path in paths] if way == "cold" else [paths]
    took = []
    for group in groups:
        command = [sys.executable, __file__, *map(str, group), "--ways", way, "--only", witness]
        took.append(json.loads(subprocess.run(command, capture_output=True, check=True, text=True).stdout))
    return {key: (max if key == "mib" else sum)(one[key] for one in took) for key in ("seconds", "mib", "figures")}


def compare(paths: list[Path], way: str, rounds: int) -> dict[str, Any]:
    """Read the files with and without the witness in turn."""
    told: dict[str, list[dict[str, float]]] = {"with": [], "without": []}
    for _ in range(rounds):
        for witness, kept in told.items():
            kept.append(run_once(paths, way, witness))
    least = {witness: min(each["seconds"] for each in kept) for witness, kept in told.items()}
    figures = int(told["with"][0]["figures"])
    return {
        **{f"seconds_{witness}": round(seconds, 2) for witness, seconds in least.items()},
        **{f"mib_{witness}": round(max(each["mib"] for each in kept)) for witness, kept in told.items()},
        "ratio": round(least["with"] / least["without"], 2),
        "figures": figures,
        "milliseconds_a_figure": round(1000 * (least["with"] - least["without"]) / max(figures, 1), 1),
    }


def main() -> None:
    """Compare, print."""
    options = argparse.ArgumentParser()
    options.add_argument("files", nargs="*", type=Path)
    options.add_argument("--pages", type=int, default=0)
    options.add_argument("--rounds", type=int, default=3)
    options.add_argument("--ways", nargs="*", choices=WAYS, default=["one", "workers"])
    options.add_argument("--only", choices=("with", "without"), help=argparse.SUPPRESS)
    wish = options.parse_args()
    if wish.only:
        print(json.dumps(read_all(wish.files, wish.ways[0], witness=wish.only == "with")))
        return
    told: dict[str, dict[str, Any]] = {}
    with tempfile.TemporaryDirectory() as scratch:
        for way in wish.ways if wish.files else ():
            told[f"files, {way}"] = compare(wish.files, way, wish.rounds)
        if wish.pages:
            from long_sheet import draw_long_sheet

            path = Path(scratch, "long.pdf")
            draw_long_sheet(path, wish.pages)
            took = compare([path], "one", wish.rounds)
            page = {way: round(1000 * took[f"seconds_{way}"] / wish.pages, 1) for way in ("with", "without")}
            told["long sheet"] = {**took, "milliseconds_a_page": page}
    print(json.dumps(told, indent=1))


if __name__ == "__main__":
    main()
