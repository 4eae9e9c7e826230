"""How large a content stream may grow: checked before anything is inflated whole."""

from __future__ import annotations

import zlib
from collections.abc import Iterable

from pdfminer.pdfpage import PDFPage
from pdfminer.pdftypes import PDFObjRef, PDFStream, resolve1
from pdfminer.psparser import literal_name

from torquary_ingest.errors import SheetRefused

LARGEST_CONTENT = 48_000_000
"""Bytes that one content stream may take when inflated; drawings of 10 MB occur, larger ones are not sheets."""

_MOST_DEFLATE = 1032
"""Deflate cannot grow by more than this factor (zlib's own documentation)."""

_FLATE = ("FlateDecode", "Fl")


def check_stream(stream: PDFStream) -> None:
    """Raise `SheetRefused` when the stream would take more than `LARGEST_CONTENT` bytes."""
    filters = resolve1(stream.get_any(("F", "Filter")))
    names = [literal_name(resolve1(one)) for one in (filters if isinstance(filters, list) else [filters]) if one]
    flates = sum(name in _FLATE for name in names)
    raw = stream.rawdata
    if raw is None or not flates or len(raw) * _MOST_DEFLATE**flates <= LARGEST_CONTENT:
        return
    if names[0] not in _FLATE:
        return
    data: bytes = raw
    for _ in range(flates):
        data = _inflate_some(data)
        if len(data) > LARGEST_CONTENT:
            raise SheetRefused(
                "sheet_too_large",
                f"a content stream of {len(raw):,} bytes grows beyond {LARGEST_CONTENT:,} when inflated: "
                "look at the file in another program",
            )


def check_contents(pages: Iterable[PDFPage]) -> None:
    """Check the content streams of all pages, each stream once, before any library inflates them."""
    seen: set[int] = set()
    for page in pages:
        for reference in page.contents:
            number = reference.objid if isinstance(reference, PDFObjRef) else None
            if number is not None and number in seen:
                continue
            if number is not None:
                seen.add(number)
            stream = resolve1(reference)
            if isinstance(stream, PDFStream):
                check_stream(stream)


def _inflate_some(data: bytes) -> bytes:
    try:
        return zlib.decompressobj().decompress(data, LARGEST_CONTENT + 1)
    except zlib.error:
        return b""
