"""One page of a PDF: paint it, decide what is visible, make words and rules of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from pdfminer.pdfexceptions import PDFException
from pdfminer.pdfpage import PDFPage
from pdfminer.psexceptions import PSException

from torquary_ingest.document import Page
from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.pdf.file import PdfFile
from torquary_ingest.openers.pdf.forms import Additions, paint_annotations
from torquary_ingest.openers.pdf.ink import find_inked, find_slants, find_spots, find_struck, mark_words
from torquary_ingest.openers.pdf.interpreter import paint_page
from torquary_ingest.openers.pdf.paint import Bounds, Painting
from torquary_ingest.openers.pdf.pieces import Piece, make_pieces
from torquary_ingest.openers.pdf.ruling import find_pictures, find_shades, find_stretches, merge_stretches
from torquary_ingest.openers.pdf.visibility import Grounds
from torquary_ingest.openers.pdf.words import make_words
from torquary_schema.values import Finding, Place

_WHY = {
    "layer": "on a layer that is switched off",
    "outside": "outside the visible page",
    "clipped": "clipped away",
    "blank": "in the colour of its ground",
    "covered": "covered",
    "invisible": "drawn without ink",
}


def read_page(file: PdfFile, page: PDFPage, number: int) -> Page:
    """Return one page; raise `SheetRefused` when its content is damaged or too large."""
    try:
        painting, interpreter, matrix = paint_page(page, file.shelf, file.layers)
        added = paint_annotations(page, painting, interpreter, matrix)
    except (PDFException, PSException, RecursionError, TypeError, ValueError, KeyError, AttributeError) as error:
        raise SheetRefused(
            "sheet_damaged", f"the content of page {number} cannot be read ({error!r}): ask for a sound copy"
        ) from error
    composed = compose_page(painting, number, added.strikes)
    return replace(composed, findings=composed.findings + tuple(_additions(added, number)))


def _additions(added: Additions, number: int) -> Iterator[Finding]:
    place = Place(page=number)
    if added.fields:
        message = f"{added.fields} form field values on page {number} were read as if printed: compare with the maker's sheet"
        yield Finding(code="page_form_fields", scope="page", message=message, place=place)
    if added.typed:
        message = f"{added.typed} texts on page {number} are notes laid over the sheet; they were read as if printed"
        yield Finding(code="page_typed_over", scope="page", message=message, place=place)
    if added.attached:
        message = f"page {number} carries an attachment; nothing was read from it"
        yield Finding(code="sheet_active_content", scope="page", message=message, place=place)


def compose_page(painting: Painting, number: int, strikes: Sequence[Bounds] = ()) -> Page:
    """Make words, rules, shades and findings of what a page paints."""
    grounds = Grounds(painting)
    rules, loose = merge_stretches(find_stretches(painting, grounds))
    pieces = make_pieces(painting.glyphs, painting.bounds, grounds)
    live = [piece for piece in pieces if piece.hidden in ("", "recognised") and piece.turn >= 0]
    made = make_words(live, rules)
    words = [word for word, _ in made]
    struck, bars = find_struck(words, rules, [*find_slants(painting, grounds), *strikes])
    inked = find_inked(words, find_spots(painting, grounds, loose))
    words = mark_words(words, struck, inked)
    pictures = find_pictures(painting)
    findings = [*_hidden(pieces, number), *_slanted(pieces, number)]
    if pictures and not words:
        findings.append(
            Finding(
                code="page_no_text",
                scope="page",
                message=f"page {number} holds a picture and no live text: read it by eye",
                place=Place(page=number),
            )
        )
    return Page(
        number=number,
        width=painting.width,
        height=painting.height,
        words=tuple(words),
        rules=tuple(rule for rule in rules if rule not in bars),
        shades=tuple(find_shades(painting, grounds)),
        pictures=tuple(pictures),
        findings=tuple(findings),
    )


def _hidden(pieces: list[Piece], number: int) -> list[Finding]:
    left = [piece for piece in pieces if piece.hidden in _WHY and piece.turn >= 0]
    if not left:
        return []
    reasons = ", ".join(sorted({_WHY[piece.hidden] for piece in left}))
    return [
        Finding(
            code="page_hidden_text",
            scope="page",
            message=f"{len(left)} words on page {number} that a reader cannot see were left out ({reasons})",
            place=Place(page=number),
            printed=" ".join(piece.text for piece in left)[:200],
        )
    ]


def _slanted(pieces: list[Piece], number: int) -> list[Finding]:
    left = [piece for piece in pieces if piece.turn < 0 and not piece.hidden]
    if not left:
        return []
    text = " ".join(piece.text for piece in left)[:200]
    return [
        Finding(
            code="page_slanted_text",
            scope="page",
            message=f"slanted text on page {number} (a watermark or label) was left out of the tables",
            place=Place(page=number),
            printed=text,
        )
    ]
