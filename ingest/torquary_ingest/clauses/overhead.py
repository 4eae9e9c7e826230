"""The headings over a paragraph, told by style: size, weight, number, a colon at the end.

Leads and plain lines over a list are among them, which are no sections of the document.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from torquary_ingest.clauses.markers import ALONE
from torquary_ingest.document.lines import Line
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.sense import cut_out
from torquary_ingest.skeleton.language_parts import language_named
from torquary_schema.units import find_units
from torquary_schema.values import ScopeText
from torquary_schema.words import spot

_NUMBERED = re.compile(r"(?:(?:\d{1,2}\.)*\d{1,2}|[A-Z])[.)]?\s+(?=[^\W\d])")
_SECTION = re.compile(r"(?:\d{1,2}\.)+\d{0,2}\s+")
"""The number of a section, which is no part of its name."""
_RATINGS = ("current", "voltage", "power")
"""What the name of a device may give: "RB-80, one pole, 80 A"."""
_WORD = re.compile(r"[^\W\d_]{2,}")
_MOST_WORDS = 12
_NOTE_WORDS = 2
"""Words of a line at most that is nothing but the word for a note: "Important note"."""
_PLAIN_WORDS = 8
"""Words of a line at most that heads others though it is set as they are."""
_LARGER = 0.4
"""Points by which the type of a heading is larger at least."""
_BOLD = 0.3
"""What bold type counts beside its size in points."""
_LEAD = 0.2
"""What a colon at the end takes: a lead stands under the headings of its style."""
_FAR = 2.5
"""Type sizes of white behind which a heading in the type of the text, or a lead, no longer speaks."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Heading:
    text: str
    rank: float
    depth: int | None
    line: Line
    styled: bool
    beside: tuple[Line, ...] = ()

    def speaks_for(self, line: Line) -> bool:
        """Tell whether the heading reigns over a line: of several side by side only the one above it does."""
        if self.beside:
            return _stands_over(self.line, line) and not any(_stands_over(one, line) for one in self.beside)
        return self.styled or _stands_over(self.line, line)


