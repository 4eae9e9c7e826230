"""Tell which printed torques of PDF sheets no setting, held reading, note or finding shows.

Usage: python tests/bench/torques_accounted.py FILE... [--show]

Looks for figures with a unit of torque in the plain text of each page, by one regular expression and nothing of the
reader's own, and looks each up in what the reader says of that page. Prints a line for each sheet: printed torques,
those not accounted for, findings that leave something to look at. `--show` prints the lines that are left too. Exit
status 1 when any is left.
"""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pdfplumber

from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_schema.values import SheetReport

TORQUE = re.compile(
    r"\d[\d.,]*\s?[\[(]?(?:[cdk]?N ?[·.•∙⋅*×/\ufffd-]? ?[mM]|n[.·]?m"
    r"|(?:lbf?s?|in|ft|oz)\.?[ ·.-]?(?:in|ft|lbf?s?)\.?)(?![\w²³])"
)
TO_LOOK_AT = ("figure_not_placed", "table_no_headings", "other_torque")


def printed_torques(path: Path) -> Iterator[tuple[int, str, str]]:
    """Yield page, line and torque of each torque that the plain text of a PDF file prints."""
    with pdfplumber.open(path) as pdf:
        for number, page in enumerate(pdf.pages, start=1):
            for line in page.extract_text().splitlines():
                for torque in TORQUE.finditer(line):
                    yield number, line, torque[0]


def shown_on(report: SheetReport, page: int) -> str:
    """Return all print of a page that settings and findings show, without blanks."""
    texts = []
    for setting in report.settings:
        notes = (finding.message for finding in setting.findings)
        if setting.place.page == page:
            torque = setting.torque.printed if setting.torque else ""
            unit = setting.torque.unit_printed if setting.torque else ""
            texts += [setting.place.text, f"{torque} {unit}", setting.conductor.printed]
        texts += notes
    for finding in report.findings:
        if finding.place is not None and finding.place.page == page:
            texts += [finding.printed, finding.message]
    return _squash(" ".join(texts))


def left_of(path: Path) -> tuple[int, list[tuple[int, str, str]], SheetReport]:
    """Return how many torques a sheet prints, those that nothing shows, and what was read."""
    report = read_one(path, OpenWish(pictures=False))
    printed = list(printed_torques(path))
    shown = {page: shown_on(report, page) for page, _, _ in printed}
    return len(printed), [one for one in printed if _squash(one[2]) not in shown[one[0]]], report


def _squash(text: str) -> str:
    return re.sub(r"[\s|]+", "", text)


def main() -> int:
    """Run the command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("files", nargs="+", type=Path)
    parser.add_argument("--show", action="store_true")
    wish = parser.parse_args()
    lost = 0
    for file in wish.files:
        count, left, report = left_of(file)
        lost += len(left)
        looks = sum(finding.code in TO_LOOK_AT for finding in report.findings)
        print(f"{file.name}: {count} printed, {len(left)} not accounted for, {looks} finding(s)")
        for page, line, torque in left if wish.show else ():
            print(f"  page {page}: {torque!r} in {line!r}")
    return 1 if lost else 0


if __name__ == "__main__":
    sys.exit(main())
