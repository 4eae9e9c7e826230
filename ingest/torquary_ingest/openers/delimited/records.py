"""Text to records: fields split outside quotes, and stray quotes that swallow rows found out."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from torquary_ingest.document import Doubt

#: Stands for "two or more blanks" as a delimiter.
BLANKS = "  "

#: A quoted cell that runs over more lines than this is taken for a quote that was never closed.
LONGEST_CELL_LINES = 60

UNBALANCED = Doubt(
    code="quote_unbalanced",
    message="A quote is opened and never closed; compare this row with the file as text.",
)

_TWO_BLANKS = re.compile(r"\t+|\s{2,}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """One record: `line` counts from 1, `raw` is its physical text, `doubts` hold for all its cells.

    Of a row that holds two tables side by side, `cut` is True and `offset` counts the fields before this part.
    `celled` is True where the file itself has cells, so that no delimiter can have cut a sentence.
    """

    line: int
    raw: str
    fields: tuple[str, ...]
    doubts: tuple[Doubt, ...] = ()
    offset: int = 0
    cut: bool = False
    celled: bool = False

    @property
    def filled(self) -> tuple[int, ...]:
        """Positions (from 0) of the fields that hold anything."""
        return tuple(i for i, text in enumerate(self.fields) if text)

    @property
    def extent(self) -> int:
        """Number of fields up to the last one that holds anything."""
        return max(self.filled, default=-1) + 1


@dataclass(frozen=True, slots=True, kw_only=True)
class _Split:
    fields: tuple[str, ...]
    open: bool = False
    odd: bool = False


def split_lines(text: str) -> list[str]:
    """Return the physical lines, whatever the line ends (CR LF, LF, CR)."""
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


def split_records(lines: list[str], delimiter: str, width: int) -> Iterator[Record]:
    """Yield the records of a file whose rows mostly have `width` fields.

    When a quote turns out never to be closed, or to have swallowed whole rows, the lines from there on are
    split one by one and every record carries the doubt.
    """
    at = 0
    while at < len(lines):
        end, split = _take(lines, at, delimiter)
        if split is None or (end - at > 1 and (split.odd or _swallows(lines[at:end], delimiter, width))):
            break
        doubts = (UNBALANCED,) if split.odd and any(delimiter in field for field in split.fields) else ()
        yield Record(line=at + 1, raw="\n".join(lines[at:end]), fields=split.fields, doubts=doubts)
        at = end
    for number in range(at, len(lines)):
        fields = split_line(lines[number], delimiter)
        yield Record(line=number + 1, raw=lines[number], fields=fields, doubts=(UNBALANCED,))


def split_line(line: str, delimiter: str) -> tuple[str, ...]:
    """Split one physical line; a quote that is not closed on it is a plain character."""
    return _split(line, delimiter, confined=True).fields


def _take(lines: list[str], at: int, delimiter: str) -> tuple[int, _Split | None]:
    """Return the record that begins on line `at` and the line behind it; None when its quote never closes."""
    text = lines[at]
    end = at + 1
    split = _split(text, delimiter)
    while split.open:
        if end >= len(lines) or end - at > LONGEST_CELL_LINES:
            return end, None
        text += "\n" + lines[end]
        end += 1
        split = _split(text, delimiter)
    return end, split


def _swallows(physical: list[str], delimiter: str, width: int) -> bool:
    """Tell whether a record over several lines is made of lines that are whole rows by themselves."""
    widths = [len(split_line(line, delimiter)) for line in physical]
    return width > 1 and widths[0] == width and width in widths[1:]


def _split(text: str, delimiter: str, *, confined: bool = False) -> _Split:
    if '"' not in text or delimiter == BLANKS:
        return _Split(fields=tuple(_tidy(part) for part in _plain(text, delimiter)))
    fields: list[str] = []
    odd = False
    at = 0
    while True:
        start = at
        while text[start : start + 1] == " ":
            start += 1
        closing = -1
        if text[start : start + 1] == '"':
            closing, bent = _closing_quote(text, start, delimiter)
            if closing < 0 and not confined:
                return _Split(fields=tuple(fields), open=True)
            odd = odd or (bent and closing > 0)
        if closing > 0:
            fields.append(text[start + 1 : closing].replace('""', '"').strip(" \u00a0\u202f\n"))
            behind = text.find(delimiter, closing)
        else:
            behind = text.find(delimiter, at)
            fields.append(_tidy(text[at : behind if behind >= 0 else len(text)]))
        if behind < 0:
            return _Split(fields=tuple(fields), odd=odd)
        at = behind + 1


def _closing_quote(text: str, start: int, delimiter: str) -> tuple[int, bool]:
    """Return where the quote opened at `start` closes (-1: nowhere); and whether stray quotes come before."""
    at = start + 1
    bent = False
    while True:
        at = text.find('"', at)
        if at < 0:
            return -1, bent
        if text[at + 1 : at + 2] == '"':
            at += 2
            continue
        rest = at + 1
        while text[rest : rest + 1] == " ":
            rest += 1
        if rest >= len(text) or text[rest] == delimiter:
            return at, bent
        bent = True
        at += 1


def _plain(text: str, delimiter: str) -> list[str]:
    if delimiter == BLANKS:
        return _TWO_BLANKS.split(text.strip())
    return text.split(delimiter)


def _tidy(text: str) -> str:
    return text.strip().strip("\ufeff\u200b\x1a")
