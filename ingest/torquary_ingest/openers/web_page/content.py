"""The content of a page in order: lines of prose, and tables, as they show."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

from lxml import etree

from torquary_ingest.document import Doubt
from torquary_ingest.document.runs import Run, Spoken, join_runs
from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.web_page.laid_rows import Box, lay_rows, rows_among
from torquary_ingest.openers.web_page.sight import Looks, Sight
from torquary_schema.units import find_units

DEEPEST = 240
"""Elements that may stand in one another; browsers build no deeper than 512."""

MOST_LINES = 200_000

_HEADINGS = {f"h{level}": level for level in range(1, 7)}
_DRAWN = frozenset({"math", "svg"})
_FIELD_NAMES = (
    "input textarea select meter progress canvas object iframe embed video"
)
_FIELDS = frozenset(_FIELD_NAMES.split())
_NO_TEXT = frozenset({"hidden", "checkbox", "radio", "image"})
_BLANK = re.compile(r"[\s\u200b\ufeff]+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line of prose. `level` is 1 to 6 for a heading, 0 else; `broken` follows a line break in one block."""

    spoken: Spoken
    level: int = 0
    broken: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """A table element met on the way, a list of names and values ("dl"), or the `rows` that styles lay out."""

    element: etree._Element
    rows: Sequence[Sequence[Box]] = ()


Piece = Line | Grid


@dataclass(slots=True, kw_only=True)
class Left:
    """What was left out: texts in tables, or with a torque, that do not show; texts that are struck out."""

    hidden: list[str] = field(default_factory=list)
    struck: list[str] = field(default_factory=list)


