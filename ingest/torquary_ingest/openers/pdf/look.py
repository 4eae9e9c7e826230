"""The quick look: which pages may hold a terminal's torque, told from their text and pictures before any is parsed.

Read are the first page, those that name a unit of torque or a word for one near figures, those whose text does not say
all, and what goes with them: the page before that leads to them, and the rows that go on behind them. Where no page
tells of a torque in words that are known, those that give conductors' sizes are read: the sheet may have its own word.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass

import pypdfium2

from torquary_ingest.document import HeadingLine, PassedPage
from torquary_ingest.openers.pdf.outline import pick_heading_lines, read_lines
from torquary_ingest.openers.pdf.page_text import PageText, count_figures, is_row, is_sentence, speaks_of_screws
from torquary_ingest.openers.pdf.page_words import OF_SCREWS
from torquary_ingest.openers.pdf.sight import Eyes
from torquary_ingest.skeleton.languages import language_of
from torquary_ingest.skeleton.running import EDGE

_EDGE = 12
"""Lines at the head or foot of a page in which a table goes on or is led to."""

_FIGURES = 2
"""Words with a digit at the head of a page from which rows may go on there."""

_ROWS = 3
"""Lines for each row on a page that is rows down to its foot, at most: cells may stand in lines of their own."""

_OPEN = re.compile(r"[^.:;!?。！？]\s*$")
_RUNNING = 3
"""Pages on which a line stands, its numbers aside, from which it is a running one."""

_RUNNING_NUMBERS = 2
_EDGE_LINES = 4
_RUNNING_LETTERS = re.compile(r"[^\W\d_]{3}")
_NUMBER = re.compile(r"\d+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Glance:
    """One page: its text, why it is read for what its text tells or does not ("" if not), and what it tells if left."""

    text: PageText
    told: str
    unseen: str
    pictures: bool
    about: bool
    headings: tuple[HeadingLine, ...]
    edges: tuple[HeadingLine, ...]
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """The numbers (from 1) of the pages to read, each with why, first those that may bear a torque themselves.

    `searched` are those of the pages to read whose pictures are searched for print; `glances` tell of every page.
    """

    why: dict[int, str]
    searched: frozenset[int] = frozenset()
    glances: tuple[Glance, ...] = ()

    @property
    def numbers(self) -> frozenset[int]:
        """The numbers (from 1) of the pages to read."""
        return frozenset(self.why)

    def headings_but(self, read: Collection[int]) -> tuple[HeadingLine, ...]:
        """Return the lines that may be headings on pages other than those read (numbers)."""
        return tuple(line for number, one in self._but(read) for line in one.headings)

    def passed_but(self, read: Collection[int]) -> tuple[PassedPage, ...]:
        """Return what pages other than those read (numbers) tell."""
        return tuple(_pass(number, one, last=number == len(self.glances)) for number, one in self._but(read))

    def _but(self, read: Collection[int]) -> Iterator[tuple[int, Glance]]:
        return ((number, one) for number, one in enumerate(self.glances, start=1) if number not in read)


def choose_pages(content: bytes, password: str, sought: Sequence[str] = ()) -> Chosen | None:
    """Return the pages worth reading, and what the others tell; None: read them all (the look failed).

    `sought` are further headings that may mean a torque.
    """
    try:
        document = pypdfium2.PdfDocument(content, password=password or None)
    except pypdfium2.PdfiumError:
        return None
    try:
        glances = list(_look_at(document, tuple(sought)))
    except pypdfium2.PdfiumError:
        return None
    finally:
        document.close()
    why = _choose(glances)
    searched = frozenset(number for number in why if glances[number - 1].unseen or glances[number - 1].about)
    return Chosen(why=why, searched=searched, glances=tuple(glances))


def _pass(number: int, one: Glance, *, last: bool) -> PassedPage:
    return PassedPage(
        number=number,
        height=one.height,
        edges=one.edges,
        lines=one.text.lines if last else one.text.lines_for_others(),
        language=language_of(one.text.text),
        unsearched=one.pictures,
    )


def _look_at(document: pypdfium2.PdfDocument, sought: tuple[str, ...]) -> Iterator[Glance]:
    eyes, in_section = Eyes(), False
    for index in range(len(document)):
        with closing(document[index]) as page, closing(page.get_textpage()) as words:
            text = PageText(words.get_text_range(), sought)
            lines, height = read_lines(page, words, index + 1), page.get_height()
            headings = pick_heading_lines(lines)
            over = [speaks_of_screws(line.text) for line in headings]
            told = text.why_read()
            about = bool(told) or text.speaks_of_torque or in_section or any(over)
            in_section = over[-1] if over else in_section
            yield Glance(
                text=text,
                told=told,
                unseen="" if told else eyes.why_read(page, words, text, about=about),
                pictures=not told and eyes.passed,
                about=about,
                headings=headings,
                edges=tuple(_edges_of(lines, height)),
                height=height,
            )


def _edges_of(lines: Sequence[HeadingLine], height: float) -> Iterator[HeadingLine]:
    return (line for line in lines if not EDGE * height < line.box.middle[1] < (1 - EDGE) * height)


def _choose(glances: Sequence[Glance]) -> dict[int, str]:
    """Return why each page is read, by its number from 1, in the order in which they are worth reading."""
    own = _without_running(glances)
    bearing = _find_bearing(glances, own)
    why = ({1: "the first page"} if glances else {}) | bearing
    for number, one in enumerate(glances, start=1):
        if one.unseen and number not in bearing:
            why[number] = one.unseen
    for number in bearing:
        if number > 1 and _leads(glances[number - 2], own[number - 2], own[number - 1]):
            why.setdefault(number - 1, "it may lead to the next page")
        for behind in _going_on(number, own):
            if behind in bearing:
                break
            why.setdefault(behind, "rows may go on from the page before")
    return why


def _find_bearing(glances: Sequence[Glance], own: Sequence[Sequence[str]]) -> dict[int, str]:
    """Return why pages may bear a torque themselves, by number; on a sheet without any, those with sizes."""
    pairs = zip(glances, [*own[1:], ()], strict=True)
    told = {number: one.told or _before_rows(one, behind) for number, (one, behind) in enumerate(pairs, start=1)}
    bearing = {number: reason for number, reason in told.items() if reason}
    sized = (number for number, one in enumerate(glances, start=1) if one.text.has_sizes())
    return bearing or dict.fromkeys(sized, "conductors' sizes, on a sheet without a known word or unit of torque")


def _going_on(number: int, own: Sequence[Sequence[str]]) -> Iterator[int]:
    """Yield the numbers of the pages behind one on which its rows may go on, as long as there are rows."""
    for behind in range(number + 1, len(own) + 1):
        if not _has_rows(own[behind - 1][:_EDGE]) or (behind > number + 1 and not _ends_in_rows(own[behind - 2])):
            return
        yield behind


def _before_rows(one: Glance, behind: Sequence[str]) -> str:
    asks = one.text.asks_at_foot(_EDGE) and _has_rows(behind[:_EDGE])
    return "a word for a torque at its foot, and rows overleaf" if asks else ""


def _leads(before: Glance, lines: Sequence[str], behind: Sequence[str]) -> bool:
    """Tell whether a page may lead to the next: a list of sizes, a heading or an open sentence at its foot."""
    foot = lines[-_EDGE:]
    labels = any(_names(before, line) for line in foot if not is_sentence(line))
    goes_on = any(not line[:1].isupper() for line in behind[:_EDGE_LINES])
    open_end = goes_on and any(_OPEN.search(line) and is_sentence(line) for line in foot[-_EDGE_LINES:])
    return before.text.has_sizes() or labels or open_end


def _names(one: Glance, line: str) -> bool:
    at = one.text.lines.index(line) if line in one.text.lines else -1
    return at >= 0 and bool(one.text.said[at] & OF_SCREWS)


def _has_rows(lines: Sequence[str]) -> bool:
    """Tell whether lines at the head of a page may be rows of a table that began before."""
    return count_figures(" ".join(filter(is_row, lines))) >= _FIGURES


def _ends_in_rows(lines: Sequence[str]) -> bool:
    """Tell whether a page is rows down to its foot, so that they may go on behind it."""
    rows = sum(map(is_row, lines))
    return rows > 1 and rows > len(lines) / _ROWS and _has_rows(lines[-_EDGE:])


def _without_running(glances: Sequence[Glance]) -> list[tuple[str, ...]]:
    """Return the lines of each page without those that stand at the edges of several pages."""
    edges = [tuple(_edge_lines(one.text.lines)) for one in glances]
    counted = Counter(key for lines in edges for key in {*lines, *map(_key, lines)})
    return [tuple(line for line in one.text.lines if not _runs(line, counted)) for one in glances]


def _runs(line: str, counted: Counter[str]) -> bool:
    """Tell whether a line with words stands at the edge of several pages, up to two numbers in it aside."""
    if not _RUNNING_LETTERS.search(line):
        return False
    same = len(_NUMBER.findall(line)) <= _RUNNING_NUMBERS and counted[_key(line)] >= _RUNNING
    return same or counted[line] >= _RUNNING


def _edge_lines(lines: Sequence[str]) -> Iterator[str]:
    yield from lines[:_EDGE_LINES]
    yield from lines[-_EDGE_LINES:]


def _key(line: str) -> str:
    return _NUMBER.sub("#", line)
