"""Reading a sample sheet gives what stands beside it, to the digit (`write_goldens.py` writes it)."""

from __future__ import annotations

from pathlib import Path

import pytest

from torquary_ingest.reader import read_sheet
from torquary_schema.report import dump_json, load_json, report_to_dict
from torquary_schema.validation import check_report

SAMPLES = Path(__file__).parents[2] / "sample_sheets"
KINDS = frozenset({".pdf", ".csv", ".tsv", ".xlsx", ".ods", ".html"})
SHEETS = sorted(path for path in SAMPLES.iterdir() if path.suffix in KINDS)


def test_every_sheet_has_its_reading_beside_it() -> None:
    assert len(SHEETS) >= 10
    assert {path.name for path in SAMPLES.glob("*.expected.json")} == {
        path.with_suffix(".expected.json").name for path in SHEETS
    }


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda path: path.stem)
def test_a_sample_is_read_as_before(sheet: Path) -> None:
    expected = load_json(sheet.with_suffix(".expected.json").read_text("utf-8"))
    assert list(check_report(expected)) == []
    [wanted] = expected["sheets"]
    assert load_json_of(sheet) == wanted


def load_json_of(sheet: Path) -> object:
    """Return the reading as JSON gives it back."""
    return load_json(dump_json(report_to_dict(read_sheet(sheet))))
