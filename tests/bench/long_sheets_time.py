"""Tell how long reading takes against plain pdfplumber over every page, in processor time, side by side.

Usage: python tests/bench/long_sheets_time.py [FILE...] [--pages N,...] [--seed N] [--rounds N]

Without files it draws long manuals (`long_sheet.py`; 420, 465, 510, 555 and 600 pages, six of them with ten torques
each) and also tells whether all sixty figures were released. Each file is measured in turn by both, each time in a
process of its own: `extract_tables()` of every page, and the reading, warm (another sheet was read before). Prints
medians as a table in Markdown.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median

from long_sheet import draw_long_sheet

_WARM = next((Path(__file__).parents[2] / "sample_sheets").glob("*.pdf"))
PLAIN = """
import sys, time
import pdfplumber
start = time.process_time()
with pdfplumber.open(sys.argv[1]) as sheet:
    for page in sheet.pages:
        page.extract_tables()
        page.close()
print(time.process_time() - start, len(sheet.pages))
"""
OURS = """
import sys, time
import torquary_ingest.warm, torquary_ingest.openers.pdf.warm, torquary_ingest.witness.warm
from torquary_ingest.reader import read_sheet
read_sheet(sys.argv[2])
start = time.process_time()
report = read_sheet(sys.argv[1])
print(time.process_time() - start, sum(setting.state == "released" for setting in report.settings))
"""
DRAWN = 60
"""Torques on a sheet drawn here."""


def measure(program: str, path: Path) -> tuple[float, int]:
    """Return the seconds of processor time that a program tells for a file, and what it counts."""
    asked = [sys.executable, "-c", program, str(path), str(_WARM)]
    told = subprocess.run(asked, capture_output=True, text=True, check=True).stdout.split()
    return float(told[0]), int(told[1])


def compare(path: Path, rounds: int) -> tuple[str, int]:
    """Return a row of the table, and how many settings were released."""
    both = [(measure(PLAIN, path), measure(OURS, path)) for _ in range(rounds)]
    plain, ours = (median(one[at][0] for one in both) for at in (0, 1))
    ratio = median(one[0] / other[0] for one, other in both)
    pages, released = both[0][0][1], both[0][1][1]
    row = f"| {path.name} | {pages} | {plain:.1f} s | {ours:.2f} s | {ratio:.1f} | {ours / pages:.3f} s | {released} |"
    return row, released


def main() -> int:
    """Measure the files of the command line, or long manuals; exit status 1 when one of these lost a figure."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("files", nargs="*", type=Path)
    parser.add_argument("--pages", default="420,465,510,555,600")
    parser.add_argument("--seed", type=int, default=7)
    parser.add_argument("--rounds", type=int, default=3)
    wish = parser.parse_args()
    print("| file | pages | plain | read | times as fast | a page | released |\n|---|---|---|---|---|---|---|")
    lost = 0
    with tempfile.TemporaryDirectory() as folder:
        for at, pages in enumerate(map(int, [] if wish.files else wish.pages.split(","))):
            path = Path(folder) / f"long_{pages}_seed_{wish.seed + at}.pdf"
            draw_long_sheet(path, pages, seed=wish.seed + at)
            row, released = compare(path, wish.rounds)
            lost += released < DRAWN
            print(row, flush=True)
        for path in wish.files:
            print(compare(path, wish.rounds)[0], flush=True)
    return int(lost > 0)


if __name__ == "__main__":
    sys.exit(main())
