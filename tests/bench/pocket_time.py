"""How long a page for the pocket takes to open and to answer: ten thousand settings, at 360 px, in Chromium.

Run: python tests/bench/pocket_time.py [SETTINGS] [ROUNDS]; on one core: taskset -c 0 python … Ends with status 1 where
opening takes longer than two seconds in the median.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "catalogue"))
sys.path.insert(0, str(Path(__file__).parents[1]))

from browser import Browser, start
from many_settings import fill

from torquary_catalogue.pocket import choose, write_pocket
from torquary_catalogue.store import open_catalogue

LONGEST = 2.0
"""Seconds until the page can be asked."""
_ASKED = ("QX1 10mm2 outgoing", "mcb 10mm2", "neutral", "QX99999 10mm2", "mainswich 10mm2")
_OPENED = "performance.getEntriesByType('navigation')[0].loadEventEnd / 1000"


def main(settings: int, rounds: int) -> int:
    """Make the page, open it so many times, and say how long it took."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "pocket.html"
        with open_catalogue(Path(folder) / "many.duckdb", writing=True) as catalogue:
            fill(catalogue, settings)
            began = time.monotonic()
            made = {"made_on": datetime.now(UTC).date(), "good_for": 90, "unit": "newton_metre", "pictures": False}
            file.write_text(write_pocket(catalogue, choose(catalogue), **made).text, encoding="utf-8")
            took = time.monotonic() - began
            print(f"{settings:,} settings: {file.stat().st_size / 1e6:.1f} MB, written in {took:.1f} s")
        with start(Path(folder) / "profile") as page:
            opened = [_open(page, file) for _ in range(rounds)]
            for words in _ASKED:
                print(f"  {_ask(page, words):.3f} s  {words}")
    middle = statistics.median(opened)
    print(f"open: {middle:.2f} s in the median of {rounds} (longest {max(opened):.2f} s)")
    return int(middle > LONGEST)


def _open(page: Browser, file: Path) -> float:
    page.open(file, wide=360)
    return float(page.run(f"new Promise(done => setTimeout(() => done({_OPENED})))"))


def _ask(page: Browser, words: str) -> float:
    """Return the seconds until the answer to the words stands on the page."""
    asked = f"one('words').value = {words!r}; one('ask').requestSubmit(); one('answer').offsetHeight;"
    timed = f"(() => {{ const began = performance.now(); {asked} return performance.now() - began; }})()"
    return float(page.run(timed)) / 1000


if __name__ == "__main__":
    numbers = [int(text) for text in sys.argv[1:]]
    sys.exit(main(*[*numbers, *[10_000, 5][len(numbers) :]]))
