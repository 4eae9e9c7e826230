"""Compare the time and memory of reading sheets with and without the witness, side by side.

Usage: python tests/bench/witness_time.py FILE... [--pages 300] [--rounds 3]

`--pages` draws one more sheet of that many pages of prose, six of them with a torque table. Each round reads all
files in two new processes, one with the witness and one without; the least processor time of each counts (import
of the readers left out, loading of the recogniser in). Prints a JSON object: seconds, their ratio, memory at its
most in MiB, and milliseconds a figure that the witness adds.
"""

from __future__ import annotations

import argparse
import json
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from unittest.mock import patch

from reportlab.lib.pagesizes import A4
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest import one_sheet
from torquary_ingest.plugins import OpenWish


def draw_long_sheet(path: Path, pages: int) -> None:
    """Draw prose, and a table of ten torques on each of six pages."""
    canvas = Canvas(str(path), pagesize=A4)
    for number in range(pages):
        canvas.setFont("Helvetica", 9)
        for row in range(45):
            canvas.drawString(
                60, 780 - 15 * row, f"Page {number + 1}: read these instructions before the device is used."
            )
        if number % (pages // 6) == 1:
            canvas.showPage()
            rows = [("Terminal", "Conductor mm²", "Torque N·m")]
            rows += [(f"Terminal X{number}-{at}", f"{at + 1}", f"{at % 4 + 1}.{at % 5}") for at in range(10)]
            for at, row in enumerate(rows):
                for column, text in enumerate(row):
                    canvas.rect(60 + 120 * column, 700 - 20 * at, 120, 20)
                    canvas.drawString(64 + 120 * column, 706 - 20 * at, text)
        canvas.showPage()
    canvas.save()


def read(paths: list[Path], *, witness: bool) -> None:
    """Read the files in this process and print what it took."""
    ask = one_sheet.witness_settings if witness else (lambda *given: given[4])
    with patch.object(one_sheet, "witness_settings", ask):
        started, figures = time.process_time(), 0
        for path in paths:
            report = one_sheet.read_one(path, OpenWish())
            figures += sum(setting.state == "released" for setting in report.settings)
    spent = time.process_time() - started
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(json.dumps({"seconds": spent, "mib": most, "figures": figures}))


def compare(paths: list[Path], rounds: int) -> dict[str, float]:
    """Read the files with and without the witness in turn."""
    told: dict[str, list[dict[str, float]]] = {"with": [], "without": []}
    for _ in range(rounds):
        for way, kept in told.items():
            command = [sys.executable, __file__, *map(str, paths), "--only", way]
            kept.append(json.loads(subprocess.run(command, capture_output=True, check=True, text=True).stdout))
    least = {way: min(each["seconds"] for each in kept) for way, kept in told.items()}
    figures = told["with"][0]["figures"]
    return {
        **{f"seconds_{way}": round(seconds, 2) for way, seconds in least.items()},
        **{f"mib_{way}": round(max(each["mib"] for each in kept)) for way, kept in told.items()},
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
    options.add_argument("--only", choices=("with", "without"), help=argparse.SUPPRESS)
    wish = options.parse_args()
    if wish.only:
        read(wish.files, witness=wish.only == "with")
        return
    figures = {}
    if wish.files:
        figures["files"] = compare(wish.files, wish.rounds)
    if wish.pages:
        with tempfile.TemporaryDirectory() as scratch:
            path = Path(scratch, "long.pdf")
            draw_long_sheet(path, wish.pages)
            figures["long sheet"] = compare([path], wish.rounds)
    print(json.dumps(figures, indent=1))


if __name__ == "__main__":
    main()
