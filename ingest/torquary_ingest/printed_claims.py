"""What of a reading must stand on paper: the printed words of its figures, sizes and units, as claims."""

from __future__ import annotations

import itertools
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from torquary_ingest.document import Cell, Document, Entry, Reading, Table, Word
from torquary_ingest.document.lines import Line, set_lines
from torquary_ingest.figures.kinds import cell_kind
from torquary_ingest.headings.units_stated import stated_unit
from torquary_ingest.witness import Claim, fold_text
from torquary_schema.units import find_units
from torquary_schema.values import Box, Place

_FIELDS = ("torque", "conductor", "unit")
_FIGURE = re.compile(r"[\d½¼¾⅓⅔⅛⅜⅝⅞.,/±+<>≤≥÷~…‐‑‒–—−-]+")
_LONGEST_UNIT = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """A claim and the page (from 1) that it is printed on."""

    page: int
    claim: Claim


class Prints:
    """The printed words of one document, by what they are asked for."""

    def __init__(self, document: Document, tables: Sequence[Table]) -> None:
        self._pages = {page.number: page for page in document.pages}
        self._tables = tables
        self._lines: dict[int, tuple[Line, ...]] = {}
        self._units: dict[tuple[int, int, int, int, str], tuple[Printed, ...]] = {}

    def of_reading(self, reading: Reading) -> tuple[Printed, ...] | None:
        """Return the claims of a reading; None where a figure, size or stated unit has no print to compare."""
        found: dict[Printed, None] = {}
        for entry in reading.entries:
            if not entry.field.startswith(_FIELDS) or not entry.cell.text.strip():
                continue
            place = entry.place or reading.place
            claims = claim_cell(self._with_words(entry.cell, place.page))
            units = self._of_units(place, entry)
            if not claims or units is None or place.page is None:
                return None
            found.update(dict.fromkeys(Printed(page=place.page, claim=claim) for claim in claims))
            found.update(dict.fromkeys(units))
        return tuple(found)

    def _with_words(self, cell: Cell, number: int | None) -> Cell:
        """Return the cell with the words in its box, if its extractor has not handed them on."""
        page, box = self._pages.get(number or 0), cell.box
        if cell.words or page is None or box is None:
            return cell
        return replace(cell, words=tuple(word for word in page.words if box.holds(word.box.middle)))

    def _of_units(self, place: Place, entry: Entry) -> tuple[Printed, ...] | None:
        """Return the claims of the units that stand outside the entry's cell; None if one is printed nowhere."""
        found: list[Printed] = []
        printed = {unit.printed for unit in find_units(entry.unit_printed)} or {entry.unit_printed} - {""}
        for unit in sorted(printed):
            if unit in entry.cell.text:
                continue
            key = (place.page or 0, place.table or 0, entry.cell.row, entry.cell.column, unit)
            if key not in self._units:
                self._units[key] = self._find_unit(place, entry, unit)
            if not self._units[key]:
                return None
            found += self._units[key]
        return tuple(found)

    def _find_unit(self, place: Place, entry: Entry, unit: str) -> tuple[Printed, ...]:
        """Find a unit in the cells in line with the entry, above it, in lines that state it, or on earlier pages."""
        page = place.page or 0
        here = [t for t in self._tables if (t.page, t.number) == (page, place.table)]
        cells = [(page, cell.words) for table in here for cell in _in_line(table, entry.cell)]
        # "Torque min. N·m" gives its unit to the "max." beside it.
        above = [(page, cell.words) for table in here for cell in table.cells if cell.row < entry.cell.row]
        earlier = sorted({number for number in self._pages if number <= page}, reverse=True)
        for words in itertools.chain([cells, above], (self._words_stating(number, entry, unit) for number in earlier)):
            claims = [Printed(page=at, claim=claim_words(run)) for at, each in words if (run := find_run(each, unit))]
            if claims:
                return tuple(dict.fromkeys(claims))
        return ()

    def _words_stating(self, number: int, entry: Entry, unit: str) -> list[tuple[int, tuple[Word, ...]]]:
        """Return the page's lines that state the unit, and the cells of the same column that print it."""
        tables = [table for table in self._tables if table.page == number]
        if number not in self._lines:
            self._lines[number] = set_lines(self._pages[number], tables)
        lines = [line for line in self._lines[number] if unit in line.text]
        stating = [(number, li.words) for li in lines if unit in stated_unit(li.text, "torque", "area", "gauge")]
        cells = [
            (number, cell.words)
            for table in tables
            for cell in table.cells
            if _meet(cell.column, cell.column_span, entry.cell.column) and unit in cell.text
        ]
        return [*stating, *cells]


