"""A page as a reader sees it: live words, rules, shades and pictures. Lengths in points from the top left."""

from __future__ import annotations

from dataclasses import dataclass

from torquary_ingest.document.passed import PassedPage
from torquary_ingest.document.section import HeadingLine, Section, sections_over
from torquary_ingest.document.table import Table
from torquary_ingest.document.taught import TaughtHeading
from torquary_ingest.document.word import Word
from torquary_schema.values import Box, Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A visible straight line (stroke, hairline rectangle or row of dashes): horizontal or vertical.

    For a horizontal rule `start`/`end` are x and `at` is y; for a vertical one the other way round.
    """

    horizontal: bool
    at: float
    start: float
    end: float
    thickness: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Shade:
    """A filled area that is not the page's ground (zebra rows, headings). `colour` is grey 0 to 1."""

    box: Box
    colour: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A raster picture placed on the page."""

    box: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """A page that was read as a picture, upright and straightened: packed grey levels (0 black, 255 white).

    `wide` is the pixels of a row, rows from the top; `scale` pixels a point; `packed` is compressed by zlib.
    """

    packed: bytes
    wide: int
    scale: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page. `number` counts from 1 in the file. Only what a reader sees is in `words`.

    `seen` is the picture of a page that has no live text: its lengths are those of the page turned upright
    and straightened.

    `tables` is filled by openers of files that are tables already (CSV); None asks the table finder.
    """

    number: int
    width: float = 0.0
    height: float = 0.0
    words: tuple[Word, ...] = ()
    rules: tuple[Rule, ...] = ()
    shades: tuple[Shade, ...] = ()
    pictures: tuple[Picture, ...] = ()
    tables: tuple[Table, ...] | None = None
    findings: tuple[Finding, ...] = ()
    seen: Seen | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Noted:
    """What a file notes of itself; it stands on no page, so it witnesses what is printed and proves nothing alone."""

    title: str = ""
    subject: str = ""
    author: str = ""
    company: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """An opened file. `pages` holds the pages that can bear a figure; `page_count` counts all of them.

    `glimpsed` are lines of the other pages that may be headings, in the order of the pages; `sections` the parts of
    the document under its headings, in order, those of the other pages too, and `running` the texts of running heads
    and feet; `members` are the devices that the document tells apart, as printed ("QX 16", "Size A"). An extractor
    gets them all with the document. `passed` are the pages that were not read closely, with what else they tell, and
    `unread` the numbers of those of them that should have been and were not, for the time was over.
    `noted` is what the file notes of itself. `taught` are headings that a layout profile explains for this document.
    """

    file: str
    kind: str
    pages: tuple[Page, ...]
    page_count: int
    digest: str = ""
    noted: Noted = Noted()
    glimpsed: tuple[HeadingLine, ...] = ()
    passed: tuple[PassedPage, ...] = ()
    unread: tuple[int, ...] = ()
    sections: tuple[Section, ...] = ()
    running: frozenset[str] = frozenset()
    members: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()
    taught: tuple[TaughtHeading, ...] = ()

    def sections_over(self, page: int, top: float) -> tuple[Section, ...]:
        """Return the sections that a place stands in, outermost first; `page` from 1, `top` in points."""
        return sections_over(self.sections, page, top)
