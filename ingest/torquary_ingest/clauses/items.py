"""Lines of a document set as paragraphs, steps and bullets, each under the headings that stand over it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from torquary_ingest.clauses.markers import ALONE, MARKER, goes_on_range, is_bullet
from torquary_ingest.clauses.overhead import Overhead
from torquary_ingest.clauses.run_in import names_screw, run_in_name
from torquary_ingest.document import Mark, Word
from torquary_ingest.document.lines import CLOSE, Line
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.skeleton.headings import depth_of
from torquary_schema.units import find_units
from torquary_schema.values import ScopeText

_SAME_SIZE = 0.6
"""Points by which type of one paragraph differs at most."""
_INDENT = 30.0
"""Points by which lines of one paragraph begin apart at most, a hanging number or bullet aside."""
_FURTHER = 5.0
"""Points by which a bullet within an item begins further in at least."""
_LEAST_WORDS = 5
"""Words at least of a line that a sentence leaves open."""
_APART = 8.0
"""Type sizes of white between a marker and its text at most."""
_FULL = 0.85
"""Share of the widest line of a paragraph that a line must fill to be broken for want of room."""
_BASELINE = 0.15
"""Share of the type size by which baselines of one line differ at most (own choice)."""
_NAME_WORDS = 4
"""Words of a bold name over its value at most."""
_BROKEN_LEAD = re.compile(r"[.;]\s+(?:\S+\s+){0,3}\S+:$")
"""The end of a line in whose middle a sentence begins with a name: "… are alike. QX 160:"."""

_ENDS = (".", "!", "?", ":", ";", "。")


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A paragraph, step or bullet. `text` joins its lines by line ends, its marker left out; `over` are the headings
    over it, nearest first; `marked` tells that a bullet or number opens it, `marks` are note marks on the name
    that it stands under; `valued` tells that it is the value of a property, which the nearest heading names.
    """

    lines: tuple[Line, ...]
    text: str
    over: tuple[ScopeText, ...] = ()
    marked: bool = False
    marks: tuple[Mark, ...] = ()
    valued: bool = False

    def words_at(self, start: int, end: int) -> tuple[Word, ...]:
        """Return the words that print a stretch of the text."""
        return tuple(
            word for at, word, _ in self._placed() if at < end and start < at + len(word.text)
        )

    def page_of(self, start: int) -> int:
        """Return the page that prints the text at an offset."""
        return next(
            (page for at, word, page in self._placed() if start < at + len(word.text)),
            self.lines[0].page,
        )

    def _placed(self) -> Iterator[tuple[int, Word, int]]:
        at = len(self.text) - sum(len(line.text) + 1 for line in self.lines) + 1
        for line in self.lines:
            for word in line.words:
                yield at, word, line.page
                at += len(word.text) + 1


def set_items(pages: Iterable[Sequence[Line]]) -> list[Item]:
    """Return the items of a document's pages in reading order; one that a page's end interrupts goes on overleaf."""
    found: list[Item] = []
    over = Overhead()
    for lines in map(_with_names, map(_with_markers, pages)):
        over.open_page(lines)
        for paragraph in _paragraphs(lines):
            host = _host_of(paragraph, found)
            if host is not None:
                found[host] = make_item((*found[host].lines, *paragraph), found[host].over)
                continue
            item = make_item(tuple(paragraph), over.over(paragraph))
            name = over.nearest(paragraph)
            item = replace(item, marks=marks_on(name), valued=bool(name) and not item.marked)
            item = _under_its_name(item)
            over.take(paragraph, marked=item.marked)
            found.append(item)
    return found


def marks_on(lines: Sequence[Line]) -> tuple[Mark, ...]:
    """Return the note marks that hang on lines."""
    return tuple(mark for line in lines for word in line.words for mark in word.marks)


def make_item(lines: tuple[Line, ...], over: tuple[ScopeText, ...]) -> Item:
    """Return the lines of a paragraph as an item under headings."""
    text = "\n".join(line.text for line in lines)
    marker = MARKER.match(text)
    return Item(
        lines=lines,
        text=text[marker.end() :] if marker else text,
        over=over,
        marked=marker is not None,
    )


