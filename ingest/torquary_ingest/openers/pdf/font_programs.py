"""The names that font programs give their glyphs: compact programs (CFF) and the `post` table of TrueType.

Adobe Technical Note 5176 (The Compact Font Format Specification); OpenType specification, tables `post`, version 2,
and `maxp`.
"""

from __future__ import annotations

import io
import struct
from itertools import pairwise

from pdfminer.pdffont import CFFFont

_CHARSET, _ENCODING, _CHARSTRINGS, _ROS = 15, 16, 17, 1230
"""Operators of a program's top dictionary (5176, 9); those of two bytes count from 1200. ROS: glyphs without names."""

_FIRST, _OWN = 3, 258
"""In the order of glyphs that `post` presumes: the first character, and the first name that a program spells itself."""

_STANDARD = bytes([*range(0x20, 0x7F), *range(0x80, 0x100)]).decode("mac_roman").replace("€", "¤") + (
    "ŁłŠšŽž¦ÐðÝýÞþ−×¹²³½¼¾₣ĞğİŞşĆćČčđ"
)
"""The characters of that order: Mac Roman, with the sign for currency that it had at first, and those that follow
(TrueType Reference Manual, table `post`)."""

_FAULTS = (struct.error, LookupError, ValueError, TypeError, AssertionError, OverflowError)


def read_glyph_names(program: bytes) -> dict[int, str]:
    """Return the names of a program's glyphs by their number; none where it has none or is damaged."""
    try:
        tables = _read_tables(program)
        if tables is None:
            return _Compact(program).names() if program else {}
        if b"CFF " in tables:
            start, length = tables[b"CFF "]
            return _Compact(program[start : start + length]).names()
        return _read_post(program, tables)
    except _FAULTS:
        return {}


def read_cff_encoding(program: bytes) -> dict[int, str]:
    """Return the glyph names by code of the encoding that a compact program brings; none for the standard one."""
    try:
        return _Compact(program).encoding() if program else {}
    except _FAULTS:
        return {}


class _Compact:
    """A compact font program, as far as names go."""

    def __init__(self, program: bytes) -> None:
        self._file = io.BytesIO(program)
        self._file.seek(program[2])
        _read_index(self._file)
        self._top = _read_dictionary(_read_index(self._file)[0])
        self._strings = _read_index(self._file)
        self._file.seek(self._number(_CHARSTRINGS))
        (self._count,) = struct.unpack(">H", self._file.read(2))

    def _number(self, operator: int) -> int:
        return self._top.get(operator, [0])[0]

    def names(self) -> dict[int, str]:
        """Return the names by glyph number (5176, 13)."""
        place = self._number(_CHARSET)
        if _ROS in self._top or place in (1, 2):
            return {}
        if place == 0:
            return {glyph: self._string(glyph) for glyph in range(1, min(self._count, 229))}
        self._file.seek(place)
        kind = self._file.read(1)[0]
        found: dict[int, str] = {}
        while len(found) < self._count - 1:
            (first,) = struct.unpack(">H", self._file.read(2))
            left = 0 if kind == 0 else struct.unpack(">B" if kind == 1 else ">H", self._file.read(kind))[0]
            for string in range(first, first + left + 1):
                found[len(found) + 1] = self._string(string)
        return found

    def encoding(self) -> dict[int, str]:
        """Return the names by code (5176, 12); the predefined encodings, 0 and 1, are left to the reader."""
        place = self._number(_ENCODING)
        if place in (0, 1):
            return {}
        names = self.names()
        self._file.seek(place)
        kind, count = self._file.read(2)
        if kind & 0x7F == 0:
            codes = list(self._file.read(count))
        else:
            spans = [self._file.read(2) for _ in range(count)]
            codes = [code for first, left in spans for code in range(first, first + left + 1)]
        named = {code: names[glyph] for glyph, code in enumerate(codes, start=1) if glyph in names}
        if kind & 0x80:
            for _ in range(self._file.read(1)[0]):
                code, string = struct.unpack(">BH", self._file.read(3))
                named[code] = self._string(string)
        return named

    def _string(self, number: int) -> str:
        known = CFFFont.STANDARD_STRINGS
        if number < len(known):
            return known[number]
        return self._strings[number - len(known)].decode("latin-1")


def _read_index(file: io.BytesIO) -> list[bytes]:
    """Return the entries of an index (5176, 5)."""
    count = int.from_bytes(file.read(2), "big")
    if not count:
        return []
    size = file.read(1)[0]
    ends = [int.from_bytes(file.read(size), "big") for _ in range(count + 1)]
    return [file.read(end - start) for start, end in pairwise(ends)]


def _read_dictionary(coded: bytes) -> dict[int, list[int]]:
    """Return operands by operator (5176, 4); reals, which no name depends on, count as 0."""
    found: dict[int, list[int]] = {}
    stack: list[int] = []
    file = io.BytesIO(coded)
    while head := file.read(1):
        first = head[0]
        if first <= 21:
            found[1200 + file.read(1)[0] if first == 12 else first] = stack
            stack = []
        elif first == 30:
            while file.read(1)[0] & 15 != 15:
                pass
            stack.append(0)
        elif first in (28, 29):
            stack.append(int.from_bytes(file.read(2 if first == 28 else 4), "big", signed=True))
        elif first <= 246:
            stack.append(first - 139)
        else:
            sign, base = (1, 247) if first <= 250 else (-1, 251)
            stack.append(sign * ((first - base) * 256 + file.read(1)[0] + 108))
    return found


def _read_tables(program: bytes) -> dict[bytes, tuple[int, int]] | None:
    """Return offset and length of the tables of a TrueType or OpenType program; None for another kind."""
    if program[:4] not in (b"\0\1\0\0", b"true", b"OTTO"):
        return None
    (count,) = struct.unpack(">H", program[4:6])
    rows = (struct.unpack(">4sLLL", program[at : at + 16]) for at in range(12, 12 + 16 * count, 16))
    return {tag: (offset, length) for tag, _, offset, length in rows}


def _read_post(program: bytes, tables: dict[bytes, tuple[int, int]]) -> dict[int, str]:
    """Return the names that table `post` of version 2 gives; none from a table made for another count of glyphs.

    A program that was cut down to a part of its glyphs may have kept the table of the whole: its names prove nothing.
    """
    start, length = tables[b"post"]
    table = program[start : start + length]
    if table[:4] != b"\0\2\0\0":
        return {}
    (count,) = struct.unpack(">H", table[32:34])
    if count != _count_glyphs(program, tables):
        return {}
    numbers = struct.unpack(f">{count}H", table[34 : 34 + 2 * count])
    strings: list[str] = []
    at = 34 + 2 * count
    while at < len(table):
        end = at + 1 + table[at]
        strings.append(table[at + 1 : end].decode("latin-1"))
        at = end
    standard = (f"uni{ord(character):04X}" for character in _STANDARD)
    names = dict(enumerate(standard, start=_FIRST)) | dict(enumerate(strings, start=_OWN))
    return {glyph: names[number] for glyph, number in enumerate(numbers) if number in names}


def _count_glyphs(program: bytes, tables: dict[bytes, tuple[int, int]]) -> int:
    at = tables[b"maxp"][0] + 4
    return int.from_bytes(program[at : at + 2], "big")
