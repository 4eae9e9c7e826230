"""Torques in running text, bullets and call-outs: "Tighten the terminals to 2.5 N·m"."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from torquary_ingest.document import Cell, Document, Doubt, Entry, Reading, Table, Word
from torquary_ingest.document.lines import Line, is_note_line, set_lines
from torquary_ingest.extractors.listed import find_lists
from torquary_ingest.headings.claims import states_torque, take_size
from torquary_ingest.headings.name_runs import name_runs, name_spans
from torquary_ingest.headings.sense import cut_out, make_sense
from torquary_ingest.scope.over import speak_over
from torquary_schema.roles import spot_roles
from torquary_schema.units import find_units
from torquary_schema.values import Box, Place
from torquary_schema.words import spot

_SENTENCE_END = re.compile(r"(?<=[.!?;])\s+(?=[^\W\d_])(?=[A-ZÀ-ÞА-Я\u0370-\u03ff])|(?<=[。！？；])")
_SAID = frozenset({"torque", "terminal", "conductor"})
# Words of an instruction that change nothing about its figure.
_PLAIN = re.compile(
    r"(?<!\w)(?:the|all|every|each|any|with|a|an|of|at|is|are|takes?|accepts?|it|its|conductors?|wires?|leiter|be|to|must|shall|should|have|has|using|on|in|and|"
    r"torque|screws?|them|it|please|value|driver|screwdriver|der|die|das|den|dem|alle|mit|auf|sind|ist|werden|"
    r"anziehen|anzuziehen|festziehen|schrauben|zu|mit|einem|einer|le|la|les|des|du|de|serrer|à|avec|un|une|vis|"
    r"los|las|el|con|apretar|tornillos|al|il|i|gli|serrare|viti|een|met|schroeven|aandraaien|vast|"
    r"insert|into|put|place|connect|fasten|secure|then|einlegen|einführen|anschließen|dann|danach|in|"
    r"insérer|introduire|raccorder|dans|puis|inserire|collegare|nel|nella|poi|insertar|conectar|luego|en|"
    r"insteken|aansluiten|daarna)(?!\w)",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sentence:
    """A sentence with the words it is made of and the line that stands over its paragraph."""

    page: int
    text: str
    words: tuple[Word, ...]
    heading: str
    box: Box


class Sentences:
    """Reads sentences that give a torque with its unit."""

    name = "sentences"
    specific = False

    def recognises(self, document: Document) -> bool:
        """Return True for documents whose pages have words of their own."""
        return any(page.words for page in document.pages)

    def readings(self, document: Document, tables: tuple[Table, ...]) -> Iterable[Reading]:
        """Yield a reading for each torque that a sentence gives."""
        for page in document.pages:
            here = [table for table in tables if table.page == page.number]
            lists = find_lists(page, here, document.taught)
            listed = {id(word) for _, pairs in lists for pair in pairs for word in pair.line.words}
            lines = [
                line for line in set_lines(page, here) if id(line.words[0]) not in listed and not is_note_line(line)
            ]
            for sentence in cut_sentences([line for line in lines if not _is_cell(line, lines)]):
                if states_torque(sentence.text):
                    yield from read_sentence(sentence)


def _is_cell(line: Line, lines: Sequence[Line]) -> bool:
    """Tell whether a bare figure stands in a row of texts, so that no line says what it is for.

    A name left of it ("Main terminals     2.5 N·m") does, the text before it on the page does not.
    """
    if not make_sense(line.text).figure:
        return False
    middle = line.box.middle[1]
    beside = [other for other in lines if other is not line and other.box.top < middle < other.box.bottom]
    return len(beside) > 1 or any(other.box.x0 > line.box.x0 for other in beside)


def cut_sentences(lines: Sequence[Line]) -> Iterator[Sentence]:
    """Yield the sentences of the lines; lines of one size close together make a paragraph."""
    paragraph: list[Line] = []
    heading = ""
    for line in (*lines, None):
        if paragraph and (line is None or not _goes_on(paragraph[-1], line)):
            yield from _sentences_of(paragraph, heading)
            heading = paragraph[-1].text
            paragraph = []
        if line is not None:
            paragraph.append(line)


def _goes_on(above: Line, line: Line) -> bool:
    gap = line.box.top - above.box.bottom
    begins = bool(re.match(r"\s*[•●▪■◦‣∙*–—-]\s", line.text)) or above.text.rstrip().endswith((".", ":", "。"))
    begins = begins or (_ends_in_torque(above.text) and line.text[:1].isupper())
    close = gap < 0.8 * above.size and abs(line.size - above.size) < 0.6 and abs(line.box.x0 - above.box.x0) < 30
    return close and not begins


def _ends_in_torque(text: str) -> bool:
    """Tell whether a line ends in a torque: what follows in capitals is another line and no part of its sentence.

    Under a bare figure it is the name that a call-out gives it.
    """
    units = [unit for unit in find_units(text) if unit.kind == "torque"]
    ends = bool(units) and units[-1].end == len(text.rstrip())
    return ends and states_torque(text) and not make_sense(text).figure


def _sentences_of(paragraph: list[Line], heading: str) -> Iterator[Sentence]:
    text = " ".join(line.text for line in paragraph)
    words = tuple(word for line in paragraph for word in line.words)
    box = Box.around(line.box for line in paragraph)
    above = heading
    for part in _SENTENCE_END.split(text):
        if part.strip():
            yield Sentence(page=paragraph[0].page, text=part.strip(), words=words, heading=above, box=box)
            above = part.strip()


def read_sentence(sentence: Sentence) -> Iterator[Reading]:
    """Yield one reading for each clause that gives a torque; its words are kept whole in the place."""
    for clause in split_clauses(sentence.text):
        label, bare = _take_label(clause)
        size, bare = take_size(bare)
        marks = tuple(mark for word in sentence.words for mark in word.marks)
        doubts = tuple(dict.fromkeys(doubt for word in sentence.words for doubt in word.doubts))
        cell = Cell(row=1, column=1, text=bare, box=sentence.box, marks=marks, doubts=doubts, words=sentence.words)
        if not label and make_sense(clause).figure and not _names_figure(sentence.heading):
            cell = replace(cell, doubts=(*doubts, _bare(clause)))
        entries = [Entry(field=_side_of(clause), cell=cell, heading=clause)]
        if label and _numbers_terminal(clause):
            cell = replace(cell, doubts=(*doubts, _numbered(clause)))
            entries = [replace(entries[0], cell=cell)]
        if label:
            entries.insert(0, Entry(field="terminal", cell=Cell(row=1, column=1, text=label, box=sentence.box)))
        if size:
            printed = Cell(row=1, column=1, text=size, box=sentence.box, words=sentence.words)
            entries.insert(0, Entry(field="conductor", cell=printed))
        yield Reading(
            place=Place(page=sentence.page, box=sentence.box, text=sentence.text),
            entries=tuple(entries),
            scope=speak_over([sentence.heading], "list_heading", sentence.page),
        )


# A word that ends a range, and leads to the figure to set as well: "terminal 13 to 22 lb·in".
_NUMBER_TO = re.compile(r"\s*\d{1,3}\s+(?:to|à|a|al|zu|auf|bis|op|tot|til|till|do|до|na)\s+\d", re.IGNORECASE)


def _numbers_terminal(clause: str) -> bool:
    """Tell whether a whole number behind a terminal's word may be its marking or the lower end of the figures."""
    return any(_NUMBER_TO.match(clause[end:]) for _, end in name_spans(clause))