def _under_its_name(item: Item) -> Item:
    """Return a property whose name is run in before its value as the value under that name."""
    name = " ".join(word.text for word in run_in_name(item.lines[0].words))
    if not name or item.marked:
        return item
    own = ScopeText(kind="list_heading", text=name.rstrip(":："), page=item.lines[0].page)
    over = [one for one in item.over if not (names_screw(own.text) and one.text.endswith((":", "：")))]
    return replace(item, text=item.text[len(name) :].lstrip(), over=(own, *over), valued=True)


def _paragraphs(lines: Sequence[Line]) -> list[list[Line]]:
    """Return the lines in paragraphs: each goes on with the one right above it, whatever stands beside."""
    found: list[list[Line]] = []
    for line in lines:
        above = [paragraph for paragraph in found if _goes_on(paragraph, line)]
        if above:
            min(above, key=lambda one: line.box.top - one[-1].box.bottom).append(line)
        else:
            found.append([line])
    return found


def _goes_on(paragraph: Sequence[Line], line: Line) -> bool:
    last = paragraph[-1]
    gap = line.box.top - last.box.bottom
    left = abs(line.box.x0 - _text_start(paragraph)) < _INDENT and line.box.x0 < last.box.x1
    centred = abs(line.box.middle[0] - last.box.middle[0]) < last.size
    right = abs(line.box.x1 - last.box.x1) < _SAME_SIZE
    if _is_name(paragraph, line):
        return False
    close = -0.5 * last.size < gap < CLOSE * last.size and abs(line.size - last.size) < _SAME_SIZE
    same = line.bold == last.bold or not line.bold or make_sense(line.text).figure
    return close and (left or centred or right) and same and not _begins(paragraph, line)


def _is_name(paragraph: Sequence[Line], line: Line) -> bool:
    """Tell whether a few words in bold stand over text that is not: a name over its value."""
    said = " ".join(one.text for one in paragraph)
    bold = all(one.bold for one in paragraph) and not line.bold
    return bold and len(said.split()) <= _NAME_WORDS and not make_sense(said).figure


def _text_start(paragraph: Sequence[Line]) -> float:
    """Return where the text of a paragraph begins, behind its marker."""
    first = paragraph[0]
    marker = MARKER.match(first.text)
    words = len(marker[0].split()) if marker else 0
    return first.words[words].box.x0 if words < len(first.words) else first.box.x0


def _begins(paragraph: Sequence[Line], line: Line) -> bool:
    """Tell whether a line opens a paragraph of its own: by a marker, behind a heading or a lead, as the next item."""
    last = paragraph[-1].text.rstrip()
    led = last.endswith((":", "：")) and not line.text[:1].isdigit() and not _BROKEN_LEAD.search(last)
    if goes_on_range(last, line.text):
        return False
    if MARKER.match(line.text) or depth_of(line.text) > 1 or led or run_in_name(line.words):
        return True
    outside = MARKER.match(paragraph[0].text) is not None and line.box.x0 < _text_start(paragraph) - _FURTHER
    return line.text[:1].isupper() and (
        _ends_in_torque(last) or outside or _ends_short(paragraph, line)
    )


def _ends_in_torque(text: str) -> bool:
    """Tell whether a line ends in a torque: what follows in capitals is another line and no part of its sentence."""
    units = [unit for unit in find_units(text) if unit.kind == "torque"]
    return (
        bool(units)
        and units[-1].end == len(text)
        and states_torque(text)
        and not make_sense(text).figure
    )


def _ends_short(paragraph: Sequence[Line], line: Line) -> bool:
    """Tell whether the line above ends long before the margin, where no sentence ends: an item of its own."""
    last = paragraph[-1]
    if make_sense(last.text).figure and make_sense(last.text).unit("area", "gauge"):
        return False  # a size alone over its torque
    widest = max(one.box.x1 for one in (*paragraph, line)) - paragraph[0].box.x0
    return (
        not last.text.rstrip().endswith(_ENDS)
        and last.box.x1 - paragraph[0].box.x0 < _FULL * widest
    )


