"""Sentences, steps and items as technical writers write them, in many languages: each gives what it says."""

from pathlib import Path

import pytest
from written_sheets import Sheet, judge, read, read_cases

HERE = Path(__file__).parent
CASES = [
    (name, sheet)
    for name in ("before", "after", "leaflets")
    for sheet in read_cases(HERE / f"written_{name}.txt")
]
HELD_STILL = frozenset[str]()
"""Cases that a careful reader can settle and the reader still holds."""


@pytest.mark.parametrize(
    ("name", "sheet"), CASES, ids=[f"{name}-{sheet.title}" for name, sheet in CASES]
)
def test_a_written_sheet_gives_what_it_says(name: str, sheet: Sheet) -> None:
    count = judge(sheet, *read(sheet))
    assert (count["wrong"], count["lost"]) == (0, 0)
    assert bool(count["held"]) is (f"{name}-{sheet.title}" in HELD_STILL)
