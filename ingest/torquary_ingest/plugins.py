"""The two plug-in seams: openers turn a file into a `Document`, extractors a `Document` into `Reading`s."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol, runtime_checkable

from torquary_ingest.document import Document, Reading, Table


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenWish:
    """How a file is to be opened: `every_page` reads all pages, not only those that can bear a figure.

    `sought` are headings, as printed, that head torques beside those that are known.
    `unwitnessed` releases, with a remark, figures that the picture of the page could not confirm. Without
    `pictures`, those beside live text stay unread, and a finding says where they are. Without `figures`, the words
    are wanted for themselves and no figure is read from them: whether digits are drawn as they claim is not looked at.
    """

    every_page: bool = False
    sought: tuple[str, ...] = ()
    password: str = ""
    unwitnessed: bool = False
    pictures: bool = True
    figures: bool = True


@runtime_checkable
class Opener(Protocol):
    """Opens one kind of file. Entry-point group `torquary.openers`."""

    name: str

    def recognises(self, path: Path, head: bytes) -> bool:
        """Tell from the name and the first 4,096 bytes whether this opener can read the file."""

    def open(self, path: Path, wish: OpenWish) -> Document:
        """Return the document; raise `SheetRefused` (what, what to do) when it cannot be read at all."""


@runtime_checkable
class Extractor(Protocol):
    """Says what is printed where. Entry-point group `torquary.extractors`.

    `specific` is True for an extractor made for one layout: it goes before the general ones.
    """

    name: str
    specific: bool

    def recognises(self, document: Document) -> bool:
        """Tell whether this extractor can read the document. Must not raise."""

    def readings(self, document: Document, tables: tuple[Table, ...]) -> Iterable[Reading]:
        """Yield the readings; `tables` are those found on the document's pages, in page order."""