def claim_cell(cell: Cell) -> tuple[Claim, ...]:
    """Return the claims of a cell: one, or of a text cut out of a longer one those of the words with its figures.

    A text of several lines without a cell of its own is claimed line by line: other words stand beside it.
    Empty where no print can be compared with the text.
    """
    if cell.box is None or not cell.words:
        return ()
    live, text = Counter(fold_text(_text(cell.words))), Counter(fold_text(cell.text))
    if live == text and cell.box == Box.around(word.box for word in cell.words):
        return tuple(map(claim_words, _lines_in(cell.words)))
    if live == text:
        return (Claim(box=cell.box, words=cell.words, text=cell.text),)
    runs = list(_telling_runs(cell))
    figures = _figures(" ".join(_text(run) for run in runs))
    return tuple(map(claim_words, runs)) if text <= live and _figures(cell.text) <= figures else ()


def _telling_runs(cell: Cell) -> Iterator[tuple[Word, ...]]:
    """Yield the neighbours on one line among the words that bear figures, marks, units or "as above"."""
    units = [find_run(cell.words, unit.printed) for unit in find_units(cell.text)]
    run: list[Word] = []
    for word in cell.words:
        kind = cell_kind(word.text)
        bare = any(char.isdigit() for char in word.text) or not any(char.isalpha() for char in word.text)
        tells = bare or (kind is not None and kind.kind == "ditto") or any(word in each for each in units)
        if run and not (tells and _on_one_line(run[-1], word)):
            yield tuple(run)
            run = []
        if tells:
            run.append(word)
    if run:
        yield tuple(run)


def _lines_in(words: Sequence[Word]) -> Iterator[tuple[Word, ...]]:
    """Yield the words of each printed line."""
    line: list[Word] = []
    for word in words:
        if line and not _on_one_line(line[-1], word):
            yield tuple(line)
            line = []
        line.append(word)
    yield tuple(line)


def _on_one_line(before: Word, word: Word) -> bool:
    return before.turn == word.turn and before.box.bottom > word.box.middle[1]


def claim_words(words: tuple[Word, ...]) -> Claim:
    """Return the claim of some words of a line or text, without what stands between and beside them."""
    box = Box.around(word.box for word in words)
    return Claim(box=box, words=words, text=_text(words))


def find_run(words: Sequence[Word], printed: str) -> tuple[Word, ...]:
    """Return the shortest run of words that spells `printed`, blanks aside; empty if none does."""
    wanted = "".join(printed.split())
    for count in range(1, _LONGEST_UNIT + 1):
        for start in range(len(words) - count + 1):
            run = tuple(words[start : start + count])
            if wanted in "".join("".join(word.text.split()) for word in run):
                return run
    return ()


def _in_line(table: Table, cell: Cell) -> Iterator[Cell]:
    for other in table.cells:
        above = other.row < cell.row and _meet(other.column, other.column_span, cell.column)
        beside = other.column != cell.column and _meet(other.row, other.row_span, cell.row)
        if above or beside:
            yield other


def _meet(start: int, span: int, at: int) -> bool:
    return start <= at < start + span


def _text(words: Sequence[Word]) -> str:
    return " ".join(word.text for word in words)


def _figures(text: str) -> Counter[str]:
    """Count the figures of a text, marks and ranges included."""
    runs = (run.strip(".,-–") for run in _FIGURE.findall(text))
    return Counter(run for run in runs if any(char.isdigit() for char in run))
