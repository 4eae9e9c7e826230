"""How long a cold `torquary find` takes, side by side with opening the same file bare.

Run: python tests/bench/find_cold.py [CATALOGUE] [ROUNDS]. Without a catalogue, one of 3,000 settings is made.
The two take turns, so that whatever else the machine does falls on both. Ends with status 1 above the limit.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

from torquary_catalogue.store import open_catalogue
from torquary_catalogue.store.insert import load_report
from torquary_catalogue.store.words import refresh_words
from torquary_schema.values import Conductor, Device, Place, Setting, SheetReport, Terminal, Torque

LIMIT = 1.6
BARE = "import duckdb; duckdb.connect({!r}, read_only=True).execute('select count(*) from setting').fetchall()"


def make_catalogue(path: Path, sheets: int = 30, rows: int = 100) -> None:
    """Write a catalogue of invented settings."""
    base = Setting(
        id="",
        state="released",
        purpose="electrical_terminal",
        device=Device(printed="Breaker BK", family="mcb", series="BK"),
        terminal=Terminal(printed="Outgoing", roles=("load_out",)),
        conductor=Conductor(printed="1.5–16 mm²", system="mm2", min_mm2=Decimal("1.5"), max_mm2=Decimal(16)),
        torque=Torque(printed="2.5", unit_printed="N·m", min_nm=Decimal("2.5"), nominal_nm=None, max_nm=Decimal("2.5")),
        place=Place(page=1, table=1, row=1),
    )
    with open_catalogue(path, writing=True) as catalogue:
        refresh_words(catalogue)
        for sheet in range(sheets):
            settings = tuple(
                replace(base, id=f"{sheet}-{row}", device=replace(base.device, model=f"BK-{sheet}-{row}"))
                for row in range(rows)
            )
            load_report(
                catalogue,
                SheetReport(file=f"{sheet}.pdf", digest=f"{sheet:064}", state="read", pages=1, settings=settings),
            )


def measure(command: list[str]) -> float:
    """Return the seconds of wall time that a command takes."""
    start = time.perf_counter()
    subprocess.run(command, stdout=subprocess.DEVNULL, check=True)
    return time.perf_counter() - start


def main() -> int:
    """Measure and print; return the exit status."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(folder, "bench.duckdb")
        if not path.exists():
            make_catalogue(path)
        asked = ["BK-3-14", "10mm2", "outgoing"] if len(sys.argv) < 2 else ["mcb", "10mm2", "outgoing"]
        torquary = str(Path(sys.executable).with_name("torquary"))
        find = [torquary, "find", *asked, "--catalogue", str(path)]
        bare = [sys.executable, "-c", BARE.format(str(path))]
        rounds = int(sys.argv[2]) if len(sys.argv) > 2 else 15
        pairs = [(measure(bare), measure(find)) for _ in range(rounds)]
    bare_time, find_time = (statistics.median(times) for times in zip(*pairs, strict=True))
    print(f"bare {bare_time:.3f} s, find {find_time:.3f} s, ratio {find_time / bare_time:.2f} (limit {LIMIT})")
    return 0 if find_time <= LIMIT * bare_time else 1


if __name__ == "__main__":
    sys.exit(main())
