"""Whether the filters of a stream come to their end: a stream that breaks off, or whose bytes were changed, is told."""

from __future__ import annotations

import re
import struct
import zlib
from typing import Any

from pdfminer.ascii85 import ascii85decode, asciihexdecode
from pdfminer.pdfexceptions import PDFException
from pdfminer.pdfpage import PDFPage
from pdfminer.pdftypes import (
    LITERALS_ASCII85_DECODE,
    LITERALS_ASCIIHEX_DECODE,
    LITERALS_FLATE_DECODE,
    PDFStream,
    resolve1,
)

from torquary_ingest.openers.pdf.limits import LARGEST_CONTENT

_BREAKS_OFF = "its compressed content breaks off"
HAS_NULS = "NUL bytes stand in the content"
_PICTURE = re.compile(rb"\bBI\b.*?\bEI\b", re.DOTALL)
_NULS = re.compile(rb"\0{5,}")
"""As many NUL bytes as the shortest operator that shows text, "(1)Tj": as white space no writer sets them."""

_CHANGED = "the checksum of its compressed content is wrong"
_ENDS = ((LITERALS_ASCII85_DECODE, b"~>", ascii85decode), (LITERALS_ASCIIHEX_DECODE, b">", asciihexdecode))


class StreamChecks:
    """Looks at each stream once, before the parser library decodes it and lets go of its raw bytes."""

    def __init__(self) -> None:
        self._told: dict[int, tuple[PDFStream, str]] = {}

    def find_fault(self, stream: PDFStream) -> str:
        """Return what is wrong with the stream's filters, in words; "" if nothing is."""
        if id(stream) not in self._told:
            self._told[id(stream)] = (stream, _find_fault(stream))
        return self._told[id(stream)][1]

    def find_content_fault(self, stream: PDFStream) -> str:
        """Return what is wrong with the filters of a content, or with its bytes, in words; "" if nothing is."""
        fault = self.find_fault(stream)
        return fault or (HAS_NULS if _NULS.search(_PICTURE.sub(b"", stream.get_data())) else "")


def find_page_faults(page: PDFPage, checks: StreamChecks) -> list[str]:
    """Return what is wrong with the streams of a page's content, before anything is run, in words."""
    fonts = resolve1(page.resources.get("Font")) if isinstance(page.resources, dict) else None
    if "Contents" not in page.attrs and fonts:
        return ["it names fonts and has no content"]
    found = [resolve1(content) for content in page.contents]
    lost = [one for one in found if not isinstance(one, PDFStream)]
    told = [checks.find_content_fault(one) for one in found if isinstance(one, PDFStream)]
    return [*(["a part of its content is missing"] if lost else []), *dict.fromkeys(filter(None, told))]


def _find_fault(stream: PDFStream) -> str:
    if stream.rawdata is None:
        return ""
    try:
        data: bytes = stream.rawdata
        if stream.decipher and stream.objid is not None and stream.genno is not None:
            data = stream.decipher(stream.objid, stream.genno, data, stream.attrs)
        for name, _ in stream.get_filters():
            fault, data = _undo(name, data)
            if fault or not data:
                return fault
    except zlib.error:
        return _CHANGED
    except (PDFException, ValueError, TypeError, AssertionError, LookupError, struct.error):
        return "its compressed content cannot be unpacked"
    return ""


def _undo(name: Any, data: bytes) -> tuple[str, bytes]:
    """Return a fault and the data behind one filter; of filters without an end or a checksum nothing is told."""
    if name in LITERALS_FLATE_DECODE:
        return inflate(data)
    for names, end, decode in _ENDS:
        if name in names:
            return ("", decode(data)) if end in data else (_BREAKS_OFF, b"")
    return "", b""


def inflate(data: bytes | memoryview) -> tuple[str, bytes]:
    """Return a fault ("" if none) and what the data inflate to; raise `zlib.error` for a wrong checksum (RFC 1950)."""
    inflater = zlib.decompressobj()
    found = inflater.decompress(data, LARGEST_CONTENT)
    return ("" if inflater.eof or inflater.unconsumed_tail else _BREAKS_OFF), found
