"""Whether the page for the pocket answers as `torquary find` does: questions at random, put to both.

Run: python tests/bench/pocket_against_find.py CATALOGUE [QUESTIONS] [SEED]; the catalogue of the question bank is made
where there is none. Questions are put to the catalogue together, as a plan puts them, every twentieth alone too.
Needs Chromium. Ends with status 1 if any answer differs, the first of which are shown.
"""

from __future__ import annotations

import json
import sys
import tempfile
import time
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1] / "catalogue"))
sys.path.insert(0, str(Path(__file__).parents[1]))

from browser import start
from pocket_questions import BY_PAGE, answer_by_command, make_questions, name_rows
from question_bank import sheets

from torquary_catalogue.find.together import AskedTogether
from torquary_catalogue.load import load_sheets
from torquary_catalogue.pocket import choose, write_pocket
from torquary_catalogue.store import Catalogue, open_catalogue

_SHOWN = 12
_AT_ONCE = 200
_ALONE = 20


def main(path: Path, count: int, seed: int) -> int:
    """Compare, and say how many answers differ and of which kinds they are."""
    if not path.exists():
        load_sheets(path, sheets())
    kinds: dict[str, int] = {}
    differing, began = 0, time.monotonic()
    with (
        open_catalogue(path) as catalogue,
        tempfile.TemporaryDirectory() as folder,
        start(Path(folder) / "profile") as page,
    ):
        chosen = choose(catalogue)
        made = {"made_on": datetime.now(UTC).date(), "good_for": 90, "unit": "newton_metre", "pictures": False}
        file = Path(folder) / "pocket.html"
        file.write_text(write_pocket(catalogue, chosen, **made).text, encoding="utf-8")
        page.open(file, wide=360)
        rows = [(row.sheet, row.id) for row in chosen.rows]
        asked = list(make_questions(catalogue, count, seed))
        for at in range(0, len(asked), _AT_ONCE):
            some = asked[at : at + _AT_ONCE]
            by_commands = answer_together(catalogue, some)
            told_by_page = page.run(f"{json.dumps(some)}.map({BY_PAGE})")
            for words, told, by_command in zip(some, told_by_page, by_commands, strict=True):
                by_page = name_rows(told, rows)
                kind = by_command.get("kind", "refused")
                kinds[kind] = kinds.get(kind, 0) + 1
                if by_page != by_command:
                    differing += 1
                    if differing <= _SHOWN:
                        show(words, by_page, by_command)
    said = ", ".join(f"{number} {kind}" for kind, number in sorted(kinds.items()))
    print(f"{len(asked)} questions in {time.monotonic() - began:.0f} s ({said}): {differing} answers differ")
    return int(differing > 0)


def answer_together(catalogue: Catalogue, asked: list[str]) -> list[dict[str, Any]]:
    """Return what `find` says to each; AssertionError where it says something else to one that is asked alone."""
    together = AskedTogether(catalogue)
    told = together.tell_each([partial(answer_by_command, together, words) for words in asked])
    for at in range(0, len(asked), _ALONE):
        assert told[at] == answer_by_command(catalogue, asked[at]), asked[at]
    return [one for one in told if isinstance(one, dict)]


def show(words: str, by_page: dict[str, object], by_command: dict[str, object]) -> None:
    """Print where two answers to the same words differ."""
    print(f"{words!r}")
    for name in dict.fromkeys([*by_command, *by_page]):
        if by_page.get(name) != by_command.get(name):
            print(f"   {name}: page {by_page.get(name)!r}\n   {' ' * len(name)}  find {by_command.get(name)!r}")


if __name__ == "__main__":
    numbers = [int(text) for text in sys.argv[2:]]
    sys.exit(main(Path(sys.argv[1]), *[*numbers, *[10_000, 20][len(numbers) :]]))