def _numbered(clause: str) -> Doubt:
    return Doubt(
        code="number_ambiguous",
        message=f"in {clause.strip()!r} the first number may mark the terminal or begin a range; look at the sheet",
    )


def _names_figure(line: str) -> bool:
    """Tell whether the line before a bare figure says what it is: a torque, or the terminals it is for."""
    return make_sense(line).has("torque", "terminal") or bool(spot_roles(line))


def _bare(clause: str) -> Doubt:
    message = f"{clause.strip()!r} stands alone and no line over it names a torque; look at the sheet what it is for"
    return Doubt(code="terminal_missing", message=message)


def _side_of(clause: str) -> str:
    """A "maximum torque" limits one side: the word goes out of the clause with "torque", and stays as the field."""
    sides = {m.concept for m in spot("heading", clause)} & {"torque_min", "torque_max"}
    return sides.pop() if len(sides) == 1 else "torque"


def split_clauses(text: str) -> list[str]:
    """Cut a sentence behind each torque unit where a new clause names another terminal."""
    ends = [unit.end for unit in find_units(text) if unit.kind == "torque"]
    clauses: list[str] = []
    start = 0
    for end in ends[:-1]:
        following = text[end : next((e for e in ends if e > end), len(text))]
        if name_spans(following) and not following.lstrip().startswith(("(", "/", "[")):
            clauses.append(text[start:end])
            start = end
    return [*clauses, text[start:]]


def _take_label(clause: str) -> tuple[str, str]:
    """Return the words that name the terminal and the clause without them and without plain words."""
    runs = name_runs(clause)
    label = " ".join(clause[start:end] for start, end in runs)
    units = find_units(clause)
    known = [(m.start, m.end) for m in spot("heading", clause) if m.concept.split("_")[0] in _SAID]
    known = [span for span in known if not any(u.start < span[1] and span[0] < u.end for u in units)]
    return label.strip(), _strip_plain(cut_out(clause, [*runs, *known]))


def _strip_plain(text: str) -> str:
    units = find_units(text)
    spans = [
        m.span() for m in _PLAIN.finditer(text) if not any(u.start <= m.start() and m.end() <= u.end for u in units)
    ]
    kept = _PLAIN_BETWEEN_FIGURES.findall(text)
    return cut_out(text, [] if kept else spans).strip(" ,.;:—–-")


# "2.0 to 2.5 N·m": here the word is the range itself and must stay.
_PLAIN_BETWEEN_FIGURES = re.compile(r"\d\s*(?:N\S*m|lb\S*)?\s+(?:to|à|al|a|zu|and)\s+\d", re.IGNORECASE)
