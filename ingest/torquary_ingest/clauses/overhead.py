"""The headings over a paragraph, told by style: size, weight, number, a colon at the end.

Leads and plain lines over a list are among them, which are no sections of the document.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from torquary_ingest.document.lines import Line
from torquary_ingest.headings.claims import states_torque
from torquary_schema.units import find_units
from torquary_schema.values import ScopeText
from torquary_schema.words import spot

_NUMBERED = re.compile(r"(?:(?:\d{1,2}\.)*\d{1,2}|[A-Z])[.)]?\s+(?=[^\W\d])")
_SECTION = re.compile(r"(?:\d{1,2}\.)+\d{0,2}\s+")
"""The number of a section, which is no part of its name."""
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


class Overhead:
    """The headings in force while a document's paragraphs are taken in order."""

    def __init__(self) -> None:
        self._open: list[_Heading] = []
        self._body = 0.0
        self._bold = False
        self._last: Line | None = None

    def open_page(self, lines: Sequence[Line]) -> None:
        """Look at a page's lines: the type of its text is the one that most letters are set in."""
        letters: dict[tuple[float, bool], int] = {}
        for line in lines:
            style = (round(line.size, 1), line.bold)
            letters[style] = letters.get(style, 0) + len(line.text)
        if letters:
            self._body, self._bold = max(letters, key=lambda style: letters[style])
        self._open = [heading for heading in self._open if heading.styled]
        self._last = None

    def over(self, paragraph: Sequence[Line]) -> tuple[ScopeText, ...]:
        """Return the headings over a paragraph, nearest first."""
        line = paragraph[0]
        far = self._last is not None and line.box.top - self._last.box.bottom > _FAR * line.size
        if far:
            self._open = [heading for heading in self._open if heading.styled]
        over = [
            heading for heading in self._open if heading.styled or _stands_over(heading.line, line)
        ]
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
            text=_SECTION.sub("", text),
            rank=rank,
            depth=depth,
            line=paragraph[-1],
            styled=self._is_styled(paragraph[0]),
        )
        self._open = [*(one for one in self._open if _stands_above(one, heading)), heading]

    def _is_styled(self, line: Line) -> bool:
        bold = line.bold and not self._bold
        return bold or line.size > self._body + _LARGER

    def _rank_of(self, paragraph: Sequence[Line], *, marked: bool) -> float | None:
        """Return the rank of a heading by its style; None for a paragraph that heads nothing."""
        line = paragraph[0]
        text = " ".join(one.text for one in paragraph).rstrip()
        if not _may_head(text):
            return None
        lead, styled = text.endswith((":", "：")), self._is_styled(line)
        section = _SECTION.match(text) is not None
        plain = len(text.split()) <= _PLAIN_WORDS and ":" not in text and (not marked or section)
        if not (styled or lead or plain) or (marked and not (section or lead)):
            return None
        bold = _BOLD * line.bold
        return round(line.size + bold - (_LEAD if lead and not styled else 0), 1)


def _may_head(text: str) -> bool:
    """Tell whether a text may be a heading: a few words without a torque, no sentence and no "Note"."""
    words = len(text.split())
    if not _WORD.search(text) or words > _MOST_WORDS or text.endswith((".", ";", ",")):
        return False
    noted = words <= _NOTE_WORDS and spot("note_word", text)
    return not (noted or states_torque(text) or find_units(text))


def _stands_above(one: _Heading, heading: _Heading) -> bool:
    """Tell whether a heading stays in force over another: it is set larger, or its number is of a higher section."""
    deeper = one.depth is not None and heading.depth is not None and one.depth < heading.depth
    return one.rank > heading.rank or (one.rank == heading.rank and deeper)


def _stands_over(heading: Line, line: Line) -> bool:
    return heading.box.x0 < line.box.x1 and line.box.x0 < heading.box.x1
