"""The skeleton of a sheet: made once from its pages and tables, handed down to all that name things."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import PurePath

from torquary_ingest.document import Document, Noted, Section, Table
from torquary_ingest.document.section import sections_over
from torquary_ingest.skeleton.head import find_own_lines, read_head
from torquary_ingest.skeleton.headings import find_headings
from torquary_ingest.skeleton.language_parts import LanguagePart, find_language_parts
from torquary_ingest.skeleton.languages import find_languages
from torquary_ingest.skeleton.lines import PageLines, set_blocks, set_page, usual_size
from torquary_ingest.skeleton.maker import find_maker, find_makers_told, lines_of_maker
from torquary_ingest.skeleton.members import find_members
from torquary_ingest.skeleton.paper import Paper, read_paper
from torquary_ingest.skeleton.product import Witnesses, find_product
from torquary_ingest.skeleton.running import find_running
from torquary_ingest.skeleton.sections import make_sections
from torquary_ingest.skeleton.title import find_title

_EDGE_LINES = 8
"""Lines at the head and at the foot of the first and last page among which a maker is named (own choice)."""


_SILENT = Paper()


@dataclass(frozen=True, slots=True, kw_only=True)
class Skeleton:
    """What a sheet as a whole says, each as printed and "" where it does not say or that is not certain.

    `product` is the name of what the sheet is about, `title` the lines it stands in, or the sheet's largest first
    line, or of a file without sizes the first line over all its tables; `makers` is all that stands as a
    maker's name, `maker` the one that made the product; `head` are the lines over the first table, on `page`;
    `running` those at the edges of several pages and the maker's name by itself, which name no device and no terminal;
    `sections` are the parts of the sheet under its headings, `parts` those in several languages, each in order;
    `members` the devices that the sheet tells apart ("QX 16", "Size A").
    """

    title: str = ""
    product: str = ""
    maker: str = ""
    makers: tuple[str, ...] = ()
    paper: Paper = _SILENT
    head: tuple[str, ...] = ()
    page: int | None = None
    running: frozenset[str] = frozenset()
    sections: tuple[Section, ...] = ()
    parts: tuple[LanguagePart, ...] = ()
    members: tuple[str, ...] = ()

    def sections_over(self, page: int, top: float) -> tuple[Section, ...]:
        """Return the sections that a place stands in, outermost first; `page` from 1, `top` in points."""
        return sections_over(self.sections, page, top)


def make_skeleton(document: Document, tables: Sequence[Table]) -> Skeleton:
    """Return the skeleton of an opened document with the tables on its pages."""
    pages = tuple(set_page(page, tables) for page in document.pages)
    usual = usual_size([word for page in document.pages for word in page.words])
    running = find_running(pages, document.passed)
    texts = tuple(_texts(pages, tables, document))
    makers = find_makers_told(texts, tables)
    noted = document.noted
    maker = find_maker(makers, (*_edges(pages, tables, document), *sorted(running)), (noted.company, noted.author))
    own = find_own_lines(tables)
    blocks = set_blocks(pages[0].unframed, usual) if pages else ()
    blocks = tuple(block for block in blocks if not own.intersection(block.lines))
    head = read_head(document, tables)
    shared = () if blocks else _shared_captions(tables)
    witnesses = Witnesses(texts=_witnesses(document.file, noted, running), maker=maker)
    product = find_product(blocks, head or shared, witnesses)
    title = product.title if product is not None else find_title(blocks, noted.title)
    headings = find_headings(pages, document.glimpsed, usual, running)
    return Skeleton(
        title=title if blocks else next(iter(shared), ""),
        product=product.name if product is not None else "",
        maker=maker,
        makers=makers,
        paper=read_paper(texts),
        head=head,
        page=pages[0].page if pages else None,
        running=frozenset((*running, *lines_of_maker(maker, texts))),
        sections=make_sections(headings, find_languages(document)),
        parts=find_language_parts(pages, document.glimpsed, document.passed),
        members=find_members(product.name if product is not None else "", texts),
    )


def _shared_captions(tables: Sequence[Table]) -> tuple[str, ...]:
    """Return the lines that stand over every table that has lines: of a file without pages to set, its head."""
    captions = [table.caption for table in tables if table.caption]
    return tuple(line for line in captions[0] if all(line in other for other in captions)) if captions else ()


def _witnesses(file: str, noted: Noted, running: Iterable[str]) -> tuple[str, ...]:
    return tuple(text for text in (PurePath(file).stem, noted.title, noted.subject, *sorted(running)) if text)


def _edges(pages: Sequence[PageLines], tables: Sequence[Table], document: Document) -> Iterator[str]:
    """Yield the lines at the edges of the first and last page, or around the tables of a file without pages to set."""
    ends = [[line.text for line in page.lines] for page in dict.fromkeys((*pages[:1], *pages[-1:]))]
    if document.passed and document.passed[-1].number == document.page_count:
        ends[1:] = [list(document.passed[-1].lines)]
    for lines in ends:
        yield from dict.fromkeys((*lines[:_EDGE_LINES], *lines[-_EDGE_LINES:]))
    if not any(page.lines for page in pages):
        yield from _around(tables)


def _texts(pages: Sequence[PageLines], tables: Sequence[Table], document: Document) -> Iterator[str]:
    """Yield the lines on pages, and those over and under tables: a file without pages to set has no others.

    Those of pages that were passed over come last.
    """
    for page in pages:
        yield from (line.text for line in page.lines)
    yield from _around(tables)
    for passed in document.passed:
        yield from passed.lines


def _around(tables: Sequence[Table]) -> Iterator[str]:
    for table in tables:
        yield from (*table.caption, *table.below)