@dataclass(slots=True)
class Reader:
    """Walks a page. `left` gathers what is left out on the way."""

    looks: Looks
    left: Left = field(default_factory=Left)
    _runs: list[Run] = field(default_factory=list)
    _doubts: list[Doubt] = field(default_factory=list)
    _lines: int = 0

    def pieces(self, root: etree._Element) -> Iterator[Piece]:
        """Yield the lines and tables of the page in order."""
        yield from self._walk(root, struck=False, raised=False, level=0, depth=0)
        yield from self._end_line(0)

    def _walk(self, element: etree._Element, *, struck: bool, raised: bool, level: int, depth: int) -> Iterator[Piece]:
        if depth > DEEPEST:
            raise too_deep()
        sight = self.looks.of(element)
        if sight.gone:
            self._note_hidden(element, in_table=False)
            self._runs += [Run(text=" ")] * sight.gap
            return
        tag = str(element.tag)
        level = _HEADINGS.get(tag, level)
        if sight.block:
            yield from self._end_line(level if tag not in _HEADINGS else 0)
        if tag == "br":
            yield from self._end_line(level, broken=True)
        rows = lay_rows(self.looks, element) if tag not in ("table", "dl") else []
        if rows or tag in ("table", "dl"):
            yield from self._end_line(level)
            yield Grid(element=element, rows=rows)
            return
        struck = struck or sight.struck
        raised = raised or tag == "sup"
        self._take(sight.before, sight, struck=struck, raised=raised)
        self._take(element.text, sight, struck=struck, raised=raised)
        yield from self._walk_children(element, sight, struck=struck, raised=raised, level=level, depth=depth)
        self._take(sight.after, sight, struck=struck, raised=raised)
        if sight.block:
            yield from self._end_line(level)

    def _walk_children(
        self, element: etree._Element, sight: Sight, *, struck: bool, raised: bool, level: int, depth: int
    ) -> Iterator[Piece]:
        """Yield what is in an element, children that lay out rows of one table as that table."""
        runs = list(rows_among(self.looks, element))
        firsts = {id(children[0]): rows for children, rows in runs}
        laid = {id(child) for children, _ in runs for child in children}
        for child in element:
            if id(child) in firsts:
                yield from self._end_line(level)
                yield Grid(element=child, rows=firsts[id(child)])
            elif id(child) not in laid:
                yield from self._walk(child, struck=struck, raised=raised, level=level, depth=depth + 1)
            self._take(child.tail, sight, struck=struck, raised=raised)

    def _take(self, text: str | None, sight: Sight, *, struck: bool, raised: bool) -> None:
        self._runs += self._shown(text, sight, struck=struck, raised=raised, keep=False, in_table=False)

    def _shown(
        self, text: str | None, sight: Sight, *, struck: bool, raised: bool, keep: bool, in_table: bool
    ) -> list[Run]:
        """Return a text as a run unless it is not seen; note why it cannot be told how it shows."""
        if not text:
            return []
        if sight.unseen and text.strip():
            self._note_text(" ".join(text.split()), in_table=in_table)
            return [Run(text=" ")] if sight.gap else []
        if sight.doubt and text.strip():
            message = f"{' '.join(text.split())[:40]!r}: {sight.doubt}; look at the page"
            self._doubts.append(Doubt(code="text_invisible", message=message))
        shown = text if keep else _BLANK.sub(" ", text)
        return [Run(text=shown.replace("\u00ad", ""), struck=struck, raised=raised)]

    def _end_line(self, level: int, *, broken: bool = False) -> Iterator[Line]:
        runs, self._runs = self._runs, []
        doubts, self._doubts = self._doubts, []
        if not any(run.text.strip() for run in runs):
            return
        self._lines += 1
        if self._lines > MOST_LINES:
            raise SheetRefused("sheet_too_large", f"the page has more than {MOST_LINES} lines: save its tables alone")
        spoken = join_runs(_write_opening_mark(runs))
        self.left.struck += spoken.struck
        if spoken.text:
            spoken = replace(spoken, doubts=(*spoken.doubts, *dict.fromkeys(doubts)))
            yield Line(spoken=spoken, level=level, broken=broken)

    def cell(self, element: etree._Element, *, alone: bool = False) -> tuple[Spoken, list[etree._Element]]:
        """Return what a table cell says, and the tables inside it, which speak for themselves.

        A cell that stands `alone` in its row may be a note, opened by its raised mark.
        """
        runs: list[Run] = []
        inner: list[etree._Element] = []
        kept, self._doubts = self._doubts, []
        drawn = self._gather(element, runs, inner, struck=self.looks.of(element).struck, raised=False, depth=0)
        doubts, self._doubts = self._doubts, kept
        spoken = join_runs(_write_opening_mark(runs) if alone else runs)
        self.left.struck += spoken.struck
        if drawn:
            message = "a drawing, formula or field stands in the cell; look at the page"
            doubts.append(Doubt(code="number_unreadable", message=message))
        return replace(spoken, doubts=(*spoken.doubts, *dict.fromkeys(doubts))), inner

    def _gather(
        self,
        element: etree._Element,
        runs: list[Run],
        inner: list[etree._Element],
        *,
        struck: bool,
        raised: bool,
        depth: int,
    ) -> bool:
        """Add the runs and tables in an element; tell whether a formula or drawing is among them."""
        if depth > DEEPEST:
            raise too_deep()
        sight = self.looks.of(element)
        said = partial(
            self._shown, sight=sight, struck=struck, raised=raised, keep=element.tag == "pre", in_table=True
        )
        drawn = False
        if sight.added:
            self._doubts.append(Doubt(code="text_invisible", message=f"{sight.added}; look at the page"))
        runs += [*said(sight.before), *said(element.text)]
        for child in element:
            own = self.looks.of(child)
            if child.tag in _FIELDS:
                drawn = drawn or (child.get("type") or "").lower() not in _NO_TEXT
            elif own.gone:
                self._note_hidden(child, in_table=True)
                runs += [Run(text=" ")] * own.gap
            elif child.tag == "table":
                inner.append(child)
            elif child.tag == "br":
                runs.append(Run(text="\n"))
            else:
                drawn = drawn or child.tag in _DRAWN
                ends = [Run(text="\n")] * own.block
                runs += ends
                lined, up = struck or own.struck, raised or child.tag == "sup"
                drawn |= self._gather(child, runs, inner, struck=lined, raised=up, depth=depth + 1)
                runs += ends
            runs += said(child.tail)
        runs += said(sight.after)
        return drawn

    def _note_hidden(self, element: etree._Element, *, in_table: bool) -> None:
        """Remember text that does not show, where it may be a torque; scripts and menus are none."""
        if not isinstance(element.tag, str) or element.tag in ("script", "style", "noscript", "template", "head"):
            return
        self._note_text(" ".join("".join(map(str, element.itertext())).split()), in_table=in_table)

    def _note_text(self, text: str, *, in_table: bool) -> None:
        if any(c.isdigit() for c in text) and (in_table or any(u.kind == "torque" for u in find_units(text[:5000]))):
            self.left.hidden.append(text)

    def note_hidden_row(self, element: etree._Element) -> None:
        """Remember a row or cell of a table that does not show."""
        self._note_hidden(element, in_table=True)


def _write_opening_mark(runs: list[Run]) -> list[Run]:
    """Write a raised mark that opens a line as "1) ": the line is the note that the mark stands for."""
    first = next((at for at, run in enumerate(runs) if run.text.strip()), -1)
    if first < 0:
        return runs
    opening = runs[first]
    mark = opening.text.strip(" ()[].:")
    if not opening.raised or len(mark) > 2 or len(runs) == first + 1:
        return runs
    return [Run(text=f"{mark}) "), *runs[first + 1 :]]


def too_deep() -> SheetRefused:
    """Return the refusal of a page whose elements are nested beyond reason."""
    return SheetRefused("sheet_damaged", "the page is nested too deeply to be read: save its tables alone")
