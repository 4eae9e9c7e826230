"""How far a statement reaches: from where it stands to what it surely speaks for, and no further."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from torquary_ingest.document import Cell, Document, Reading, Table, Word
from torquary_ingest.document.lines import CLOSE, Line, set_lines
from torquary_ingest.headings.grid import text_of
from torquary_ingest.lexis.note_marks import LEADING_MARK, NOTE_SIGNS
from torquary_ingest.scope.chain import Level
from torquary_ingest.scope.statement import Statement, read_statement
from torquary_schema.values import ScopeText

_SENTENCE_WORDS = 5
"""Words of a line from which it is a sentence that may go on (own choice)."""

_DEGREE = ("°", "º", "℃")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """A statement with its page and, where it stands right under a table, that table's number."""

    statement: Statement
    page: int
    below: int | None = None


class Statements:
    """The statements of a document, and which of them speak for a reading.

    A text over a reading speaks for it, nearest first; a line right under its table does; other lines of the page
    (or of a page without figures) only where they limit what is allowed or say that they hold for all, and of the
    kind of conductor only where the page has no second list that it may be about; of copper also from other
    pages, where no text of the document speaks of another metal.
    """

    def __init__(self, document: Document, tables: Sequence[Table], readings: Sequence[Reading]) -> None:
        self._lines = {page.number: set_lines(page) for page in document.pages}
        self._stated = tuple(_find(document, tables))
        blocks: dict[int | None, set[int | None]] = {}
        for reading in readings:
            blocks.setdefault(reading.place.page, set()).add(reading.place.table)
        self._blocks = blocks
        self._begun = _beginnings(tables)
        self._of_metal = tuple(_copper_for_all(stated.statement for stated in self._stated))

    def of(
        self, reading: Reading, chain: Sequence[Level], notes: Sequence[ScopeText]
    ) -> Iterator[tuple[Statement, ...]]:
        """Yield the statements that speak for a reading, those that are equally near together, nearest first.

        `notes` are the notes that hang on it.
        """
        remarks = [text_of(entry.cell) for entry in reading.entries if entry.field == "note"]
        own = (read_statement(text, over=True) for text in (*remarks, *(note.text for note in notes)))
        yield tuple(replace(one, page=reading.place.page) for one in own if one is not None)
        for one in reading.scope:
            found = read_statement(one.text, over=True)
            if found is not None and self._holds_over(one, found):
                yield (replace(found, page=one.page),)
        place = reading.place
        begun = self._begun.get((place.page, place.table))
        yield tuple(s.statement for s in self._stated if begun and self._begun.get((s.page, s.below)) == begun)
        near = [s for s in self._stated if s.page == place.page or s.page not in self._blocks]
        alone = len(self._blocks.get(place.page, ())) <= 1
        yield tuple(dict.fromkeys(wide for s in near if (wide := _wide(s.statement, alone=alone)) is not None))
        head = (read_statement(text) for level in chain if level.kind == "sheet" for text in level.texts)
        yield tuple(_of_wiring(one) for one in head if one is not None and (one.explicit or one.named))
        yield self._of_metal

    def _holds_over(self, one: ScopeText, found: Statement) -> bool:
        """Tell whether a text over figures speaks for all of them: beside another text it may head a column."""
        if not (found.explicit or found.named):
            return False
        here = [line for line in self._lines.get(one.page or 0, ()) if line.text.strip() == one.text]
        return not found.says_kind or not any(_beside(line, self._lines[line.page]) for line in here)


def _beginnings(tables: Sequence[Table]) -> dict[tuple[int | None, int | None], tuple[int, int]]:
    """Return for each table, by page and number, the one that it goes on from: the last overleaf under its headings."""
    found: dict[tuple[int | None, int | None], tuple[int, int]] = {}
    last: dict[int, Table] = {}
    for table in sorted(tables, key=lambda one: (one.page, one.number)):
        before = last.get(table.page - 1) if table.page not in last else None
        goes_on = before is not None and _heads(before) == _heads(table)
        own = (table.page, table.number)
        found[own] = found[(before.page, before.number)] if before is not None and goes_on else own
        last[table.page] = table
    return found


def _heads(table: Table) -> tuple[int, tuple[str, ...]]:
    """Return the number of columns and the texts of the first row that has one in the last of them."""
    rows: dict[int, list[str]] = {}
    for cell in table.cells:
        rows.setdefault(cell.row, []).append(text_of(cell))
    first = next((row for _, row in sorted(rows.items()) if row[-1]), [])
    return table.columns, tuple(first)


def _beside(line: Line, lines: Iterable[Line]) -> bool:
    return any(other is not line and other.box.level_with(line.box) for other in lines)


def _wide(statement: Statement, *, alone: bool) -> Statement | None:
    """Return what a statement says beyond the table it stands at; None if it says nothing there."""
    wide = statement.limits or statement.for_all or statement.applied or bool(statement.own)
    if not (wide or (alone and statement.explicit)):
        return None
    return statement if alone or statement.for_all else _of_wiring(statement)


def _of_wiring(statement: Statement) -> Statement:
    """Return what a statement says of all wiring alike: the metal and the temperature, not how conductors are built."""
    kept = tuple(one for one in statement.conditions if not one.endswith("_only") or one == "copper_only")
    return replace(statement, stranding=(), ferrule=None, conditions=kept)


