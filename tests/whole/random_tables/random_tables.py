"""Read tables of random layout, language and unit, and compare what is released with the truth.

Usage: python tests/whole/random_tables/random_tables.py [--count 10000] [--seed 1] [--only SEED --keep FOLDER]
With --files: workbooks and web pages instead of PDF and CSV. With --profiles: headings of no language, which a
layout profile explains.

Sheet number k has the seed `seed + k`. Prints a JSON object: rows right, flagged, lost and wrong, by layout, and
the seeds of the sheets with wrong or lost rows; exit status 1 when there are any.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from collections import Counter
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent))
from random_explained import write_explained
from random_files import write_file
from random_sheets import Sheet, Stated, write_sheet

from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_schema.values import Setting, SheetReport

NEAR = Decimal("1e-12")
"""N·m: the factor of the pound-force inch has no end of digits."""


def judge(sheet: Sheet) -> Counter[str]:
    """Count the sheet's rows that are right, flagged or lost, and the released settings that are wrong.

    A row is flagged only when a held setting or a finding speaks of it. A row released twice counts as wrong.
    """
    report = read_one(sheet.path, OpenWish(), sheet.profiles)
    released = [setting for setting in report.settings if setting.state == "released"]
    verdicts: Counter[str] = Counter()
    verdicts["wrong"] = sum(not any(_states(row, setting) for row in sheet.stated) for setting in released)
    for row in sheet.stated:
        times = sum(_states(row, setting) for setting in released)
        verdicts["wrong"] += max(0, times - 1)
        verdicts["right" if times else "flagged" if _is_flagged(row, report) else "lost"] += 1
    return verdicts


def _is_flagged(row: Stated, report: SheetReport) -> bool:
    """Tell whether the report speaks of the row: by its terminal, by its figure, or says that it has nothing."""
    if not report.settings:
        return any(finding.code != "page_hidden_text" for finding in report.findings)
    held = [s for s in report.settings if s.state == "held"]
    texts = [f"{f.printed} {f.message}" for f in report.findings]
    texts += [f"{s.terminal.printed} {s.place.text} {s.torque.printed if s.torque else ''}" for s in held]
    return any(row.terminal in text and row.figure in text for text in texts) or any(
        row.terminal == s.terminal.printed for s in held
    )


def _states(row: Stated, setting: Setting) -> bool:
    """Tell whether a setting says what the row states: terminal, both limits of torque and conductor."""
    torque, conductor = setting.torque, setting.conductor
    return (
        setting.terminal.printed == row.terminal
        and torque is not None
        and all(
            value is not None and abs(value - stated) < NEAR
            for value, stated in zip((torque.min_nm, torque.max_nm), row.torque, strict=True)
        )
        and (conductor.min_mm2, conductor.max_mm2) == row.conductor
    )


def try_tables(folder: Path, seeds: range, write: Callable[[Path, int], Sheet] = write_sheet) -> dict[str, Any]:
    """Judge the sheets that `write` makes of these seeds; the files of faultless ones are removed."""
    total: Counter[str] = Counter()
    layouts: dict[str, Counter[str]] = {}
    faulty: list[int] = []
    for seed in seeds:
        sheet = write(folder, seed)
        verdicts = judge(sheet)
        total += verdicts
        layouts.setdefault(sheet.layout, Counter()).update(verdicts)
        if verdicts["wrong"] or verdicts["lost"]:
            faulty.append(seed)
        else:
            sheet.path.unlink()
    names = ("right", "flagged", "lost", "wrong")
    by_layout = {name: {n: counts[n] for n in names} for name, counts in sorted(layouts.items())}
    return {"sheets": len(seeds), **{n: total[n] for n in names}, "layouts": by_layout, "faulty_seeds": faulty}


def main() -> int:
    """Try the tables that the command line asks for."""
    parser = argparse.ArgumentParser(description="Read random tables and compare with the truth.")
    parser.add_argument("--count", type=int, default=10000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", type=int)
    parser.add_argument("--keep", type=Path)
    parser.add_argument("--files", action="store_true", help="workbooks and web pages instead of PDF and CSV")
    parser.add_argument("--profiles", action="store_true", help="headings that layout profiles explain")
    wish = parser.parse_args()
    seeds = range(wish.seed, wish.seed + wish.count) if wish.only is None else range(wish.only, wish.only + 1)
    write = write_explained if wish.profiles else write_file if wish.files else write_sheet
    with tempfile.TemporaryDirectory() as made:
        folder = wish.keep or Path(made)
        if wish.only is not None and wish.keep:
            print(write(folder, wish.only))
        result = try_tables(folder, seeds, write)
    print(json.dumps(result, indent=1))
    return 1 if result["wrong"] or result["lost"] else 0


if __name__ == "__main__":
    sys.exit(main())
