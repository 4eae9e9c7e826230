"""Writes beside each sample sheet what reading it gives: NAME.expected.json, as `torquary read --json` prints it.

Run it after a change that is meant to alter a reading, and look at the difference before it is committed.
"""

from __future__ import annotations

from pathlib import Path

from torquary_ingest.reader import read_sheet
from torquary_schema.report import dump_json, reports_to_dict

SAMPLES = Path(__file__).parents[2] / "sample_sheets"
KINDS = frozenset({".pdf", ".csv", ".tsv", ".xlsx", ".ods", ".html"})


def list_sheets() -> list[Path]:
    """Return the sample sheets, in the order of their names."""
    return sorted(path for path in SAMPLES.iterdir() if path.suffix in KINDS)


def main() -> None:
    """Write all of them."""
    for sheet in list_sheets():
        text = dump_json(reports_to_dict([read_sheet(sheet)])) + "\n"
        sheet.with_suffix(".expected.json").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
