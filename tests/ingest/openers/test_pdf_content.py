"""Content streams are read as the parser library reads them, only sooner: plain ones and damaged ones alike."""

from __future__ import annotations

import random
from collections.abc import Iterator
from typing import Any

import pytest
from pdfminer.pdfinterp import PDFContentParser
from pdfminer.pdftypes import PDFStream
from pdfminer.psexceptions import PSEOF

from torquary_ingest.openers.pdf.content import read_content

PIECES = [
    b"1",
    b"-2.5",
    b"+.5",
    b"7.",
    b"0",
    b"12-3",
    b"1.2.3",
    b"--5",
    b"-",
    b".",
    b"1e5",
    b"9" * 400,
    b"Tj",
    b"T*",
    b"'",
    b'"',
    b"q",
    b"BT",
    b"true",
    b"false",
    b"null",
    b"/F1",
    b"/",
    b"/A#20B",
    b"/\xc3\xa9",
    b"/\xff",
    b"(text)",
    b"(a(b)c)",
    b"(\\(2\\))",
    b"(\\101\\7)",
    b"(\\777)",
    b"(\\x)",
    b"(a\\\r\nb)",
    b"(open",
    b")",
    b"((a)(b\\)))",
    b"<41 42>",
    b"<4>",
    b"<4142",
    b">",
    b"<>",
    b"<</MCID 0>>",
    b"<</A [1 (x)] /B <41>>>",
    b"<</A>>",
    b"<<(k) 1>>",
    b"[",
    b"]",
    b"<<",
    b">>",
    b"[(a) -120 (b)]",
    b"[1 q 2]",
    b"{",
    b"}",
    b"% a note\n",
    b"%",
    b"\x00",
    b"BI /W 1 ID \x01\x02\nEI Q",
    b"BI",
    b"ID",
    b"_",
]
BETWEEN = [b" ", b"\n", b"", b"\r\n", b"\t", b"\x00"]


def by_library(streams: list[PDFStream]) -> Iterator[Any]:
    try:
        parser = PDFContentParser(streams)
        while True:
            yield parser.nextobject()[1]
    except PSEOF:
        return


def told(parts: Iterator[Any]) -> list[str]:
    found = []
    try:
        for part in parts:
            found.append(repr(part.attrs) + repr(part.rawdata) if isinstance(part, PDFStream) else repr(part))
    except Exception as error:
        found.append(type(error).__name__)
    return found


def streams_of(*contents: bytes) -> list[PDFStream]:
    return [PDFStream({}, content) for content in contents]


@pytest.mark.parametrize("piece", PIECES)
@pytest.mark.parametrize("after", [b"", b" 1 0 0 1 2 3 cm\n"])
def test_each_kind_of_object_is_what_the_library_gives(piece: bytes, after: bytes) -> None:
    assert told(read_content(streams_of(piece + after))) == told(by_library(streams_of(piece + after)))


def test_mixed_streams_are_what_the_library_gives() -> None:
    chance = random.Random(11)
    for _ in range(3000):
        contents = [
            b"".join(chance.choice(PIECES) + chance.choice(BETWEEN) for _ in range(chance.randint(0, 9)))
            for _ in range(chance.randint(1, 3))
        ]
        assert told(read_content(streams_of(*contents))) == told(by_library(streams_of(*contents))), contents
