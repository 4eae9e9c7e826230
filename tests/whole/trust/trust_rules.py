"""Switch each trust rule off in turn and show which sheets then give out a figure that they do not state.

Usage: python tests/whole/trust/trust_rules.py CASES_FOLDER [--code CODE ...]

CASES_FOLDER holds sheets with the right reading of each beside it (`NAME.json`: `file`, and `rows` with
`terminal`, `torque_min_nm`, `torque_max_nm`, `must_flag`). A rule is a finding code that holds. Prints one line
a rule: the sheets that go wrong without it; "names only" where the figure stays back anyhow because nothing
could be read, so that the code gives the reason and no more; or "no sheet here". Exit status 1 when a rule
that stands on a readable figure never matters.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections import defaultdict
from collections.abc import Iterator
from contextlib import contextmanager
from decimal import Decimal
from pathlib import Path
from typing import Any
from unittest.mock import patch

from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_schema import findings as finding_codes
from torquary_schema.values import Setting, SheetReport
from torquary_schema.words import fold

PLACES = ("torquary_ingest.normalise.settle.holds", "torquary_ingest.checks.holds")


@contextmanager
def switched_off(code: str) -> Iterator[None]:
    """Let findings with this code hold nothing."""

    def holds(other: str) -> bool:
        return other != code and finding_codes.holds(other)

    with patch(PLACES[0], holds), patch(PLACES[1], holds):
        yield


def read_unseen(path: Path) -> SheetReport:
    """Read a sheet without asking the picture of its pages: the witness would hold many of the same figures."""
    with patch("torquary_ingest.one_sheet.witness_settings", lambda *given: given[4]):
        return read_one(path, OpenWish())


def is_stated(setting: Setting, rows: list[dict[str, Any]]) -> bool:
    """Tell whether the truth has this figure, as a certain one, for this terminal."""
    torque = setting.torque
    if torque is None:
        return False
    return any(
        not row["must_flag"]
        and fold(row["terminal"] or "") == fold(setting.terminal.printed)
        and _near(torque.min_nm, row["torque_min_nm"])
        and _near(torque.max_nm if torque.limit_nm is None else torque.limit_nm, row["torque_max_nm"])
        for row in rows
    )


def _near(value: Decimal | None, stated: float | None) -> bool:
    if value is None or stated is None:
        return value is None and stated is None
    return abs(value - Decimal(str(stated))) <= max(Decimal("0.01"), abs(value) / 200)


def newly_released(before: SheetReport, after: SheetReport) -> list[Setting]:
    """The settings that are released after and were not before."""
    known = {setting.id for setting in before.settings if setting.state == "released"}
    return [setting for setting in after.settings if setting.state == "released" and setting.id not in known]


def main() -> int:
    """Try every rule and print what it keeps back; return the exit status."""
    parser = argparse.ArgumentParser(description="Switch each trust rule off in turn.")
    parser.add_argument("folder", type=Path)
    parser.add_argument("--code", action="append")
    wish = parser.parse_args()
    cases = [json.loads(path.read_text("utf-8")) for path in sorted(wish.folder.glob("*.json"))]
    reports = {case["file"]: read_unseen(wish.folder / case["file"]) for case in cases}
    truth = {case["file"]: case["rows"] for case in cases}
    useless = 0
    for code in wish.code or [key for key, entry in finding_codes.codes().items() if entry.holds]:
        useless += _try_rule(code, wish.folder, reports, truth)
    return 1 if useless else 0


def _try_rule(code: str, folder: Path, reports: dict[str, SheetReport], truth: dict[str, list[dict[str, Any]]]) -> bool:
    touched = [
        file for file, report in reports.items() if any(f.code == code for s in report.settings for f in s.findings)
    ]
    wrong: dict[str, int] = defaultdict(int)
    right = 0
    for file in touched:
        with switched_off(code):
            after = read_unseen(folder / file)
        for setting in newly_released(reports[file], after):
            if is_stated(setting, truth[file]):
                right += 1
            else:
                wrong[file] += 1
    readable = any(
        f.code == code and s.torque is not None and s.torque.is_read
        for file in touched
        for s in reports[file].settings
        for f in s.findings
    )
    verdict = ", ".join(f"{file} ({count})" for file, count in wrong.items())
    if not touched:
        verdict = "no sheet here"
    elif not wrong:
        verdict = "never alone" if readable else "names only"
    print(f"{code:26} {verdict}{f'; right ones kept back: {right}' if right else ''}")
    return bool(readable and not wrong)


if __name__ == "__main__":
    sys.exit(main())
