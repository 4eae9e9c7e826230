"""Counts what a person must answer until nearly all rows of sheets are released right: `FOLDER… [--only NAME…]`.

A folder holds sheets, each with NAME.json beside it that names its `file` and its true `rows` (terminal, sizes, torque
in N·m, `extra.device`). The truth answers: with the widest reach at which one answer is true of all readings that it
would be given to, then reading by reading; then it corrects what has the figure under another name or purpose, and
adds rows that were not read. Beside it stands what deciding each reading by itself would cost.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from pathlib import Path

from truthful_person import Cost, Person

from torquary_catalogue.load import load_sheets
from torquary_catalogue.store import open_catalogue

MANY = 8
"""Readings held for want of evidence from which a sheet counts for the goal of one answer for every eight."""
_COUNTED = (
    "rows", "right_before", "right_read", "right", "wanting", "answers", "singles", "singly", "mended", "added",
)  # fmt: skip


def try_sheet(case: Path) -> Cost | None:
    """Return what a sheet costs; None where it is not there."""
    told = json.loads(case.read_text("utf-8"))
    sheet = case.with_name(told["file"])
    if not sheet.exists():
        return None
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "trial.duckdb"
        load_sheets(path, [sheet])
        with open_catalogue(path, writing=True) as catalogue:
            return Person(catalogue, told).settle()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folders", nargs="+", type=Path)
    parser.add_argument("--only", nargs="*", default=[])
    args = parser.parse_args()
    cases = [path for folder in args.folders for path in sorted(folder.glob("*.json"))]
    chosen = [path for path in cases if not args.only or path.name.startswith(tuple(args.only))]
    costs = [cost for path in chosen if (cost := try_sheet(path)) is not None]
    for cost in costs:
        if cost.right_before < cost.right or cost.wrong:
            print(cost)
    many = [cost for cost in costs if cost.wanting >= MANY]
    total = {name: sum(getattr(cost, name) for cost in costs) for name in _COUNTED}
    print(f"{len(costs)} sheet(s): {total}")
    print(f"sheets with {MANY} or more wanting: {sum(one.answers for one in many)} answer(s) for "
          f"{sum(one.wanting for one in many)} reading(s)")  # fmt: skip
    sys.exit(1 if any(cost.wrong for cost in costs) else 0)


if __name__ == "__main__":
    main()
