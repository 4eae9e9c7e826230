"""Torques in running text, steps, bullets and call-outs: "Tighten the terminals to 2.5 N·m"."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from torquary_ingest.clauses.clause import Clause, Stretch
from torquary_ingest.clauses.items import Item, ends_sentence, set_items
from torquary_ingest.clauses.markers import ALONE, is_bullet
from torquary_ingest.clauses.quantity_lists import Listed, pair_lists
from torquary_ingest.clauses.tables_of_text import cut_strips, is_text
from torquary_ingest.clauses.telling import Told, tell_torques
from torquary_ingest.clauses.values import set_values
from torquary_ingest.document import Cell, Document, Doubt, Entry, HeadingLine, Page, Reading, Table, Word
from torquary_ingest.document.lines import CLOSE, Line, is_note_line, set_lines
from torquary_ingest.extractors.listed import find_lists
from torquary_ingest.extractors.value_lines import set_clauses
from torquary_ingest.headings.sense import Sense, make_sense
from torquary_ingest.tables.boxes import find_text_boxes
from torquary_schema.roles import spot_roles
from torquary_schema.torque_kinds import tightening_words
from torquary_schema.values import Box, Place

_SAME_EDGE = 1.0
"""Points by which the left or right ends of its lines differ at most."""


class Sentences:
    """Reads sentences that give a torque with its unit."""

    name = "sentences"
    specific = False

    def recognises(self, document: Document) -> bool:
        """Return True for documents whose pages have words of their own."""
        return any(page.words for page in document.pages)

    def readings(self, document: Document, tables: tuple[Table, ...]) -> Iterable[Reading]:
        """Yield a reading for each torque that a paragraph, step or item gives."""
        texts = [table for table in tables if is_text(table)]
        groups = _groups_in(document, tables)
        clauses = [item for _, lines in groups for item in set_clauses(lines)]
        blocks = _blocks_of(groups, texts, clauses)
        strips = [strip for table in texts for strip in cut_strips(table)]
        values = [item for strip in strips for item in set_values(strip.lines, strip.names)]
        items = set_items(blocks)
        paired = list(pair_lists(items))
        yield from map(_read_listed, paired)
        read = {id(one.item) for one in paired}
        rest = [item for item in items if id(item) not in read]
        yield from map(_read, tell_torques([*rest, *values, *clauses], document.members))


def _groups_in(document: Document, tables: Sequence[Table]) -> list[tuple[int | None, list[Line]]]:
    """Return the running text of all pages in order, of those not read closely the headings, under which others stand.
    """
    found = {page.number: list(_groups_of(page, tables, document)) for page in document.pages}
    glimpsed: dict[int, list[Line]] = {}
    for heading in document.glimpsed:
        if heading.page not in found and heading.text not in document.running:
            glimpsed.setdefault(heading.page, []).append(_line_of(heading))
    found |= {number: [(number, lines)] for number, lines in glimpsed.items()}
    return [group for number in sorted(found) for group in found[number]]


def _groups_of(page: Page, tables: Sequence[Table], document: Document) -> Iterator[tuple[int | None, list[Line]]]:
    """Yield the running text of each box of a page, and then its other lines with the page's number."""
    lines = _lines_of(page, tables, document)
    for box in find_text_boxes(page, page.words):
        inside = [line for line in lines if box.holds(line.box.middle)]
        lines = [line for line in lines if line not in inside]
        yield None, inside
    yield page.number, [line for line in lines if not _is_cell(line, lines)]


def _lines_of(page: Page, tables: Sequence[Table], document: Document) -> list[Line]:
    """Return the lines of a page that are no table's, list's or note's, and no running head."""
    here = [table for table in tables if table.page == page.number]
    lists = find_lists(page, here, document.taught)
    listed = {id(word) for _, pairs in lists for pair in pairs for word in pair.line.words}
    free = (line for line in set_lines(page, here) if id(line.words[0]) not in listed and not is_note_line(line))
    return [line for line in free if line.text not in document.running]


def _line_of(heading: HeadingLine) -> Line:
    words = (Word(text=heading.text, box=heading.box, size=heading.size, bold=heading.bold),)
    return Line(page=heading.page, words=words, text=heading.text, box=heading.box, size=heading.size, glimpsed=True)


def _blocks_of(
    groups: Iterable[tuple[int | None, Sequence[Line]]], texts: Sequence[Table], apart: Sequence[Item]
) -> Iterator[Sequence[Line]]:
    """Yield the lines of all pages in order, each box by itself; those of items that are read apart are left out."""
    taken = {id(line) for item in apart for line in item.lines}
    for number, lines in groups:
        free = [line for line in lines if id(line) not in taken]
        yield from _in_order(free, [table for table in texts if table.page == number])


def _in_order(lines: Sequence[Line], tables: Sequence[Table]) -> Iterator[Sequence[Line]]:
    """Yield the lines of a page down to each table of text, and then those of its columns."""
    waiting = list(lines)
    for table in tables:
        above = [line for line in waiting if table.box and line.box.top < table.box.top]
        waiting = [line for line in waiting if line not in above]
        yield above
        yield from (strip.lines for strip in cut_strips(table) if not strip.names)
    yield waiting


def _is_cell(line: Line, lines: Sequence[Line]) -> bool:
    """Tell whether a bare figure stands in a row of texts, so that no line says what it is for.

    A name left of it ("Main terminals     2.5 N·m") does, the text before it on the page does not.
    """
    numbers_step = ALONE.fullmatch(line.text) is not None
    if not make_sense(line.text).figure or numbers_step or ends_sentence(line, lines) or _goes_on(line, lines):
        return False
    middle = line.box.middle[1]
    beside = [
        other for other in lines if other is not line and other.box.top < middle < other.box.bottom
    ]
    return len(beside) > 1 or any(other.box.x0 > line.box.x0 for other in beside)


