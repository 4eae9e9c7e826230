"""Tables built from lines and pages set from lines, for every test of extractors."""

from __future__ import annotations

from torquary_ingest.document import Cell, Document, Page, Reading, Table, Word
from torquary_ingest.extractors.headed import HeadedTables
from torquary_schema.values import Box


def table(*rows: str, caption: tuple[str, ...] = (), page: int = 1, number: int = 1) -> Table:
    """Build a table from lines; cells parted by "|", "<" takes over the cell to the left, "^" the one above."""
    texts = [[text.strip() for text in row.split("|")] for row in rows]
    width = max(len(row) for row in texts)
    cells = []
    for r, row in enumerate(texts):
        for c, text in enumerate(row):
            if text in ("<", "^"):
                continue
            across = 1
            while c + across < len(row) and row[c + across] == "<":
                across += 1
            down = 1
            while r + down < len(texts) and c < len(texts[r + down]) and texts[r + down][c] == "^":
                down += 1
            cells.append(Cell(row=r + 1, column=c + 1, text=text, row_span=down, column_span=across))
    return Table(
        page=page, number=number, rows=len(texts), columns=width, cells=tuple(cells), caption=caption, means="ruled"
    )


def read(*tables: Table) -> list[Reading]:
    document = Document(file="x", kind="test", pages=(Page(number=1),), page_count=1)
    return list(HeadedTables().readings(document, tables))


def parts(reading: Reading, *fields: str) -> list[tuple[str, str]]:
    return [(entry.cell.text, entry.unit_printed) for entry in reading.entries if entry.field in fields]


def page(*lines: str) -> Document:
    """Set each line on the page, 20 points apart, in type of 9 points."""
    words = []
    for number, line in enumerate(lines):
        x = 50.0
        for text in line.split():
            box = Box(x0=x, top=40 + 20.0 * number, x1=x + 5.0 * len(text), bottom=49 + 20.0 * number)
            words.append(Word(text=text, box=box, size=9.0, baseline=box.bottom))
            x = box.x1 + 3
    pages = (Page(number=1, width=600, height=800, words=tuple(words)),)
    return Document(file="x", kind="test", pages=pages, page_count=1)
