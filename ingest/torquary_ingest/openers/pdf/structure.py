"""Damage to what all pages of a file hang on: the tree of pages, and the packed objects."""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterator
from typing import Any

from pdfminer.pdftypes import resolve1

from torquary_ingest.openers.pdf.filters import inflate
from torquary_schema.values import Finding

_PACKED = re.compile(rb"/ObjStm\b")
_STREAM = re.compile(rb"stream\r?\n")
_ENTRIES = 500
"""Bytes that the entries of a packed object may take before and behind its type."""


def find_lost_pages(root: Any, found: int) -> Iterator[Finding]:
    """Yield a finding when the tree of pages is lost, or states another number of pages than was found."""
    stated = resolve1(root.get("Count")) if isinstance(root, dict) else None
    if not isinstance(stated, int):
        yield _damaged("its tree of pages is lost, and pages may be missing")
    elif stated != found:
        yield _damaged(f"it states {stated} pages, and {found} were found")


def find_broken_objects(content: bytes) -> Iterator[Finding]:
    """Yield a finding when packed objects (ISO 32000-1, 7.5.7) of a file that is not encrypted cannot be unpacked."""
    for found in _PACKED.finditer(content):
        start = _STREAM.search(content, found.end(), found.end() + _ENTRIES)
        if start is None:
            continue
        entries = content[max(0, found.start() - _ENTRIES) : start.start()].rpartition(b" obj")[2]
        if b"FlateDecode" in entries and _is_broken(memoryview(content)[start.end() :]):
            yield _damaged("a part of its objects is damaged")
            return


def _is_broken(packed: memoryview) -> bool:
    try:
        return bool(inflate(packed)[0])
    except zlib.error:
        return True


def _damaged(what: str) -> Finding:
    message = f"the file is damaged: {what}; all figures are held: ask for a sound copy"
    return Finding(code="sheet_damaged", scope="sheet", message=message)
