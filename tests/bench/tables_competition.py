"""Cell adjacency on documents of a table competition: python tests/bench/tables_competition.py FOLDER [NAME …]

FOLDER holds NAME.pdf with NAME-str.xml. A relation is a cell's text, its neighbour's, the direction and the blank
cells between (Göbel, Hassan, Oro, Orsi, "A methodology for evaluating algorithms for table understanding in PDF
documents", DocEng 2012). Precision and recall are averaged over documents; the time is the table finder's alone.
"""

from __future__ import annotations

import re
import sys
import time
import unicodedata
import xml.etree.ElementTree as ET
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

from torquary_ingest.openers.pdf import PdfOpener
from torquary_ingest.plugins import OpenWish
from torquary_ingest.tables import find_tables

Block = tuple[int, int, int, int, str]
"""First row, last row, first column, last column, text."""


def fold(text: str) -> str:
    """Text without blanks, case, or kinds of dash and quotation mark."""
    text = re.sub(r"\s+", "", unicodedata.normalize("NFKC", text).lower())
    text = re.sub("[\u2010-\u2015\u2212\uf0b7\u00ad]", "-", text)
    return re.sub("[\u2018\u2019\u201c\u201d`'\"]", "'", text)


def squeeze(blocks: Iterable[Block]) -> list[Block]:
    """Only the blocks with text, numbered anew without rows and columns that hold none of their own."""
    kept = [b for b in blocks if fold(b[4])]
    rows, columns = _numbers([(b[0], b[1]) for b in kept]), _numbers([(b[2], b[3]) for b in kept])
    return [(*_ends(rows, b[0], b[1]), *_ends(columns, b[2], b[3]), b[4]) for b in kept]


def _numbers(spans: list[tuple[int, int]]) -> dict[int, int]:
    own = {a for a, z in spans if a == z}
    for a, z in spans:
        if not own & set(range(a, z + 1)):
            own.add(a)
    return {k: i for i, k in enumerate(sorted(own))}


def _ends(numbers: dict[int, int], first: int, last: int) -> tuple[int, int]:
    inside = [numbers[k] for k in range(first, last + 1) if k in numbers]
    return min(inside), max(inside)


def relate(blocks: Iterable[Block]) -> Counter[tuple[str, str, str, int]]:
    """Neighbours to the right and below of each cell, over blank cells."""
    cells = squeeze(blocks)
    at = {(r, c): b for b in reversed(cells) for r in range(b[0], b[1] + 1) for c in range(b[2], b[3] + 1)}
    wide, high = max((b[3] for b in cells), default=0), max((b[1] for b in cells), default=0)
    out: Counter[tuple[str, str, str, int]] = Counter()
    for b in cells:
        right: dict[Block, int] = {}
        down: dict[Block, int] = {}
        for r in range(b[0], b[1] + 1):
            place = next((c for c in range(b[3] + 1, wide + 1) if (r, c) in at), None)
            if place is not None:
                right.setdefault(at[r, place], place - b[3] - 1)
        for c in range(b[2], b[3] + 1):
            place = next((r for r in range(b[1] + 1, high + 1) if (r, c) in at), None)
            if place is not None:
                down.setdefault(at[place, c], place - b[1] - 1)
        out.update((fold(b[4]), fold(n[4]), "right", gap) for n, gap in right.items())
        out.update((fold(b[4]), fold(n[4]), "down", gap) for n, gap in down.items())
    return out


def read_truth(path: Path) -> list[Counter[tuple[str, str, str, int]]]:
    """The relations of each table in a structure file."""
    tables = []
    for table in ET.fromstring(path.read_bytes()).iter("table"):
        total: Counter[tuple[str, str, str, int]] = Counter()
        for region in table.iter("region"):
            total += relate(_block(cell) for cell in region.iter("cell"))
        tables.append(total)
    return tables


def _block(cell: ET.Element) -> Block:
    r0, c0 = int(cell.get("start-row", "0")), int(cell.get("start-col", "0"))
    r1, c1 = int(cell.get("end-row") or r0), int(cell.get("end-col") or c0)
    content = cell.find("content")
    return r0, max(r0, r1), c0, max(c0, c1), "".join(content.itertext()) if content is not None else ""


def score(
    want: list[Counter[tuple[str, str, str, int]]], got: list[Counter[tuple[str, str, str, int]]]
) -> tuple[float, float]:
    """Precision and recall, each found table matched with at most one wanted."""
    pairs = sorted(((sum((w & g).values()), i, j) for i, w in enumerate(want) for j, g in enumerate(got)), reverse=True)
    right, used_want, used_got = 0, set(), set()
    for n, i, j in pairs:
        if n and i not in used_want and j not in used_got:
            used_want.add(i)
            used_got.add(j)
            right += n
    found, wanted = sum(sum(g.values()) for g in got), sum(sum(w.values()) for w in want)
    return right / found if found else 0.0, right / wanted if wanted else 0.0


def f1(precision: float, recall: float) -> float:
    """The harmonic mean."""
    return 2 * precision * recall / (precision + recall) if precision + recall else 0.0


def main() -> int:
    """Print a line for each document and the averages."""
    folder, names = Path(sys.argv[1]), set(sys.argv[2:])
    rows: list[tuple[float, float]] = []
    for pdf in sorted(folder.glob("*.pdf")):
        if names and pdf.stem not in names:
            continue
        got, spent, slowest = [], 0.0, 0.0
        for page in PdfOpener().open(pdf, OpenWish(every_page=True)).pages:
            start = time.perf_counter()
            tables = find_tables(page)
            slowest = max(slowest, time.perf_counter() - start)
            spent += time.perf_counter() - start
            got += [
                relate(
                    (c.row, c.row + c.row_span - 1, c.column, c.column + c.column_span - 1, c.text) for c in t.cells
                )
                for t in tables
            ]
        versions = [folder / f"{pdf.stem}-str.xml", folder / f"{pdf.stem[:-1]}b-str.xml"]
        truths = [read_truth(v) for v in versions if v.exists()]
        p, r = max((score(t, [g for g in got if g]) for t in truths), key=lambda s: f1(*s))
        rows.append((p, r))
        print(f"{pdf.stem:10} P {p:.3f} R {r:.3f} F1 {f1(p, r):.3f} {spent:6.2f} s, a page at most {slowest:.2f} s")
    p, r = (sum(x[k] for x in rows) / max(len(rows), 1) for k in (0, 1))
    print(f"{len(rows)} documents: precision {p:.3f} recall {r:.3f} F1 {f1(p, r):.3f}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
