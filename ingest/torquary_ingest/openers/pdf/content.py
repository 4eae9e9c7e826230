"""Reads content streams: plain ones here, in one pass; where one is not plain, the parser library goes on.

The library reads a character class at a time, which took half of the time of a page of drawings. What is read here
gives the very objects that it gives; what is unusual (inline pictures, odd escapes, what is damaged) is left to it.
"""

from __future__ import annotations

import re
from collections.abc import Generator, Iterator, Sequence
from functools import lru_cache
from typing import Any

from pdfminer.pdfinterp import PDFContentParser
from pdfminer.pdftypes import PDFStream
from pdfminer.psexceptions import PSEOF
from pdfminer.psparser import KWD, LIT, PSKeyword, PSLiteral, literal_name

_BLANK = b" \t\n\r\f\v\x00"

_TOKEN = re.compile(
    rb"[\s\x00]*+(?:"
    rb"([+-]?(?:[0-9]++\.[0-9]*+|\.[0-9]++))"
    rb"|([+-]?[0-9]++)"
    rb"|([A-Za-z][^#/%\[\]()<>{}\s]*+|['\"])"
    rb"|/([^#/%\[\]()<>{}\s]++)(?!#)"
    rb"|\(([^()\\]*+)\)"
    rb"|\(((?:[^()\\]++|\\[nrtbf()\\]|\\[0-3][0-7]{2}|\\[0-7]{1,2}(?![0-7])|\([^()\\]*+\))*+)\)"
    rb"|<([0-9A-Fa-f\s]*+)>(?!>)"
    rb"|(\[|\]|<<|>>)"
    rb"|%[^\r\n]*+)"
)

_ESCAPE = re.compile(rb"\\([0-7]{1,3}|.)", re.DOTALL)
_ESCAPED = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f", b"(": b"(", b")": b")", b"\\": b"\\"}

_PICTURE = (KWD(b"BI"), KWD(b"ID"))
_BRACKET = 8
_CLOSES = {b"]": b"[", b">>": b"<<"}


def read_content(streams: Sequence[PDFStream]) -> Iterator[Any]:
    """Yield operands and operators of the streams, one after another, as the parser library would."""
    for number, stream in enumerate(streams):
        stop = yield from _read_plain(stream.get_data())
        if stop is not None:
            yield from _read_on(streams[number:], stop)
            return


def _read_on(streams: Sequence[PDFStream], start: int) -> Iterator[Any]:
    """Yield what the parser library reads from a place in the first stream on."""
    parser = PDFContentParser(streams)
    parser.seek(start)
    while True:
        try:
            _, found = parser.nextobject()
        except PSEOF:
            return
        yield found


def _read_plain(data: bytes) -> Generator[Any, None, int | None]:
    """Yield objects as long as they are plain; return where the first begins that is not, None at the end."""
    around: list[tuple[bytes, list[Any]]] = []
    start = end = 0
    for found in _TOKEN.finditer(data):
        if found.start() != end:
            break
        kind = found.lastindex
        if kind is not None:
            try:
                value = _bracket(found[kind], around) if kind == _BRACKET else _MAKE[kind](found[kind])
            except ValueError:
                break
            if isinstance(value, PSKeyword) and (around or value in _PICTURE):
                break
            if around:
                if value is not around:
                    around[-1][1].append(value)
            else:
                yield value
                start = found.end()
        end = found.end()
    return None if not around and not data[end:].strip(_BLANK) else start


def _bracket(mark: bytes, around: list[tuple[bytes, list[Any]]]) -> Any:
    """Open an array or dictionary, and return `around`; or close the innermost one, and return it."""
    if mark not in _CLOSES:
        around.append((mark, []))
        return around
    if not around or around[-1][0] != _CLOSES[mark]:
        raise ValueError(mark)
    items = around[-1][1]
    if mark == b">>":
        keys, values = items[::2], items[1::2]
        if len(keys) != len(values) or not all(isinstance(key, PSLiteral) for key in keys):
            raise ValueError(mark)
        around.pop()
        return {literal_name(key): value for key, value in zip(keys, values, strict=True)}
    around.pop()
    return items


@lru_cache(maxsize=4096)
def _word(raw: bytes) -> Any:
    """Return an operator, or true and false."""
    return raw == b"true" if raw in (b"true", b"false") else KWD(raw)


@lru_cache(maxsize=4096)
def _name(raw: bytes) -> PSLiteral:
    try:
        return LIT(str(raw, "utf-8"))
    except UnicodeDecodeError:
        return LIT(raw)


def _unescape(raw: bytes) -> bytes:
    return _ESCAPE.sub(lambda found: _ESCAPED.get(found[1]) or bytes((int(found[1], 8),)), raw)


def _unhex(raw: bytes) -> bytes:
    return bytes.fromhex(raw.decode("ascii"))


_MAKE: tuple[Any, ...] = (None, float, int, _word, _name, bytes, _unescape, _unhex)
"""What makes an object of each group of `_TOKEN`; a `ValueError` leaves it to the parser library."""
