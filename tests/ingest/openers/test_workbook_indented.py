"""Workbooks whose XML is set in indented lines, as some spreadsheet programs write them."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from torquary_ingest.reader import read_sheet

sys.path.insert(0, str(Path(__file__).parent))
from sheet_files import ods_parts, ods_row, write_parts


@pytest.mark.parametrize("between", ["", "\n    "])
def test_an_indented_workbook_gives_what_one_in_a_line_does(tmp_path: Path, between: str) -> None:
    rows = (("Terminal", "mm²", "Torque N·m"), ("Line", "1.5–16", "2.5"), ("Load", "1.5–10", "2"))
    table = f'<table:table table:name="QX breakers">{"".join(ods_row(*row) for row in rows)}</table:table>'
    report = read_sheet(write_parts(tmp_path / "qx.ods", ods_parts(table.replace("><", f">{between}<"))))
    assert [(one.terminal.printed, one.conductor.printed, one.torque.printed) for one in report.settings] == [*rows[1:]]
