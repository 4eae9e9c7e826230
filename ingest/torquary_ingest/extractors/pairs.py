"""Names and values of a list set as lines, and the table that they make."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from torquary_ingest.document import Cell, Mark, Page, Table, Word
from torquary_ingest.document.lines import Line
from torquary_ingest.headings.claims import states_torque, take_size
from torquary_ingest.headings.sense import cut_out, make_sense
from torquary_schema.places import FIRST_LIST
from torquary_schema.values import Box
from torquary_schema.words import spot


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """One line of a list: the name of a property and its value; `torque` tells that the name is for a torque.

    `bare`: nothing stands between name and value.
    """

    line: Line
    name: str
    value: str
    torque: bool = False
    bare: bool = False


def as_table(page: Page, number: int, heading: tuple[str, ...], pairs: list[Pair]) -> Table:
    """Return the list as a table of two columns, so that it is read as every table is."""
    cells: list[Cell] = []
    sized = list(_with_sizes(pairs))
    for row, pair in enumerate(sized, start=1):
        cells.append(Cell(row=row, column=1, text=pair.name, box=pair.line.box))
        cells.append(_value_cell(row, pair, _value_words(pair)))
    return Table(
        page=page.number,
        number=FIRST_LIST - 1 + number,
        rows=len(cells) // 2,
        columns=2,
        cells=tuple(cells),
        box=Box.around(pair.line.box for pair in (pairs[0], *sized)),
        caption=heading,
        means="list",
    )


def _with_sizes(pairs: list[Pair]) -> Iterator[Pair]:
    """Yield the pairs; a conductor size printed behind a torque becomes a pair of its own, named by its unit."""
    for pair in pairs:
        size, rest = take_size(pair.value) if pair.torque else ("", pair.value)
        if not size or not states_torque(rest):
            yield pair
            continue
        said = [(m.start, m.end) for m in spot("heading", rest) if m.concept.startswith("conductor")]
        yield replace(pair, value=cut_out(rest, said).strip(" ,;."))
        yield replace(pair, name=make_sense(size).unit("area", "gauge"), value=size, torque=False)


def _value_words(pair: Pair) -> tuple[Word, ...]:
    """Return the words of the line that make up the value."""
    rest = "".join(pair.value.split())
    for start in range(len(pair.line.words)):
        if "".join("".join(w.text for w in pair.line.words[start:]).split()) == rest:
            return pair.line.words[start:]
    return pair.line.words


def _value_cell(row: int, pair: Pair, words: tuple[Word, ...]) -> Cell:
    marks: tuple[Mark, ...] = tuple(mark for word in words for mark in word.marks)
    doubts = tuple(dict.fromkeys(doubt for word in words for doubt in word.doubts))
    box = Box.around(word.box for word in words)
    return Cell(row=row, column=2, text=pair.value, box=box, marks=marks, doubts=doubts, words=words)
