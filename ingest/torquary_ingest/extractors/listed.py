"""Key-value lists set as lines: "Tightening torque: 2.5 N·m", with or without bullets or leader dots."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from torquary_ingest.clauses.steps import lines_of_steps
from torquary_ingest.document import Document, Page, Reading, Table, TaughtHeading
from torquary_ingest.document.frames import find_gutters, in_frames
from torquary_ingest.document.lines import Line, set_lines
from torquary_ingest.extractors.cards import find_title
from torquary_ingest.extractors.headed import read_table
from torquary_ingest.extractors.pairs import Pair, as_table
from torquary_ingest.extractors.stanzas import NEAR, begin_stanzas, find_stanzas, name_line
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.sense import make_sense
from torquary_schema.roles import spot_roles
from torquary_schema.words import fold, spot

_BULLET = re.compile(r"^\s*[•●▪■◦‣∙·*–—\uf0a7\uf0b7\ufffd-]\s+")
_LEADERS = re.compile(r"(?:[.…·]\s?){3,}\Z")
_CLOSE = 3.5
"""Shares of the font size: rows of a list follow one another no further apart."""

_INDENT = 4.0
"""Shares of the font size by which a name may stand left of its list (own choice)."""

_SHORT = 6
"""Words that the value of a property has at most."""

_PAIR = re.compile(
    r"^(?!.*\d.*;.*[:：=])(?P<name>[^:：=]{2,160}?)\s*(?:[:：=]|\.{4,}|…{2,}|(?:\. ){3,})\s*(?P<value>\S.*)$"
)
"""A name and its value; clauses behind a figure ("0.5 to 2.5 mm²; torque: see label") are no name."""

_LANGUAGES = re.compile(r"\s[/|]\s")
_MOST_WORDS = 9
"""Words that the name of a property has at most, in each of the languages it is printed in."""


class KeyValueLists:
    """Reads lists of properties that name a torque."""

    name = "listed"
    specific = False

    def recognises(self, document: Document) -> bool:
        """Return True for documents whose pages have words of their own."""
        return any(page.words for page in document.pages)

    def readings(self, document: Document, tables: tuple[Table, ...]) -> Iterable[Reading]:
        """Yield the readings of all lists in page order."""
        for page in document.pages:
            here = [table for table in tables if table.page == page.number]
            for number, (heading, pairs) in enumerate(find_lists(page, here, document.taught), start=1):
                title = find_title(set_lines(page, here), pairs[0].line, page)
                for reading in read_table(as_table(page, number, heading, pairs), taught=document.taught):
                    yield reading if title is None else replace(reading, entries=(title, *reading.entries))


def find_lists(
    page: Page, tables: Sequence[Table], taught: tuple[TaughtHeading, ...] = ()
) -> Iterator[tuple[tuple[str, ...], list[Pair]]]:
    """Yield each list that names a torque, with the line above it; a name that comes again opens a new one."""
    heading: tuple[str, ...] = ()
    pairs: list[Pair] = []
    above: Line | None = None
    for line, pair in _paired(page, tables, taught):
        if line is not None and pair is None and (pairs or heading) and _is_item(line, above):
            above = line  # a property that says nothing here ends no list, and heads none
            continue
        other = pair is not None and not pair.bare and _is_of_another(pair, pairs)
        if pairs and (pair is None or other or _breaks(pairs, pair, above)):
            pairs, ahead = _part_names(pairs, heading) if pair is not None and pair.torque else (pairs, [])
            if any(p.torque for p in pairs):
                yield heading, pairs
            pairs = ahead
            heading = heading if pair is not None and not other and not ahead else ()
        if pair is not None:
            pairs.append(pair)
        elif line is not None:
            heading = (*heading, line.text) if above is not None and line.box.level_with(above.box) else (line.text,)
        above = line


def _paired(
    page: Page, tables: Sequence[Table], taught: tuple[TaughtHeading, ...]
) -> Iterator[tuple[Line | None, Pair | None]]:
    """Yield the lines in the order of their lists, with their properties.

    None ends the last list.
    """
    lines = set_lines(page, tables)
    steps = lines_of_steps(lines)
    cards = in_frames([line for line in lines if id(line.words[0]) not in steps], find_gutters(page))
    ordered = [line for card in cards for line in in_columns(tuple(join_columns(card, taught)), taught)]
    stanzas = find_stanzas(ordered)
    for line in ordered:
        name, value = stanzas.get(id(line), ("", ""))
        own = Pair(line=line, name=name, value=value, torque=states_torque(value), bare=True) if name else None
        yield line, own or split_pair(line, taught)
    yield None, None


def _is_of_another(pair: Pair, pairs: Sequence[Pair]) -> bool:
    """Tell whether a line under a stanza gives the torque of what it names itself: "Mounting screws M4: 1.7 N·m"."""
    return bool(pairs) and pairs[-1].bare and not pair.torque and states_torque(pair.value)


def _part_names(pairs: list[Pair], heading: tuple[str, ...]) -> tuple[list[Pair], list[Pair]]:
    """Return the pairs without those behind the last torque from the one on that names terminals, and these.

    Where a line over the list names its terminals, a second name ("Coil terminals: A1, A2") is for the torque after it.
    """
    last = max((at for at, pair in enumerate(pairs) if pair.torque), default=len(pairs))
    behind = (at for at in range(last + 1, len(pairs)) if spot_roles(pairs[at].name))
    start = next(behind, len(pairs)) if any(map(spot_roles, heading)) else len(pairs)
    return pairs[:start], pairs[start:]


def join_columns(lines: Sequence[Line], taught: tuple[TaughtHeading, ...] = ()) -> Iterator[Line]:
    """Yield the lines; a name of a property and the value that stands alone on its right become one line."""
    used: set[int] = set()
    beginning = begin_stanzas(lines)
    for line in lines:
        value = value_beside(line, lines)
        blocks = {id(line), id(value)} <= beginning
        if value is not None and not blocks and _is_property(line, value, taught) and is_row(line, value, lines):
            used.add(id(value))
            text = f"{line.text.rstrip(' .…:：')}: {value.text}"
            yield replace(line, text=text, words=(*line.words, *value.words), box=line.box.union(value.box))
        elif id(line) not in used:
            yield line


def in_columns(lines: Sequence[Line], taught: tuple[TaughtHeading, ...] = ()) -> Iterator[Line]:
    """Yield the lines in their order, those of lists that stand side by side one list after the other.

    Lists stand so where a property is named twice at one height: on cards, in columns.
    """
    named = [(line, fold(name)) for line in lines if (name := _name_of(line, taught))]
    starts: list[float] = []
    for line, name in named:
        twice = any(other is not line and its == name and other.box.level_with(line.box) for other, its in named)
        if twice and not any(abs(start - line.box.x0) < line.size for start in starts):
            starts.append(line.box.x0)
    starts.sort()
    columns: list[list[Line]] = [[] for _ in starts or [0.0]]
    for line in lines:
        columns[max(0, sum(start <= line.box.x0 + _INDENT * line.size for start in starts) - 1)].append(line)
    for column in columns:
        yield from column


def _name_of(line: Line, taught: tuple[TaughtHeading, ...]) -> str:
    pair = split_pair(line, taught)
    return pair.name if pair is not None else (name_line(line.text) or ("",))[0]


def value_beside(line: Line, lines: Sequence[Line]) -> Line | None:
    """Return the only line at the height of this one, if it stands to its right."""
    beside = [other for other in lines if other is not line and other.box.level_with(line.box)]
    return beside[0] if len(beside) == 1 and line.box.x1 < beside[0].box.x0 else None


def is_row(line: Line, value: Line, lines: Sequence[Line]) -> bool:
    """Tell whether dots lead to the value, or a line close above or below is parted at the same two places.

    Lines of a value stand between them, not more. A text that happens to stand at the height of a property, a
    call-out for instance, is not its value.
    """
    if _LEADERS.search(line.text):
        return True
    tops = [other.box.top for other in lines if abs(other.box.x0 - value.box.x0) < line.size]
    near = [other for other in lines if other is not line and _is_near(line, other, tops)]
    return any(
        abs(other.box.x0 - line.box.x0) < line.size
        and (its := value_beside(other, lines)) is not None
        and (abs(its.box.x0 - value.box.x0) < line.size or abs(its.box.x1 - value.box.x1) < line.size)
        for other in near
    )


def _is_near(line: Line, other: Line, tops: Sequence[float]) -> bool:
    """Tell whether two lines are close, but for the lines of a value between them, whose tops are given."""
    first, last = sorted((line.box.top, other.box.top))
    between = sum(first < top < last for top in tops)
    return last - first < _CLOSE * line.size * (1 + between / 2)


def _is_property(name: Line, value: Line, taught: tuple[TaughtHeading, ...]) -> bool:
    """Tell whether a line names a property only, and the one beside it is its value and no heading itself."""
    if name.text.endswith((":", "：")):
        return True
    sense = make_sense(name.text, taught)
    names = bool(sense.fields) and not sense.figure and not states_torque(name.text)
    return names and ":" not in name.text and any(map(str.isdigit, value.text))


def split_pair(line: Line, taught: tuple[TaughtHeading, ...] = ()) -> Pair | None:
    """Return the line's name and value when its name is a known heading; None otherwise."""
    named = split_name(line)
    if named is None:
        return None
    sense = make_sense(named[0], taught)
    longest = max(len(part.split()) for part in _LANGUAGES.split(named[0]))
    known = sense.fields or _sizes_of_kind(*named)
    if not known or sense.false_friend or longest > _MOST_WORDS:
        return None
    torque = sense.has("torque", "torque_min", "torque_max")
    return Pair(line=line, name=named[0], value=named[1], torque=torque)


def _sizes_of_kind(name: str, value: str) -> bool:
    """Tell whether a pair gives the sizes of conductors of a kind: "Solid: 1 ... 6 mm²"."""
    return bool(make_sense(value).unit("area", "gauge")) and any(spot(kind, name) for kind in ("stranding", "ferrule"))


def _is_item(line: Line, above: Line | None) -> bool:
    """Tell whether a line right under another gives a short value of some property, of no device."""
    named = split_name(line)
    if named is None or above is None or line.box.top - above.box.bottom > NEAR * max(line.size, 1):
        return False
    return len(named[1].split()) <= _SHORT and not any(spot("family", part) for part in named)


def split_name(line: Line) -> tuple[str, str] | None:
    """Return the two sides of a line such as "Name: value"; None for any other line."""
    found = _PAIR.match(_BULLET.sub("", line.text))
    return (found["name"].strip(), found["value"].strip()) if found else None


def _breaks(pairs: list[Pair], pair: Pair, above: Line | None) -> bool:
    last = above or pairs[-1].line
    far = pair.line.box.top - last.box.bottom > NEAR * max(pair.line.size, 1)
    again = fold(pair.name) in {fold(p.name) for p in pairs}
    return far or again
