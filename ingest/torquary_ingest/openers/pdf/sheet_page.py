"""One page of a PDF: paint it, decide what is visible, make words and rules of it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import replace
from functools import partial

from pdfminer.pdfpage import PDFPage

from torquary_ingest.document import Doubt, Page, Word
from torquary_ingest.openers.pdf.file import PARSER_FAULTS, PdfFile
from torquary_ingest.openers.pdf.forms import Additions
from torquary_ingest.openers.pdf.ink import (
    find_inked,
    find_slants,
    find_spots,
    find_struck,
    mark_overprints,
    mark_words,
)
from torquary_ingest.openers.pdf.paint import Bounds, Glyph, Matrix, Painting
from torquary_ingest.openers.pdf.pictured import is_mute
from torquary_ingest.openers.pdf.pieces import Piece, make_pieces
from torquary_ingest.openers.pdf.plumbed_page import PlumbedPage, paint_page
from torquary_ingest.openers.pdf.ruling import find_pictures, find_shades, find_stretches, merge_stretches
from torquary_ingest.openers.pdf.stacked import join_stacked
from torquary_ingest.openers.pdf.stamps import find_stamps
from torquary_ingest.openers.pdf.visibility import FindShares, Grounds, judge_all
from torquary_ingest.openers.pdf.words import make_words
from torquary_schema.values import Finding, Place

_MOST_TOLD = 3
_WHY = {
    "layer": "on a layer that is switched off",
    "outside": "outside the visible page",
    "clipped": "clipped away",
    "blank": "in the colour of its ground",
    "covered": "covered",
    "invisible": "drawn without ink",
}


def read_page(file: PdfFile, page: PDFPage, number: int, *, figures: bool = True) -> Page:
    """Return one page, with a finding if its content is damaged; raise `SheetRefused` when it is too large.

    Without `figures`, whether digits are drawn as their font claims is not looked at.
    """
    try:
        plumbed = PlumbedPage(file, page, number)
        painting = paint_page(plumbed)
    except PARSER_FAULTS as error:
        message = f"the content of page {number} cannot be read ({error!r}): look at it in another program"
        return Page(
            number=number,
            findings=(Finding(code="page_damaged", scope="page", message=message, place=Place(page=number)),),
        )
    find_lying = partial(_find_lying, file) if figures else _find_none
    find_shares = partial(_find_shares, file, number, plumbed.matrix)
    composed = compose_page(painting, number, plumbed.additions.strikes, find_lying, find_shares)
    words = _mend(file, composed) if figures else composed.words
    faults = [*file.page_faults.get(number, ()), *plumbed.faults]
    told = (*composed.findings, *_additions(plumbed.additions, number), *_damages(faults, number))
    return replace(composed, words=words, findings=told)


def _mend(file: PdfFile, page: Page) -> tuple[Word, ...]:
    """Return the page's words, those with glyphs of unknown character mended; a page of them is read as a picture."""
    if is_mute(page) or not any(doubt.code == "character_unreadable" for word in page.words for doubt in word.doubts):
        return page.words
    from torquary_ingest.openers.pdf.mended import mend_words

    return tuple(mend_words(page.words, partial(file.ink.look, page.number)))


def _damages(faults: Sequence[str], number: int) -> Iterator[Finding]:
    told = list(dict.fromkeys(faults))
    if told:
        more = f"; {len(told) - _MOST_TOLD} more" if len(told) > _MOST_TOLD else ""
        message = (
            f"the content of page {number} is damaged ({'; '.join(told[:_MOST_TOLD])}{more}); the figures from there "
            "on are held: ask for a sound copy"
        )
        yield Finding(code="page_damaged", scope="page", message=message, place=Place(page=number))


def _additions(added: Additions, number: int) -> Iterator[Finding]:
    place = Place(page=number)
    if added.fields:
        message = (
            f"{added.fields} form field values on page {number} were read as if printed: compare with the maker's sheet"
        )
        yield Finding(code="page_form_fields", scope="page", message=message, place=place)
    if added.typed:
        message = f"{added.typed} texts on page {number} are notes laid over the sheet; they were read as if printed"
        yield Finding(code="page_typed_over", scope="page", message=message, place=place)
    if added.attached:
        message = f"page {number} carries an attachment; nothing was read from it"
        yield Finding(code="sheet_active_content", scope="page", message=message, place=place)


def _find_lying(file: PdfFile, number: int, glyphs: Sequence[Glyph]) -> set[int]:
    embedded = {key for key in {glyph.font_key for glyph in glyphs} if file.shelf.is_embedded(key)}
    return file.shapes.find_lying(glyphs, number, embedded) if embedded else set()


def _find_shares(
    file: PdfFile, number: int, matrix: Matrix, glyphs: Sequence[Glyph], asked: Collection[int]
) -> dict[int, float]:
    return file.ink.find_shares(number, matrix, glyphs, asked)


def _find_none(number: int, glyphs: Sequence[Glyph]) -> set[int]:
    return set()


def compose_page(
    painting: Painting,
    number: int,
    strikes: Sequence[Bounds] = (),
    find_lying: Callable[[int, Sequence[Glyph]], set[int]] = _find_none,
    find_shares: FindShares | None = None,
) -> Page:
    """Make words, rules, shades and findings of what a page paints."""
    grounds = Grounds(painting)
    rules, loose, ruled = merge_stretches(find_stretches(painting, grounds))
    seen = judge_all(painting, grounds, find_shares)
    lying = find_lying(number, [glyph for glyph, hidden in seen if not hidden])
    pieces = make_pieces(seen)
    live = [piece for piece in pieces if piece.hidden in ("", "recognised") and piece.turn >= 0]
    stamps = find_stamps(live)
    live = [piece for piece in live if id(piece) not in stamps]
    stacked = join_stacked(live, rules, loose)
    rules, loose = stacked.rules, stacked.loose
    made = make_words(stacked.pieces, rules)
    words = mark_overprints([_distrust(word, parts, lying) for word, parts in made])
    struck, bars = find_struck(words, rules, [*find_slants(painting, grounds), *strikes])
    inked = find_inked(words, find_spots(painting, grounds, loose, ruled, stacked.bars))
    words = mark_words(words, struck, inked)
    pictures = find_pictures(painting)
    findings = [*_hidden(pieces, number), *_slanted(pieces, stamps, number)]
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


def _distrust(word: Word, pieces: Sequence[Piece], lying: set[int]) -> Word:
    """Add a doubt to a word with figures in a font whose digits look like others."""
    if not any(piece.fonts & lying for piece in pieces) or not any(part.isdigit() for part in word.text):
        return word
    doubt = Doubt(
        code="text_differs_from_picture",
        message=f"the font of {word.text!r} draws other figures than its text says: read the picture",
    )
    return replace(word, doubts=(*word.doubts, doubt))


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


def _slanted(pieces: list[Piece], stamps: set[int], number: int) -> list[Finding]:
    left = [piece for piece in pieces if id(piece) in stamps or (piece.turn < 0 and not piece.hidden)]
    if not left:
        return []
    text = " ".join(piece.text for piece in left)[:200]
    return [
        Finding(
            code="page_slanted_text",
            scope="page",
            message=f"slanted or large pale text on page {number} (a watermark or label) was left out of the tables",
            place=Place(page=number),
            printed=text,
        )
    ]
