"""Read tables of random layout, language and unit, and compare what is released with the truth.

Usage: python tests/whole/random_tables/random_tables.py [--count 10000] [--seed 1] [--only SEED --keep FOLDER]
With --files: workbooks and web pages instead of PDF and CSV. With --mixed: sheets with the traits of real ones.
With --profiles: headings of no language that a layout profile explains.

Sheet number k has the seed `seed + k`. Prints a JSON object: rows right, flagged, lost and wrong, by layout and
by trait, and the seeds of the sheets with wrong or lost rows; exit status 1 when there are any.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent))
from judge import judge
from mixed_sheets import write_mixed
from random_explained import write_explained
from random_files import write_file
from random_sheets import Sheet, write_sheet

Write = Callable[[Path, int], Sheet]
NAMES = ("right", "flagged", "held", "lost", "wrong")


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """The verdicts on one sheet, with its seed, layout and traits."""

    seed: int
    layout: str
    traits: tuple[str, ...]
    verdicts: Counter[str]

    @property
    def faulty(self) -> bool:
        """Tell whether a row is wrong or lost."""
        return bool(self.verdicts["wrong"] or self.verdicts["lost"])


def try_one(write: Write, folder: Path, seed: int) -> Tried:
    """Judge the sheet of this seed; the file of a faultless one is removed."""
    sheet = write(folder, seed)
    tried = Tried(seed=seed, layout=sheet.layout, traits=sheet.traits, verdicts=judge(sheet))
    if not tried.faulty:
        sheet.path.unlink()
    return tried


def try_tables(folder: Path, seeds: range, write: Write = write_sheet, jobs: int = 1) -> dict[str, Any]:
    """Judge the sheets that `write` makes of these seeds, in `jobs` processes."""
    one = partial(try_one, write, folder)
    if jobs > 1:
        with ProcessPoolExecutor(jobs) as pool:
            return _sum_up(list(pool.map(one, seeds, chunksize=20)))
    return _sum_up([one(seed) for seed in seeds])


def _sum_up(tried: Iterable[Tried]) -> dict[str, Any]:
    tried = list(tried)
    total: Counter[str] = Counter()
    layouts: dict[str, Counter[str]] = {}
    traits: dict[str, Counter[str]] = {}
    for one in tried:
        total += one.verdicts
        layouts.setdefault(one.layout, Counter()).update(one.verdicts)
        for trait in one.traits:
            traits.setdefault(trait, Counter()).update(one.verdicts)
    return {
        "sheets": len(tried),
        **_counts(total),
        "layouts": {name: _counts(counts) for name, counts in sorted(layouts.items())},
        "traits": {name: _counts(counts) for name, counts in sorted(traits.items())},
        "faulty_seeds": [one.seed for one in tried if one.faulty],
    }


def _counts(counted: Counter[str]) -> dict[str, int]:
    return {name: counted[name] for name in NAMES}


def main() -> int:
    """Try the tables that the command line asks for."""
    parser = argparse.ArgumentParser(description="Read random tables and compare with the truth.")
    parser.add_argument("--count", type=int, default=10000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", type=int)
    parser.add_argument("--keep", type=Path)
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--files", action="store_true", help="workbooks and web pages instead of PDF and CSV")
    parser.add_argument("--mixed", action="store_true", help="PDF and CSV with the traits of real sheets")
    parser.add_argument("--profiles", action="store_true", help="headings that layout profiles explain")
    wish = parser.parse_args()
    seeds = range(wish.seed, wish.seed + wish.count) if wish.only is None else range(wish.only, wish.only + 1)
    kinds = ((wish.profiles, write_explained), (wish.files, write_file), (wish.mixed, write_mixed))
    write = next((write for asked, write in kinds if asked), write_sheet)
    with tempfile.TemporaryDirectory() as made:
        folder = wish.keep or Path(made)
        if wish.only is not None and wish.keep:
            folder.mkdir(parents=True, exist_ok=True)
            print(write(folder, wish.only))
        result = try_tables(folder, seeds, write, wish.jobs)
    print(json.dumps(result, indent=1))
    return 1 if result["wrong"] or result["lost"] else 0


if __name__ == "__main__":
    sys.exit(main())
