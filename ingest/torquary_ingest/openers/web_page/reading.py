"""Saved web page to `Document`."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator, Sequence
from pathlib import Path

from lxml import etree

from torquary_ingest.document import Document, Noted, Page, Table
from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.web_page.broken_tags import find_broken_tag, has_control_characters
from torquary_ingest.openers.web_page.content import Grid, Left, Line, Reader, too_deep
from torquary_ingest.openers.web_page.cut import (
    describe_break,
    describe_broken_tag,
    describe_control_characters,
    doubt_all_rows,
    doubt_last_rows,
    find_break,
)
from torquary_ingest.openers.web_page.encoding import decode_page
from torquary_ingest.openers.web_page.prose import set_words
from torquary_ingest.openers.web_page.sight import Looks
from torquary_ingest.openers.web_page.tables import read_table
from torquary_schema.values import Finding, Place

LARGEST_BYTES = 16 * 1024 * 1024
"""A page beyond this is no datasheet; its tree of elements would take some twenty times as much memory."""

_XML_OPENING = re.compile(r"\A\s*<\?xml[^>]*\?>")
_LONGEST_CAPTION = 160


def read_web_page(path: Path) -> Document:
    """Return a document of one page.

    Raises `SheetRefused`: sheet_empty, sheet_too_large, sheet_unknown_encoding, sheet_damaged,
    sheet_not_a_table.
    """
    if path.stat().st_size > LARGEST_BYTES:
        raise SheetRefused(
            "sheet_too_large", f"the page is larger than {LARGEST_BYTES // 1024**2} MB: save its tables alone"
        )
    raw = path.read_bytes()
    decoded = decode_page(raw)
    root = _parse(decoded.text.lstrip("\ufeff"))
    reader = Reader(Looks(root))
    lines, tables = _read_content(reader, root)
    if not lines and not tables:
        raise SheetRefused("sheet_empty", "the page shows no text: save it again once it is fully loaded")
    tables, damage = _doubt_damage(decoded.text, lines, tables)
    page = Page(
        number=1,
        width=1000.0,
        height=40.0 * (len(lines) + 2),
        words=tuple(set_words(lines)),
        tables=tables,
        findings=(*_describe_left_out(reader.left), *damage),
    )
    return Document(
        file=path.name,
        kind="web_page",
        pages=(page,),
        page_count=1,
        digest=hashlib.sha256(raw).hexdigest(),
        noted=Noted(title=_read_noted_title(root)),
        findings=decoded.findings,
    )


def _doubt_damage(
    text: str, lines: Sequence[Line], tables: tuple[Table, ...]
) -> tuple[tuple[Table, ...], list[Finding]]:
    """Return the tables, those near damage doubted, and what is to be said of it."""
    damage: list[Finding] = []
    if has_control_characters(text):
        tables = tuple(doubt_all_rows(tables))
        damage.append(describe_control_characters())
    what, reached = find_broken_tag(text)
    if what:
        first = max(0, len(tables) - reached)
        tables = (*tables[:first], *doubt_all_rows(tables[first:]))
        damage.append(describe_broken_tag(what))
    how, broken = find_break(text)
    if how:
        whole = max(0, len(tables) - broken)
        damage.append(describe_break(how, tables[whole:], lines))
        tables = (*tables[:whole], *doubt_last_rows(tables[whole:]))
    return tables, damage


def _parse(text: str) -> etree._Element:
    text = _XML_OPENING.sub("", text).replace("\x00", "\ufffd")
    if not text.strip():
        raise SheetRefused("sheet_empty", "the page has no text: save it again once it is fully loaded")
    parser = etree.HTMLParser(no_network=True, huge_tree=False, remove_comments=True, remove_pis=True)
    try:
        root = etree.fromstring(text, parser)
    except (etree.XMLSyntaxError, ValueError):
        root = None
    if root is None:
        raise SheetRefused("sheet_damaged", "the file is no web page that can be read: save it again as HTML")
    if any("depth" in str(fault.message).lower() for fault in parser.error_log):
        raise too_deep()
    return root


def _read_content(reader: Reader, root: etree._Element) -> tuple[tuple[Line, ...], tuple[Table, ...]]:
    """Return the prose and the tables; headings and the line above a table are its caption."""
    lines: list[Line] = []
    tables: list[Table] = []
    headings: dict[int, str] = {}
    above: str | None = None
    for piece in reader.pieces(root):
        if isinstance(piece, Line):
            lines.append(piece)
            text = " ".join(piece.spoken.text.split())
            if piece.level:
                headings = {level: told for level, told in headings.items() if level < piece.level}
                headings[piece.level] = text
            above = None if piece.level or len(text) > _LONGEST_CAPTION else text
        else:
            caption = [*(headings[level] for level in sorted(headings)), *([above] if above else [])]
            tables += _read_tables(reader, piece, caption, len(tables))
            above = None
    return tuple(lines), tuple(tables)


def _read_tables(reader: Reader, grid: Grid, caption: Sequence[str], before: int) -> list[Table]:
    """Return a table and those inside its cells, outer ones first."""
    found: list[Table] = []
    waiting = [grid]
    while waiting:
        table, inner = read_table(reader, waiting.pop(0), caption, before + len(found) + 1)
        found += [table] if table is not None else []
        waiting = [*(Grid(element=one) for one in inner), *waiting]
    return found


def _read_noted_title(root: etree._Element) -> str:
    """Return the title in the head of the page, which a browser shows over it."""
    return " ".join(next((str(one.text) for one in root.iter("title") if one.text), "").split())


def _describe_left_out(left: Left) -> Iterator[Finding]:
    for what, texts in (("text that does not show", left.hidden), ("struck-out text", left.struck)):
        if texts:
            told = ", ".join(repr(text[:40]) for text in dict.fromkeys(texts[:6]))
            yield Finding(
                code="page_hidden_text",
                scope="page",
                message=f"{what} was left out ({told}): compare it with the page",
                place=Place(page=1),
            )
