"""Tell what the witness catches with the checks of the print switched off, and they without the witness.

Usage: python tests/bench/witness_alone.py CASES_FOLDER

CASES_FOLDER holds PDF sheets with the right reading of each beside it, as for tests/whole/trust/trust_rules.py.
The checks switched off are the doubts of the PDF opener about how a word is printed (ink, cover, strike,
invisible layer, a map of characters that its font contradicts), and its sight: without it, text that is white,
switched off, clipped, covered or off the page is read as live. No other rule holds anything in these runs, so
that each means stands for itself, and figures that only another rule would hold are counted as wrong in all of
them. Prints a line a sheet that gives out fewer wrong figures with both than with neither: how many with
neither, the checks alone, the witness alone and both.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any
from unittest.mock import patch

sys.path.insert(0, str(Path(__file__).parents[1] / "whole" / "trust"))
from trust_rules import PLACES, is_stated

from torquary_ingest import one_sheet, opening
from torquary_ingest.document import Document, Doubt
from torquary_ingest.openers.pdf import sheet_page
from torquary_ingest.openers.pdf.paint import Glyph, Painting
from torquary_ingest.plugins import Opener, OpenWish
from torquary_ingest.registry import choose_opener
from torquary_schema.values import Finding

PRINT = frozenset(
    {"text_invisible", "text_covered", "text_struck_out", "text_overprinted", "text_differs_from_picture",
     "ink_without_text", "text_without_ink"}
)  # fmt: skip


class Trusting:
    """An opener without the doubts about print."""

    def __init__(self, opener: Opener) -> None:
        self.opener = opener
        self.name = opener.name

    def open(self, path: Path, wish: OpenWish) -> Document:
        document = self.opener.open(path, wish)
        pages = [
            replace(page, words=tuple(replace(word, doubts=_others(word.doubts)) for word in page.words))
            for page in document.pages
        ]
        return replace(document, pages=tuple(pages))


def _others(doubts: tuple[Doubt, ...]) -> tuple[Doubt, ...]:
    return tuple(doubt for doubt in doubts if doubt.code not in PRINT)


def choose_trusting(path: Path) -> tuple[Any, tuple[Finding, ...]]:
    """Choose as `choose_opener` does, without the doubts."""
    opener, remarks = choose_opener(path)
    return Trusting(opener), remarks


def _see_all(painting: Painting, *given: object) -> list[tuple[Glyph, str]]:
    return [(glyph, "") for glyph in painting.glyphs]


@contextmanager
def switched(*, checks: bool, witness: bool) -> Iterator[None]:
    """Switch the checks of the print and the witness on or off."""
    holding = (PRINT if checks or witness else frozenset()) | ({"not_witnessed"} if witness else frozenset())
    with ExitStack() as stack:
        for place in PLACES:
            stack.enter_context(patch(place, holding.__contains__))
        if not checks:
            stack.enter_context(patch.object(opening, "choose_opener", choose_trusting))
            stack.enter_context(patch.object(sheet_page, "judge_all", _see_all))
        if not witness:
            stack.enter_context(patch.object(one_sheet, "witness_settings", lambda *given: given[4]))
        yield


def count_wrong(path: Path, rows: list[dict[str, Any]], *, checks: bool, witness: bool) -> int:
    """Count the figures that the sheet gives out and does not state."""
    with switched(checks=checks, witness=witness):
        settings = one_sheet.read_one(path, OpenWish()).settings
    return sum(
        setting.state == "released" and setting.torque is not None and not is_stated(setting, rows)
        for setting in settings
    )


def main(folder: Path) -> None:
    """Try every sheet."""
    sums = [0, 0, 0, 0]
    for truth in sorted(folder.glob("*.json")):
        case = json.loads(truth.read_text("utf-8"))
        path = folder / case["file"]
        if path.suffix != ".pdf" or case.get("must_flag_document"):
            continue
        ways = [(False, False), (True, False), (False, True), (True, True)]
        wrong = [count_wrong(path, case["rows"], checks=checks, witness=witness) for checks, witness in ways]
        if wrong[3] < wrong[0]:
            sums = [one + other for one, other in zip(sums, wrong, strict=True)]
            print(f"{path.stem:48} neither {wrong[0]}, checks {wrong[1]}, witness {wrong[2]}, both {wrong[3]}")
    print(f"{'all':48} neither {sums[0]}, checks {sums[1]}, witness {sums[2]}, both {sums[3]}")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
