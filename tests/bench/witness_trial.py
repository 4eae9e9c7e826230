"""Try the witness on generated torque cells in many fonts, with planted lies.

Usage: python tests/bench/witness_trial.py FONT_FOLDER [--fonts 40] [--cells 50] [--seed 7] [--ink-only]

Draws one page a font (sizes 5 to 12 pt; white, grey and ruled ground), a tenth of its cells with a lie of
the text layer, reads the text layer with pypdfium2 alone, without any check of ours, and asks the witness.
Prints a JSON object; exit status 1 when a lie is not caught or 0.5 % of the honest cells are disputed.
"""

from __future__ import annotations

import argparse
import json
import random
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from typing import Any

import pypdfium2
from reportlab.pdfbase import ttfonts

sys.path.insert(0, str(Path(__file__).parent))
from witness_cells import DASH, LIES, PAGE, Cell, draw_sheet

from torquary_ingest.document import Word
from torquary_ingest.witness import Claim, Witness
from torquary_schema.values import Box

NEEDED = "0123456789.,-±/()·Nmlbinax" + DASH


def choose_fonts(folder: Path, count: int, dice: random.Random) -> list[Path]:
    """Choose fonts that have every sign of a torque, at most three a family folder."""
    families: Counter[str] = Counter()
    chosen: list[Path] = []
    paths = sorted(folder.rglob("*.ttf"))
    dice.shuffle(paths)
    for path in paths:
        try:
            known = ttfonts.TTFontFile(str(path)).charToGlyph
        except Exception as error:
            print(f"{path.name}: {error}", file=sys.stderr)
            continue
        if all(ord(c) in known for c in NEEDED) and families[path.parent.name] < 3:
            families[path.parent.name] += 1
            chosen.append(path)
    return chosen[:count]


def read_words(page: Any, cell: Cell) -> tuple[Word, ...]:
    """Read a cell's words from the text layer as it is: hidden, covered and false characters included."""
    text, words, run = page.get_textpage(), [], ""
    box: Box | None = None
    for index in range(text.count_chars()):
        char = text.get_text_range(index, 1)
        left, low, right, high = text.get_charbox(index, loose=True)
        place = Box(x0=left, top=PAGE[1] - high, x1=right, bottom=PAGE[1] - low)
        inside = bool(char.strip()) and cell.box.holds(place.middle)
        if inside:
            run, box = run + char, place if box is None else box.union(place)
        if run and box is not None and not inside:
            words.append(Word(text=run, box=box, size=float(cell.size)))
            run, box = "", None
    if run and box is not None:
        words.append(Word(text=run, box=box, size=float(cell.size)))
    return tuple(words)


def try_sheet(path: Path, cells: list[Cell], *, recogniser: bool) -> list[dict[str, Any]]:
    """Ask the witness about every cell of a sheet; times are seconds a cell."""
    document = pypdfium2.PdfDocument(str(path))
    claims = []
    for cell in cells:
        words = read_words(document[0], cell)
        claims.append(Claim(box=cell.box, words=words, text=" ".join(word.text for word in words)))
    started = time.perf_counter()
    with Witness.open(path, recogniser=recogniser) as witness:
        answers = witness.check(1, claims)
    spent = (time.perf_counter() - started) / len(cells)
    return [
        {"cell": cell, "claim": claim.text, "answer": answer, "seconds": spent, "font": path.stem}
        for cell, claim, answer in zip(cells, claims, answers, strict=True)
    ]


def report(tried: list[dict[str, Any]]) -> dict[str, Any]:
    """Count what was caught, disputed and left untold."""
    honest = [t for t in tried if not t["cell"].lie]
    caught, planted, clearly = Counter[str](), Counter[str](), Counter[str]()
    for one in tried:
        if one["cell"].lie:
            planted[one["cell"].lie] += 1
            caught[one["cell"].lie] += one["answer"].agrees is not True
            clearly[one["cell"].lie] += one["answer"].agrees is False
    disputed = [t for t in honest if t["answer"].agrees is False]
    return {
        "fonts": len({t["font"] for t in tried}),
        "cells": len(tried),
        "honest": len(honest),
        "honest_disputed": len(disputed),
        "honest_disputed_percent": round(100 * len(disputed) / max(len(honest), 1), 2),
        "honest_not_told": sum(t["answer"].agrees is None for t in honest),
        "means": dict(Counter(t["answer"].means for t in honest if t["answer"].agrees)),
        "lies": sum(planted.values()),
        "lies_held": sum(caught.values()),
        "held_by_kind": {kind: f"{caught[kind]} of {planted[kind]}, {clearly[kind]} disputed" for kind in LIES},
        "milliseconds_a_cell": round(1000 * sum(t["seconds"] for t in tried) / len(tried), 1),
    }


def main() -> int:
    """Draw, ask, print."""
    options = argparse.ArgumentParser()
    options.add_argument("folder", type=Path)
    options.add_argument("--fonts", type=int, default=40)
    options.add_argument("--cells", type=int, default=50)
    options.add_argument("--seed", type=int, default=7)
    options.add_argument("--ink-only", action="store_true")
    options.add_argument("--keep", type=Path, help="folder to keep the drawn sheets in")
    options.add_argument("--show", action="store_true", help="print each wrong answer")
    wish = options.parse_args()
    dice = random.Random(wish.seed)
    tried: list[dict[str, Any]] = []
    with tempfile.TemporaryDirectory() as scratch:
        for at, font in enumerate(choose_fonts(wish.folder, wish.fonts, dice)):
            path = (wish.keep or Path(scratch)) / f"{font.stem}.pdf"
            lies = [LIES[(at * (wish.cells // 10) + n) % len(LIES)] for n in range(wish.cells // 10)]
            cells = draw_sheet(path, font, dice, lies, wish.cells)
            tried += try_sheet(path, cells, recogniser=not wish.ink_only)
    if wish.show:
        for one in tried:
            if (one["answer"].agrees is True) == bool(one["cell"].lie):
                print(one["font"], one["cell"], repr(one["claim"]), one["answer"], file=sys.stderr)
    figures = report(tried)
    print(json.dumps(figures, indent=1, ensure_ascii=False))
    return int(figures["lies_held"] < figures["lies"] or figures["honest_disputed_percent"] >= 0.5)


if __name__ == "__main__":
    sys.exit(main())
