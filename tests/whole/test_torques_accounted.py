"""No torque in the plain text of a sample sheet is without a setting, a note or a finding that shows it."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent / "bench"))

from torques_accounted import left_of  # noqa: E402

SHEETS = sorted((HERE.parent.parent / "sample_sheets").glob("*.pdf"))


@pytest.mark.parametrize("path", SHEETS, ids=lambda path: path.stem)
def test_every_printed_torque_of_a_sample_is_accounted_for(path: Path) -> None:
    """Looked for by an expression of its own in what pdfplumber reads, and not by the reader."""
    printed, left, _ = left_of(path)
    assert (left, printed >= 0) == ([], True)
