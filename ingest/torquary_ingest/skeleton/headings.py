"""Lines that are headings: larger than most words, bold or numbered; short, no sentence, no part of a paragraph."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from torquary_ingest.document import HeadingLine
from torquary_ingest.document.lines import Line
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.skeleton.lines import PageLines
from torquary_ingest.skeleton.names import Rank, find_name, is_prose, rank_of
from torquary_schema.values import Box
from torquary_schema.words import spot

_NUMBERED = re.compile(r"(?P<number>\d{1,2}(?:\.\d{1,2}){0,4})\.?\s+(?=[^\W\d]{2})")
"""The number of a heading and its title behind it: "3.2.1 Wiring"; "2.5 N·m" is none, as its unit shows."""

LARGER, _SMALLER = 1.08, 0.95
"""Size of a heading over the usual size of the sheet at least: of one that is not bold, and of one that is."""

ALIKE = 1.06
"""Sizes of type that are taken for one: the larger over the smaller."""

_PITCH = 1.7
"""Sizes of type from one line of a paragraph to the next at most, between their lower edges."""

_LEVEL = 1.5
"""Points by which the lower edges of two texts on one baseline differ at most."""

_MOST_LINES = 2
"""Lines of a heading at most: more are a paragraph, whatever its weight."""

_LEAST_LETTERS = 3
_LEADERS = re.compile(r"(?:\.\s?){4,}|…{2,}|_{4,}")
_ENDS_IN_NUMBER = re.compile(r"\s\d{1,3}$")
_MOST_NUMBERED = 5
"""Lines with a number at both ends from which a page is a list of contents."""

_OF_PAGES = ("page", "continued")


def find_headings(
    pages: Sequence[PageLines], glimpsed: Sequence[HeadingLine], usual: float, running: Mapping[str, frozenset[float]]
) -> tuple[HeadingLine, ...]:
    """Return the headings of all pages, in the order of the pages, top to bottom.

    `glimpsed` are those of pages that were not read closely, by the measure of their own page; `usual` is the size of
    most words of the sheet in points; running lines, given with their heights, are no headings.
    """
    found = [line for line in glimpsed if _may_head(line, usual)]
    for page in pages:
        found += pick_headings([_heading_line(line) for line in page.free], usual)
    kept = (line for line in found if not _runs(line, running))
    return tuple(sorted(kept, key=lambda line: (line.page, line.box.top, line.box.x0)))


def pick_headings(lines: Sequence[HeadingLine], usual: float) -> list[HeadingLine]:
    """Return the headings among all lines of a page; a heading of two lines is one. A list of contents has none."""
    if sum(map(_is_listed, lines)) >= _MOST_NUMBERED:
        return []
    groups = (group for group in _paragraphs(lines) if len(group) <= _MOST_LINES)
    found = [line for line in map(_join, groups) if _may_head(line, usual)]
    return [line for line in found if line.size >= LARGER * usual or not _labels(line, lines)]


def depth_of(text: str) -> int:
    """Return how many levels the number of a heading has: 3 for "3.2.1 Wiring", 0 without a number."""
    found = _NUMBERED.match(text)
    return found["number"].count(".") + 1 if found and not make_sense(text[: found.end() + 4]).units else 0


def without_number(text: str, headings: Iterable[str]) -> str:
    """Return a heading without its number, where others of the document are numbered next to it: "5 Checklist".

    A number that stands alone may count something: "4 pole devices".
    """
    found = _NUMBERED.match(text)
    numbers = {match["number"] for match in map(_NUMBERED.match, headings) if match is not None}
    if found is None or not numbers & set(_next_to(found["number"])):
        return text
    return text[found.end() :]


def _next_to(number: str) -> tuple[str, str]:
    outer, _, last = number.rpartition(".")
    stem = f"{outer}." if outer else ""
    return f"{stem}{int(last) - 1}", f"{stem}{int(last) + 1}"


def _runs(line: HeadingLine, running: Mapping[str, frozenset[float]]) -> bool:
    """Tell whether a line is a running one: its text stands at that height on other pages too."""
    return any(abs(height - line.box.middle[1]) < line.size for height in running.get(line.text, ()))


def _heading_line(line: Line) -> HeadingLine:
    return HeadingLine(page=line.page, text=line.text, size=line.size, bold=line.bold, box=line.box)


def _paragraphs(lines: Iterable[HeadingLine]) -> list[list[HeadingLine]]:
    """Return the lines in groups of one style that stand right under each other."""
    groups: list[list[HeadingLine]] = []
    for line in lines:
        group = next((group for group in reversed(groups) if _goes_on(group[-1], line)), None)
        if group is None:
            groups.append([line])
        else:
            group.append(line)
    return groups


def _goes_on(above: HeadingLine, line: HeadingLine) -> bool:
    alike = above.bold == line.bold and max(above.size, line.size) <= ALIKE * min(above.size, line.size)
    near = 0 < line.box.bottom - above.box.bottom <= _PITCH * line.size
    return alike and near and above.box.x0 < line.box.x1 and line.box.x0 < above.box.x1


def _join(group: Sequence[HeadingLine]) -> HeadingLine:
    text = " ".join(line.text for line in group)
    return replace(group[0], text=text, box=Box.around(line.box for line in group))


def _is_listed(line: HeadingLine) -> bool:
    """Tell whether a line is one of a list of contents."""
    numbered = depth_of(line.text) > 0 and _ENDS_IN_NUMBER.search(line.text) is not None
    return numbered or _LEADERS.search(line.text) is not None


def _labels(line: HeadingLine, lines: Sequence[HeadingLine]) -> bool:
    """Tell whether a line of no larger type is the name of a property: its value stands on its baseline, behind it."""
    return any(other.box.x0 > line.box.x1 and abs(other.box.bottom - line.box.bottom) < _LEVEL for other in lines)


def _may_head(line: HeadingLine, usual: float) -> bool:
    text = line.text.strip()
    # Size and weight first: what the words say takes a hundred times as long to tell.
    large = line.size >= LARGER * usual
    if not (large or (line.size >= _SMALLER * usual and (line.bold or depth_of(text) > 1))):
        return False
    said = sum(map(str.isalpha, text)) >= _LEAST_LETTERS and not (is_prose(text) or text.endswith((",", ";", "-")))
    of_pages = any(match.concept in _OF_PAGES for match in spot("document_word", text))
    return said and not (of_pages or _gives_values(text))


def _gives_values(text: str) -> bool:
    """Tell whether a line gives a quantity; the rated current of a device it names is a part of its name."""
    units = make_sense(text).units
    rated = all(unit.kind == "current" for unit in units) and rank_of(find_name(text)) is Rank.WHOLE
    return bool(units) and not rated
