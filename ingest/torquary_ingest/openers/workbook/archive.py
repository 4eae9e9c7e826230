"""The zip that a workbook is, opened with bounds: no part expands beyond them, whatever the headers say."""

from __future__ import annotations

import io
import zipfile
import zlib
from collections import Counter
from pathlib import Path
from typing import IO

from lxml import etree

from torquary_ingest.errors import SheetRefused

LARGEST_BYTES = 32 * 1024 * 1024
"""Size of the file as it is stored."""

LARGEST_PART = 48 * 1024 * 1024
"""Size to which one part may expand. A worksheet of 200,000 cells takes about 12 MB."""

MOST_PARTS = 4000

_OLE = b"\xd0\xcf\x11\xe0"
_AGAIN = "open it in a spreadsheet program and save it again, or ask the maker for it"


class Archive:
    """A workbook's parts by name. Every reading of a part is counted against `LARGEST_PART`."""

    def __init__(self, path: Path) -> None:
        """Open the file; raise `SheetRefused`: sheet_encrypted, sheet_damaged, sheet_too_large."""
        if path.stat().st_size > LARGEST_BYTES:
            raise SheetRefused(
                "sheet_too_large",
                f"the file is larger than {LARGEST_BYTES // 1024**2} MB: split off the worksheets with torques",
            )
        self.raw = path.read_bytes()
        if self.raw.startswith(_OLE):
            raise SheetRefused(
                "sheet_encrypted",
                "the workbook is locked with a password, or in the format before .xlsx: save it as .xlsx without one",
            )
        try:
            self._zip = zipfile.ZipFile(io.BytesIO(self.raw))
        except (zipfile.BadZipFile, ValueError, OSError, NotImplementedError):
            raise SheetRefused("sheet_damaged", f"the file is not a whole workbook: {_AGAIN}") from None
        if len(self._zip.infolist()) > MOST_PARTS:
            raise SheetRefused(
                "sheet_too_large",
                f"the workbook has more than {MOST_PARTS} parts: save the tables alone in a new workbook",
            )
        if any(part.flag_bits & 1 for part in self._zip.infolist()):
            raise SheetRefused("sheet_encrypted", "the workbook is locked with a password: save it without one")

    def twice(self) -> tuple[str, ...]:
        """Return the parts that are there more than once: which of them a program shows cannot be told."""
        counted = Counter(part.filename for part in self._zip.infolist())
        return tuple(name for name, count in counted.items() if count > 1)

    def has(self, name: str) -> bool:
        """Tell whether the part is there."""
        return name in self._zip.namelist()

    def open(self, name: str) -> IO[bytes]:
        """Return the part as a stream; raise `SheetRefused` when it is missing, broken or expands too far."""
        declared = self._zip.getinfo(name).file_size if self.has(name) else 0
        if declared > LARGEST_PART:
            raise _too_far(name)
        try:
            with self._zip.open(name) as stream:
                content = stream.read(LARGEST_PART + 1)
        except KeyError:
            raise SheetRefused("sheet_damaged", f"the workbook has no part {name[:60]!r}: {_AGAIN}") from None
        except (zipfile.BadZipFile, zlib.error, EOFError, OSError, NotImplementedError, RuntimeError):
            raise SheetRefused("sheet_damaged", f"the part {name[:60]!r} is broken: {_AGAIN}") from None
        if len(content) > LARGEST_PART:
            raise _too_far(name)
        return io.BytesIO(content)

    def tree(self, name: str) -> etree._Element:
        """Return a part as a tree of elements; for parts that are small in an honest workbook."""
        parser = etree.XMLParser(resolve_entities=False, no_network=True, huge_tree=False, remove_comments=True)
        try:
            return etree.parse(self.open(name), parser).getroot()
        except etree.XMLSyntaxError:
            raise broken_part(name) from None


def broken_part(name: str) -> SheetRefused:
    """Return the refusal for a part whose XML does not hold together."""
    return SheetRefused("sheet_damaged", f"the part {name[:60]!r} cannot be read: {_AGAIN}")


def _too_far(name: str) -> SheetRefused:
    return SheetRefused(
        "sheet_too_large",
        f"the part {name[:60]!r} expands beyond {LARGEST_PART // 1024**2} MB: it may be built to exhaust "
        "memory; save the tables alone in a new workbook",
    )


def local(element: etree._Element) -> str:
    """Return an element's name without its namespace; "" for comments and instructions."""
    return str(etree.QName(element).localname) if isinstance(element.tag, str) else ""


def attribute(element: etree._Element, name: str) -> str:
    """Return an attribute by its name without namespace; "" if it is not there."""
    plain = element.get(name)
    if plain is not None:
        return str(plain)
    return next((str(value) for key, value in element.attrib.items() if str(key).endswith("}" + name)), "")