def _copper_for_all(statements: Iterable[Statement]) -> Iterator[Statement]:
    """Yield what a document says of copper conductors, each once; nothing if it speaks of another metal anywhere.

    To take copper too far only narrows an answer, and no other metal is taken beyond its page.
    """
    told = list(statements)
    found = [one for one in told if one.material]
    if any(one.material != ("copper",) for one in (*found, *(own for one in told for own in one.own if own.material))):
        return
    wide = (replace(one, conditions=tuple(c for c in one.conditions if c == "copper_only")) for one in found)
    yield from dict.fromkeys(_of_wiring(one) for one in wide if one.limits or one.applied or one.for_all)


def _find(document: Document, tables: Sequence[Table]) -> Iterator[Stated]:
    """Yield the statements outside rows: in lines over and under tables, and in all other lines."""
    seen: set[tuple[int, str]] = set()
    hanging = _hanging_signs(document, tables)
    for page, below, text in _lines(document, tables):
        statement = None if (page, text) in seen or _is_marked(text, hanging) else read_statement(text)
        if statement is not None:
            seen.add((page, text))
            yield Stated(statement=replace(statement, page=page), page=page, below=below)


def _hanging_signs(document: Document, tables: Iterable[Table]) -> frozenset[str]:
    """Return the note signs that hang on a text or stand behind one; others are bullets before their lines."""
    texts: list[Word | Cell] = [word for page in document.pages for word in page.words]
    texts += [cell for table in tables for cell in table.cells]
    printed = [*(one.text[1:] for one in texts), *(mark.text for one in texts for mark in one.marks)]
    return frozenset(sign for text in printed for sign in text if sign in NOTE_SIGNS)


def _lines(document: Document, tables: Sequence[Table]) -> Iterator[tuple[int, int | None, str]]:
    for page in document.pages:
        here = [table for table in tables if table.page == page.number]
        for table in here:
            texts = (*_joined(line.strip() for line in table.below), *_last_lines(table))
            yield from ((page.number, table.number, line.strip()) for line in texts)
        for table in here:
            yield from ((page.number, None, line.strip()) for line in table.caption)
        yield from ((page.number, None, text) for text in _sentences(set_lines(page, here)))
    yield from _overheard(document)


def _overheard(document: Document) -> Iterator[tuple[int, int | None, str]]:
    """Yield the lines of pages that were passed over which may state something, joined to sentences."""
    yield from ((page.number, None, text) for page in document.passed for text in _joined(page.lines))


def _sentences(lines: Sequence[Line]) -> Iterator[str]:
    """Yield the lines of running text, one that goes on with a sentence in small letters joined to those before it.

    "ferrules only." under "KU 10: 10 to 16 mm², 2.3 N·m; flexible conductors with" speaks for that alone.
    """
    found: list[tuple[Line, str]] = []
    for line in lines:
        begun = next((at for at in range(len(found) - 1, -1, -1) if _goes_on(found[at][0], line)), None)
        if begun is None:
            found.append((line, line.text.strip()))
        else:
            found[begun] = (line, f"{found[begun][1]} {line.text.strip()}")
    return (text for _, text in found)


def _goes_on(last: Line, line: Line) -> bool:
    near = 0 <= line.box.top - last.box.bottom < CLOSE * last.size
    beside = line.box.x0 < last.box.x1 and last.box.x0 < line.box.x1
    names = last.text.rstrip().endswith(":") and len(last.text.split()) >= _SENTENCE_WORDS
    return near and beside and line.text[:1].islower() and (names or _is_open(last.text))


def _last_lines(table: Table) -> Iterator[str]:
    """Yield the texts that stand alone in the last rows of a table: lines under it that were taken into it."""
    rows: dict[int, list[str]] = {}
    for cell in table.cells:
        if cell.text.strip():
            rows.setdefault(cell.row, []).append(text_of(cell))
    last = max((row for row, texts in rows.items() if len(texts) > 1), default=table.rows)
    _, *texts = _joined([rows.get(last, [""])[-1], *(texts[0] for row, texts in rows.items() if row > last)])
    yield from texts


def _joined(texts: Iterable[str]) -> list[str]:
    """Join a text in small letters to the sentence above it that it goes on with."""
    found: list[str] = []
    for text in texts:
        if found and text[:1].islower() and _is_open(found[-1]) and len(found[-1].split()) >= _SENTENCE_WORDS:
            found[-1] = f"{found[-1]} {text}"
        else:
            found.append(text)
    return found


def _is_open(text: str) -> bool:
    return not text.rstrip().endswith((".", ":", ";", "!"))


def _is_marked(text: str, hanging: frozenset[str]) -> bool:
    """Tell whether a line opens with a note mark: it speaks for what the mark hangs on. "75 °C" is none.

    A sign that hangs on nothing is a bullet: "※ Use copper conductors".
    """
    first, *rest = text.split(maxsplit=1) or [""]
    if first in NOTE_SIGNS:
        return first in hanging
    return LEADING_MARK.match(first) is not None and not (rest and rest[0].startswith(_DEGREE))