def _goes_on_overleaf(item: Item, paragraph: Sequence[Line]) -> bool:
    """Tell whether a page's first paragraph goes on with the last item of the page before."""
    last, line = item.lines[-1], paragraph[0]
    unfinished = not last.text.rstrip().endswith(_ENDS) and not line.text[:1].isupper()
    return (
        line.page == last.page + 1
        and not (line.glimpsed or last.glimpsed)
        and unfinished
        and not MARKER.match(line.text)
        and line.size == last.size
    )


def _host_of(paragraph: Sequence[Line], found: Sequence[Item]) -> int | None:
    """Return the position of the item that a paragraph goes on with, None if it is one of its own.

    The labels of a drawing may stand between a bullet and those under it.
    """
    if found and _goes_on_overleaf(found[-1], paragraph):
        return len(found) - 1
    if not is_bullet(paragraph[0].words[0].text):
        return None
    return next((at for at in reversed(range(len(found))) if _is_within(found[at], paragraph)), None)


def _is_within(item: Item, paragraph: Sequence[Line]) -> bool:
    """Tell whether a bullet stands under an item and further in, and so goes on with it: its torque, its sizes.

    Behind a colon bullets are items of their own.
    """
    first, last, line = item.lines[0], item.lines[-1], paragraph[0]
    further = first.box.x0 + _FURTHER < line.box.x0 < first.box.x1 and line.page == last.page
    near = 0 <= line.box.top - last.box.bottom < CLOSE * last.size
    leads = last.text.rstrip().endswith((":", "："))
    return item.marked and further and near and not leads


def _with_names(lines: Sequence[Line]) -> list[Line]:
    """Return the lines, each bare figure joined to the one text left of it: "Main terminals      2.5 N·m".

    One with a text close beneath is a call-out, which that text may name; so is one beside others of another height.
    """
    found = list(lines)
    bare = [line for line in lines if make_sense(line.text).figure]
    for figure in [line for line in bare if not ends_sentence(line, lines)]:
        name = _name_beside(figure, found)
        if name is not None:
            found[found.index(name)] = _join(name, figure)
            found.remove(figure)
    return found


def _name_beside(figure: Line, lines: Sequence[Line]) -> Line | None:
    """Return the one text at the height of a bare figure, if it stands left of it on the same baseline."""
    beside = [line for line in lines if line is not figure and line.box.level_with(figure.box)]
    beneath = any(_is_close_under(figure, line) for line in lines)
    if len(beside) != 1 or beneath or not _share_baseline(figure, beside[0]):
        return None
    return beside[0] if beside[0].box.x1 < figure.box.x0 else None


def ends_sentence(line: Line, lines: Sequence[Line]) -> bool:
    """Tell whether a line is the end of a sentence that the line right above it leaves open: "0.6 N·m."."""
    above = (other for other in lines if other is not line and _goes_on([other], line))
    return line.text.rstrip().endswith(".") and any(_is_open(other) for other in above)


def _is_open(line: Line) -> bool:
    return len(line.words) >= _LEAST_WORDS and not line.text.rstrip().endswith(_ENDS)


def _share_baseline(line: Line, other: Line) -> bool:
    return abs(line.words[0].baseline - other.words[-1].baseline) < _BASELINE * line.size


def _is_close_under(line: Line, other: Line) -> bool:
    close = 0 <= other.box.top - line.box.bottom < CLOSE * line.size
    return close and other.box.x0 < line.box.x1 and line.box.x0 < other.box.x1


def _join(left: Line, right: Line) -> Line:
    """Return two lines of one height as one, in the type of the right one."""
    words, text = (*left.words, *right.words), f"{left.text} {right.text}"
    return replace(right, words=words, text=text, box=left.box.union(right.box))


def _with_markers(lines: Sequence[Line]) -> list[Line]:
    """Return the lines, each marker that stands apart joined to the text on its right."""
    found = list(lines)
    for marker in [line for line in lines if ALONE.fullmatch(line.text)]:
        beside = [line for line in found if line.box.level_with(marker.box)]
        right = [line for line in beside if 0 < line.box.x0 - marker.box.x1 < _APART * marker.size]
        if right:
            text = min(right, key=lambda line: line.box.x0)
            found[found.index(text)] = _join(marker, text)
            found.remove(marker)
    return found