def _goes_on(line: Line, lines: Sequence[Line]) -> bool:
    """Tell whether a line stands in a call-out: right under or over others, one of which names the torque it gives."""
    stack = [line]
    for one in stack:
        stack += [other for other in lines if other not in stack and _is_next(one, other)]
    return len(stack) > 1 and any(tightening_words(one.text) for one in stack)


def _is_next(line: Line, other: Line) -> bool:
    upper, lower = sorted((line, other), key=lambda one: one.box.top)
    edge = min(abs(upper.box.x0 - lower.box.x0), abs(upper.box.x1 - lower.box.x1))
    return edge < _SAME_EDGE and 0 <= lower.box.top - upper.box.bottom < CLOSE * line.size


def _read(told: Told) -> Reading:
    """Return the reading of a clause."""
    item, clause = told.item, told.clause
    words = item.words_at(clause.start, clause.end)
    text = " ".join(item.text[clause.start : clause.end].split())
    return Reading(
        place=Place(page=told.page, box=Box.around(word.box for word in words), text=text),
        entries=tuple(_entries(told)),
        scope=told.scope,
        doubts=(*clause.doubts, *_bare_doubts(item, clause)),
    )


def _read_listed(listed: Listed) -> Reading:
    """Return the reading of a torque in a list, with the sizes that another list has for its label."""
    item = listed.item
    words = item.words_at(listed.label.start, listed.torque.end)
    text = " ".join(item.text[listed.label.start : listed.torque.end].split())
    sizes = (Entry(field="conductor", cell=_cell(listed.sized, one), heading=one.said) for one in listed.sizes)
    sense = make_sense(listed.heading)
    torque = Entry(field=_side_of(sense), cell=_cell(item, listed.torque), heading=listed.heading)
    return Reading(
        place=Place(page=item.page_of(listed.torque.start), box=Box.around(word.box for word in words), text=text),
        entries=(Entry(field="terminal", cell=_cell(item, listed.label)), *sizes, torque),
        scope=item.over,
    )


def _entries(told: Told) -> Iterator[Entry]:
    item, clause = told.item, told.clause
    yield from (Entry(field="terminal", cell=_cell(item, one)) for one in clause.names)
    if told.over:
        yield Entry(field="terminal", cell=Cell(row=1, column=1, text=told.over))
    if clause.general is not None and told.general:
        yield Entry(field="terminal", cell=_cell(item, clause.general))
    elif clause.general is not None and not clause.names:
        yield Entry(
            field="qualifier", cell=_cell(item, clause.general), heading=clause.general.text
        )
    yield from (Entry(field="device", cell=_cell(item, one)) for one in clause.devices)
    for one in clause.sizes:
        yield Entry(field="conductor", cell=_cell(item, one), heading=one.said, unit_printed=one.unit)
    if not any(one.said for one in clause.sizes):
        yield from (Entry(field="stranding", cell=_cell(item, one)) for one in clause.kinds)
    yield from (Entry(field="thread", cell=_cell(item, one)) for one in clause.threads)
    yield from (Entry(field="bit", cell=_cell(item, one)) for one in clause.drives)
    yield from _torques(told)


def _torques(told: Told) -> Iterator[Entry]:
    item, clause = told.item, told.clause
    side = _side_over(item) if clause.side == "torque" and not clause.bound else clause.side
    for field, figures in ((side, clause.figures), ("torque_max", clause.bound)):
        for one in figures:
            yield Entry(
                field=field, cell=_marked(told, one), heading=clause.quantity, unit_printed=one.unit
            )


def _side_over(item: Item) -> str:
    """Return the side that the nearest heading of torques limits: "Maximum tightening torques:"."""
    senses = (make_sense(one.text) for one in item.over)
    sense = next((one for one in senses if one.has("torque", "torque_max", "torque_min")), None)
    return _side_of(sense) if sense is not None else "torque"


def _side_of(sense: Sense) -> str:
    highest, lowest = sense.maximum or sense.has("torque_max"), sense.minimum or sense.has("torque_min")
    return "torque" if highest == lowest else "torque_max" if highest else "torque_min"


def _cell(item: Item, one: Stretch) -> Cell:
    words = item.words_at(one.start, one.end)
    marks = tuple(mark for word in words for mark in word.marks)
    doubts = tuple(dict.fromkeys(doubt for word in words for doubt in word.doubts))
    box = Box.around(word.box for word in words) if words else None
    return Cell(row=1, column=1, text=one.text, box=box, marks=marks, doubts=doubts, words=words)


def _marked(told: Told, one: Stretch) -> Cell:
    """Return the cell of a figure with the note marks and doubts of all words of its clause."""
    words = [
        word
        for word in told.item.words_at(told.clause.start, told.clause.end)
        if not is_bullet(word.text)
    ]
    marks = (*(mark for word in words for mark in word.marks), *told.item.marks)
    doubts = tuple(dict.fromkeys(doubt for word in words for doubt in word.doubts))
    cell = _cell(told.source, one)
    return replace(cell, marks=marks, doubts=tuple(dict.fromkeys((*cell.doubts, *doubts))))


def _bare_doubts(item: Item, clause: Clause) -> Iterator[Doubt]:
    """Yield a doubt for a bare figure over which no line says that it is a torque, or the terminals it is for."""
    line = item.over[0].text if item.over else ""
    named = make_sense(line).has("torque", "terminal") or bool(spot_roles(line))
    if make_sense(item.text).figure and not clause.names and not named:
        message = f"{item.text.strip()!r} stands alone and no line over it names a torque"
        yield Doubt(code="terminal_missing", message=f"{message}; look at the sheet what it is for")
