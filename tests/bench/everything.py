"""Run the benchmarks of reading, loading, asking and exporting, and write what they measured as a table and as JSON.

Usage: python tests/bench/everything.py [--to FOLDER] [--only PART ...] [--small] [--rounds N] [--seed N]

Every figure is a ratio of two programs that take turns in one run, in processor time, or an amount beside its bar.
Parts: long sheets, one page, load, again, find, export. What is read is drawn, and what is asked is made, from the
seed. `--small` tries the parts on sizes that say nothing. Exit status 1 where a bar is missed.
"""

from __future__ import annotations

import argparse
import json
import os
import statistics
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

import long_sheets_time
from find_among_many import FEW, choose_questions, measure_cold, measure_warm, run
from load_time import make_sheets
from load_time import measure as measure_load
from long_sheet import draw_long_sheet
from many_settings import fill
from measured import HEAD, Measure

from torquary_catalogue.store import open_catalogue

TORQUARY = str(Path(sys.executable).with_name("torquary"))
SAMPLES = Path(__file__).parents[2] / "sample_sheets"

_COPY = """
import duckdb, sys
catalogue = duckdb.connect(sys.argv[1], read_only=True)
rows = "SELECT * FROM current_setting ORDER BY file, sheet, number"
catalogue.execute(f"COPY ({rows}) TO '{sys.argv[2]}' ({sys.argv[3]})")
"""
_FORMATS = {"parquet": "FORMAT parquet", "csv": "FORMAT csv, HEADER", "jsonl": "FORMAT json"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """How much is measured, and with which seed; `folder` is for what is made."""

    folder: Path
    rounds: int
    seed: int
    small: bool

    def choose(self, large: int, small: int) -> int:
        """Return a number of things for the size."""
        return small if self.small else large


def time_long_sheets(size: Size) -> Iterator[Measure]:
    """Long manuals with six pages of torques, against plain pdfplumber over every page; all figures."""
    ratios, released = [], 0
    pages = [size.choose(420 + 45 * at, 24) for at in range(size.choose(5, 1))]
    for at, count in enumerate(pages):
        path = size.folder / f"long_{count}_{at}.pdf"
        draw_long_sheet(path, count, seed=size.seed + at)
        for _ in range(size.rounds):
            plain, _ = long_sheets_time.measure(long_sheets_time.PLAIN, path)
            ours, found = long_sheets_time.measure(long_sheets_time.OURS, path)
            ratios.append(plain / ours)
        released += found
    what, drawn = f"{len(pages)} long manuals", long_sheets_time.DRAWN * len(pages)
    against = "plain pdfplumber over every page"
    yield Measure(what=what, against=against, value=statistics.median(ratios), bar=15, least=True)
    yield Measure(what=f"{what}: figures released", against="drawn", value=released / drawn, bar=1, least=True)


def time_one_page(size: Size) -> Iterator[Measure]:
    """Sheets of one page, read, witnessed and warm, against plain `extract_tables()` of them."""
    paths = sorted(SAMPLES.glob("*.pdf"))[: size.choose(20, 2)]
    ratios = []
    for path in paths:
        for _ in range(size.rounds):
            plain, pages = long_sheets_time.measure(long_sheets_time.PLAIN, path)
            if pages == 1:
                ratios.append(long_sheets_time.measure(long_sheets_time.OURS, path)[0] / plain)
    if ratios:
        value = statistics.median(ratios)
        yield Measure(what="a page of torques, warm", against="plain extract_tables()", value=value, bar=2.5)


def time_load(size: Size) -> Iterator[Measure]:
    """Short sheets loaded among many."""
    yield from measure_load(size.choose(2000, 8), size.choose(200, 4), size.rounds, size.seed)


def time_again(size: Size) -> Iterator[Measure]:
    """A folder that is loaded again as it is, against a cold question to its catalogue."""
    folder, catalogue = size.folder / "again", size.folder / "again.duckdb"
    make_sheets(folder, size.choose(500, 5), size.seed)
    load = [TORQUARY, "load", str(folder), "--catalogue", str(catalogue)]
    run(load)
    find = [TORQUARY, "find", "QX", "outgoing", "--catalogue", str(catalogue)]
    ratios = [run(load).seconds / run(find).seconds for _ in range(size.rounds)]
    what = f"folder of {size.choose(500, 5)} sheets, unchanged"
    yield Measure(what=what, against="cold find", value=statistics.median(ratios), bar=2)


def time_find(size: Size) -> Iterator[Measure]:
    """Ten kinds of question, cold against bare DuckDB that fetches the same rows, and warm."""
    for path in (_make_settings(size, FEW), _make_many(size)):
        with open_catalogue(path) as catalogue:
            questions = choose_questions(catalogue.rows("SELECT count(*) AS sheets FROM sheet")[0]["sheets"])
        peaks = []
        for asked in questions:
            bare, took, peak = measure_cold(path, asked, size.rounds)
            peaks.append(peak)
            what = f"find {asked} in {path.stem}, cold"
            yield Measure(what=what, against="bare DuckDB", value=took / bare, bar=1.5)
    yield Measure(what="find, peak memory", against="–", value=max(peaks), bar=300, unit="MB")
    warm = measure_warm(path, questions, size.rounds)
    slowest = warm[min(len(warm) - 1, len(warm) * 99 // 100)]
    yield Measure(what="find, warm, half of them", against="–", value=1000 * statistics.median(warm), bar=30, unit="ms")
    yield Measure(what="find, warm, all but one in 100", against="–", value=1000 * slowest, bar=100, unit="ms")


def time_export(size: Size) -> Iterator[Measure]:
    """All settings written out, against DuckDB's COPY of the same rows."""
    path = _make_many(size)
    for ending, wish in _FORMATS.items():
        file = size.folder / f"out.{ending}"
        ours = [TORQUARY, "export", str(file), "--catalogue", str(path)]
        bare = [sys.executable, "-c", _COPY, str(path), str(file), wish]
        took = [(run(ours), run(bare)) for _ in range(size.rounds)]
        ratio = statistics.median(one.seconds / other.seconds for one, other in took)
        peak = max(one.megabytes for one, _ in took)
        yield Measure(what=f"export to {ending}", against="DuckDB's COPY", value=ratio, bar=2)
        yield Measure(what=f"export to {ending}, peak memory", against="–", value=peak, bar=500, unit="MB")


def _make_many(size: Size) -> Path:
    return _make_settings(size, size.choose(1_000_000, 2_000))


def _make_settings(size: Size, settings: int) -> Path:
    path = size.folder / f"{settings}_settings.duckdb"
    if not path.exists():
        with open_catalogue(path, writing=True) as catalogue:
            fill(catalogue, settings, size.seed)
    return path


PARTS: dict[str, Callable[[Size], Iterator[Measure]]] = {
    "long sheets": time_long_sheets,
    "one page": time_one_page,
    "load": time_load,
    "again": time_again,
    "find": time_find,
    "export": time_export,
}


def main() -> int:
    """Measure, print and write; return the exit status."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--to", type=Path, default=Path())
    parser.add_argument("--only", nargs="+", choices=PARTS, default=list(PARTS))
    parser.add_argument("--small", action="store_true")
    parser.add_argument("--rounds", type=int, default=5)
    parser.add_argument("--seed", type=int, default=20)
    wish = parser.parse_args()
    told = f"{os.cpu_count()} processors, load {os.getloadavg()[0]:.1f}, seed {wish.seed}, rounds {wish.rounds}"
    print(f"{told}\n\n{HEAD}", flush=True)
    done: list[Measure] = []
    with tempfile.TemporaryDirectory() as folder:
        size = Size(folder=Path(folder), rounds=wish.rounds, seed=wish.seed, small=wish.small)
        for part in wish.only:
            for one in PARTS[part](size):
                done.append(one)
                print(one.as_row(), flush=True)
    rows = [asdict(one) | {"met": one.met} for one in done]
    (wish.to / "measured.md").write_text("\n".join((told, "", HEAD, *(one.as_row() for one in done), "")), "utf-8")
    (wish.to / "measured.json").write_text(json.dumps({"on": told, "measured": rows}, indent=1), "utf-8")
    return 0 if all(one.met for one in done) else 1


if __name__ == "__main__":
    sys.exit(main())
