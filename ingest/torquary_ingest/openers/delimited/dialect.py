"""The delimiter, found from how evenly it splits the lines and never from one line alone."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass

from torquary_ingest.openers.delimited.records import BLANKS, Record, split_lines, split_records

#: In order of trust: a draw goes to the earlier one, so that decimal commas never win against another sign.
DELIMITERS = ("\t", ";", "|", ",")

#: Lines looked at; a datasheet shows its form well before.
_LINES_SEEN = 600

_DECIMAL_COMMA = re.compile(r"(?<=\d),(?=\d)")
_SEPARATOR_LINE = re.compile(r'\A"?sep=(.)"?\s*\Z', re.IGNORECASE)
_RULE_ROW = re.compile(r"\A[\s|+:=–—-]*[-=–—]{2,}[\s|+:=–—-]*\Z")


@dataclass(frozen=True, slots=True, kw_only=True)
class Dialect:
    """How the lines are to be split: the delimiter, the usual number of fields, the lines to split."""

    delimiter: str
    width: int
    lines: tuple[str, ...]


def find_dialect(text: str) -> Dialect | None:
    """Return how the text is delimited; None when nothing splits two of its lines alike."""
    lines = split_lines(text)
    stated = _SEPARATOR_LINE.match(lines[0]) if lines else None
    if stated:
        # The line is kept as a blank one, so that line numbers stay those of the file.
        lines[0] = ""
        return Dialect(delimiter=stated[1], width=_usual_width(lines, stated[1]), lines=tuple(lines))
    lines = _unwrap(lines)
    seen = [line for line in lines[:_LINES_SEEN] if line.strip() and not _RULE_ROW.match(line)]
    scores = {delimiter: _evenness(seen, delimiter) for delimiter in DELIMITERS}
    best = max(DELIMITERS, key=lambda delimiter: scores[delimiter])
    if scores[best] * 3 < len(seen) and _evenness(seen, BLANKS) > 2 * scores[best]:
        best = BLANKS
        scores[best] = _evenness(seen, BLANKS)
    if not scores[best]:
        return None
    if best == "|":
        lines = [_strip_pipes(line) for line in lines]
    return Dialect(delimiter=best, width=_usual_width(lines, best), lines=tuple(lines))


def _evenness(seen: list[str], delimiter: str) -> float:
    """Count the records that split into as many fields (at least two) as a neighbour.

    A comma that stands between digits on most of its places counts half: it may be a decimal comma.
    """
    records = list(split_records(seen, delimiter, 0))
    total = 0.0
    for at, record in enumerate(records):
        neighbours = [*records[max(0, at - 1) : at], *records[at + 1 : at + 2]]
        if len(record.fields) < 2 or not any(_alike(record, other) for other in neighbours):
            continue
        raw = record.raw
        decimal = delimiter == "," and 2 * len(_DECIMAL_COMMA.findall(raw)) > raw.count(",")
        total += 0.5 if decimal else 1.0
    return total


def _alike(one: Record, other: Record) -> bool:
    return len(one.fields) == len(other.fields) or (one.extent == other.extent > 1)


def _usual_width(lines: list[str], delimiter: str) -> int:
    records = split_records(lines[:_LINES_SEEN], delimiter, 0)
    widths = Counter(len(record.fields) for record in records if record.raw.strip())
    several = {width: count for width, count in widths.items() if width > 1}
    return max(several, key=lambda width: several[width], default=1)


def _unwrap(lines: list[str]) -> list[str]:
    """Undo a quote round every whole line ("a,b" instead of a,b), which some programs write."""
    full = [line for line in lines if line.strip()]
    for delimiter in DELIMITERS:
        if full and all(_is_wrapped(line.strip(), delimiter) for line in full):
            return [line.strip()[1:-1].replace('""', '"') for line in lines]
    return lines


def _is_wrapped(line: str, delimiter: str) -> bool:
    inner = line[1:-1]
    return line[:1] == '"' == line[-1:] and delimiter in inner and '"' not in inner.replace('""', "")


def _strip_pipes(line: str) -> str:
    bare = line.strip()
    if _RULE_ROW.match(line):
        return ""
    return bare[1:-1] if len(bare) > 1 and bare[0] == "|" == bare[-1] else line