class Overhead:
    """The headings in force while a document's paragraphs are taken in order.

    Headings of one style at one height part the page in columns: each speaks for its own.
    """

    def __init__(self) -> None:
        self._open: list[_Heading] = []
        self._body = 0.0
        self._bold = False
        self._last: Line | None = None
        self._lines: Sequence[Line] = ()

    def open_page(self, lines: Sequence[Line]) -> None:
        """Look at a page's lines: the type of its text is the one that most letters are set in.

        Of a page whose headings alone are known the text is taken to be set as that of the page before.
        """
        self._lines = lines
        letters: dict[tuple[float, bool], int] = {}
        for line in (line for line in lines if not line.glimpsed):
            style = (round(line.size, 1), line.bold)
            letters[style] = letters.get(style, 0) + len(line.text)
        if letters:
            self._body, self._bold = max(letters, key=lambda style: letters[style])
        self._open = [heading for heading in self._open if heading.styled]
        self._last = None

    def nearest(self, paragraph: Sequence[Line]) -> tuple[Line, ...]:
        """Return the heading right over a paragraph, if it is set as the paragraph is or smaller: its name."""
        heading = next(reversed(self._open), None)
        near = heading is not None and heading.line is self._last and not heading.line.size > paragraph[0].size
        return (heading.line,) if heading is not None and near and heading.speaks_for(paragraph[0]) else ()

    def over(self, paragraph: Sequence[Line]) -> tuple[ScopeText, ...]:
        """Return the headings over a paragraph, nearest first."""
        line = paragraph[0]
        far = self._last is not None and line.box.top - self._last.box.bottom > _FAR * line.size
        if far:
            self._open = [heading for heading in self._open if heading.styled]
        over = [heading for heading in self._open if heading.text and heading.speaks_for(line)]
        return tuple(
            ScopeText(
                kind="section" if one.styled else "list_heading", text=one.text, page=one.line.page
            )
            for one in reversed(over)
        )

    def take(self, paragraph: Sequence[Line], *, marked: bool) -> None:
        """Take a paragraph: as a heading, where its style says so, it ends those of the same or a lower rank."""
        self._last = paragraph[-1]
        rank = self._rank_of(paragraph, marked=marked)
        if rank is None:
            return
        text = " ".join(line.text for line in paragraph)
        numbered = _NUMBERED.match(text)
        depth = numbered[0].rstrip(" .").count(".") if numbered else None
        heading = _Heading(
            text="" if _names_document(text) or _heads_notes(text) else _SECTION.sub("", text),
            rank=rank,
            depth=depth,
            line=paragraph[-1],
            styled=self._is_styled(paragraph[0]),
            beside=self._beside(paragraph[0]),
        )
        kept = (one for one in self._open if _stands_above(one, heading) or _is_beside(one, heading))
        self._open = [*kept, heading]

    def _beside(self, line: Line) -> tuple[Line, ...]:
        """Return the headings in the style of a line at its height; else those of the column that it stands in."""
        style = line.size, line.bold
        level = [one for one in self._lines if one is not line and one.box.level_with(line.box)]
        same = [one for one in level if (one.size, one.bold) == style]
        heads = tuple(one for one in same if _may_head(one.text))
        over = (one.beside for one in reversed(self._open) if one.beside and one.speaks_for(line))
        return heads or next(over, ())

    def _is_styled(self, line: Line) -> bool:
        bold = line.bold and not self._bold
        return bold or line.size > self._body + _LARGER

    def _rank_of(self, paragraph: Sequence[Line], *, marked: bool) -> float | None:
        """Return the rank of a heading by its style; None for a paragraph that heads nothing."""
        line = paragraph[0]
        text = " ".join(one.text for one in paragraph).rstrip()
        lead, styled = text.endswith((":", "：")), self._is_styled(line)
        if ALONE.fullmatch(text) or not _may_head(text, styled=styled):
            return None
        section = _SECTION.match(text) is not None
        plain = len(text.split()) <= _PLAIN_WORDS and ":" not in text and (not marked or section)
        if not (styled or lead or plain) or (marked and not (section or lead)):
            return None
        bold = _BOLD * line.bold
        return round(line.size + bold - (_LEAD if lead and not styled else 0), 1)


def _may_head(text: str, *, styled: bool = False) -> bool:
    """Tell whether a text may be a heading: a few words without a torque, no sentence and no "Note" set as text is."""
    words = len(text.split())
    if not _WORD.search(text) or words > _MOST_WORDS or text.endswith((".", ";", ",")):
        return False
    figures = any(unit.kind not in _RATINGS for unit in find_units(text))
    noted = _heads_notes(text) and not styled
    return not (noted or states_torque(text) or figures)


def _heads_notes(text: str) -> bool:
    """Tell whether a text is nothing but the word for notes: as a heading it names nothing, and ends those before."""
    return len(text.split()) <= _NOTE_WORDS and bool(spot("note_word", text))


def _names_document(text: str) -> bool:
    """Tell whether a text is nothing but a kind of document, or the language that follows: "DE – Montageanleitung"."""
    found = [match for match in spot("document_word", text) if match.concept in ("datasheet", "language")]
    rest = cut_out(text, [(match.start, match.end) for match in found]).split()
    if language_named(text):
        rest = rest[1:]
    return len(found) + bool(language_named(text)) > 0 and not _WORD.search(" ".join(rest))


def _stands_above(one: _Heading, heading: _Heading) -> bool:
    """Tell whether a heading stays in force over another: it is set larger, or its number is of a higher section."""
    deeper = one.depth is not None and heading.depth is not None and one.depth < heading.depth
    return one.rank > heading.rank or (one.rank == heading.rank and deeper)


def _is_beside(one: _Heading, heading: _Heading) -> bool:
    """Tell whether two headings are of columns side by side: neither ends the other."""
    parted = bool(one.beside) and bool(heading.beside)
    return parted and not (one.speaks_for(heading.line) or heading.speaks_for(one.line))


def _stands_over(heading: Line, line: Line) -> bool:
    return heading.box.x0 < line.box.x1 and line.box.x0 < heading.box.x1
