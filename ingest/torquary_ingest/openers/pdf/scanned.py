"""Pages of a PDF that are pictures, and pictures on pages with live text: read by the recogniser, and held."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import pypdfium2

from torquary_ingest.document import Page
from torquary_ingest.openers.pdf.bearing import can_bear_figure
from torquary_ingest.openers.pdf.beside import Known, pixels_of, read_groups
from torquary_ingest.openers.pdf.sight import stored_sizes
from torquary_ingest.plugins import OpenWish
from torquary_ingest.scans import RECOGNISER_WANTED, Budget, is_ready, may_show_print
from torquary_ingest.scans.budget import MOST_PICTURES, MOST_PIXELS
from torquary_ingest.scans.page import PICTURE, describe, page_finding, read_picture_page, say_why_left
from torquary_schema.places import write_pages
from torquary_schema.values import Finding, Place

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

DOTS_PER_INCH = 300
_LOOKING_DENSITY = 144

_LARGEST_RENDER = 10_000_000
"""Pixels of a rendered page: A4 at 300 dpi has 8.7 million."""

_PALEST = 200
"""Grey level: a page with nothing darker is blank."""

MOST_BESIDE = 12
"""Pages of live text whose pictures are read in one file, at two seconds each; those without print do not count."""


def read_pictures(
    content: bytes, wish: OpenWish, pages: list[Page], whole: list[Page], mixed: list[Page]
) -> list[Page]:
    """Return the pages with what their pictures show.

    Those in `whole`, without live text, go first when time is short; in `mixed` pictures stand beside live text.
    """
    try:
        document = pypdfium2.PdfDocument(content, password=wish.password or None)
    except pypdfium2.PdfiumError:
        return pages
    budget = Budget()
    done: dict[int, Page] = {}
    known: Known = {}
    try:
        document.init_forms()
        mixed = [page for page in mixed if _may_show_print(document, page)]
        for page in (page for page in whole if is_ready() and budget.has_left()):
            done[page.number] = _read_whole(document, page, budget)
        for page in (page for page in mixed[:MOST_BESIDE] if wish.pictures and is_ready() and budget.has_left()):
            done[page.number] = _read_beside(document, page, budget, known)
    finally:
        document.close()
    for code, group, most in (("page_no_text", whole, MOST_PICTURES), ("picture_not_read", mixed, MOST_BESIDE)):
        left = [page for page in group if page.number not in done and (page.pictures or page.words)]
        if left:
            asked = wish.pictures or group is whole
            why = _say_why(budget, most) if asked else "it was not asked for"
            done[left[0].number] = _add(left[0], _not_read(code, [page.number for page in left], why))
    return [done.get(page.number, page) for page in pages]


def _say_why(budget: Budget, most: int) -> str:
    return f"{say_why_left(budget, most)}: split the file, or read them by eye" if is_ready() else RECOGNISER_WANTED


def _read_whole(document: pypdfium2.PdfDocument, page: Page, budget: Budget) -> Page:
    """Return a page without live text, or without text of known characters, as its picture shows it.

    One that is blank stays as it is.
    """
    fault, grey, scale = _render(document, page.number)
    what = "has text in a font without a Unicode map" if page.words else PICTURE
    if grey is None:
        return _add(page, page_finding(page.number, f"and was not read: {fault}: read it by eye", what))
    if not page.pictures and int(grey.min()) > _PALEST:
        return page
    read = read_picture_page(grey, scale, page.number, budget, what)
    if not read.words:
        return replace(page, findings=(*page.findings, *read.findings))
    return replace(read, pictures=page.pictures, findings=(*page.findings, *read.findings))


def _may_show_print(document: pypdfium2.PdfDocument, page: Page) -> bool:
    """Tell whether a page's pictures must be read: not those of photographs without anything like print."""
    _, grey, scale = _render(document, page.number, _LOOKING_DENSITY)
    return grey is None or may_show_print(_leave_pictures(grey, scale, page), scale)


def _read_beside(document: pypdfium2.PdfDocument, page: Page, budget: Budget, known: Known) -> Page:
    """Return a page of live text with the words and rules that its pictures show, if they may be about torques."""
    budget.take()
    fault, grey, scale = _render(document, page.number)
    if grey is None:
        return _add(page, _not_read("picture_not_read", [page.number], f"{fault}: read it by eye"))
    boxes = [picture.box for picture in page.pictures]
    seen = read_groups(_leave_pictures(grey, scale, page), scale, boxes, budget, known)
    if seen.fault:
        return _add(page, _not_read("picture_not_read", [page.number], f"{seen.fault}: read it by eye"))
    if not seen.words:
        return page
    if not can_bear_figure(" ".join(word.text for word in (*page.words, *seen.words))):
        return page  # a chart or a photograph with letters in it, on a page without torques
    message = f"a picture on page {page.number}: {describe(seen)}: its figures are held until a person accepts them"
    finding = Finding(code="picture_read", scope="page", message=message, place=Place(page=page.number))
    return replace(
        page, words=(*page.words, *seen.words), rules=(*page.rules, *seen.rules), findings=(*page.findings, finding)
    )


def _render(
    document: pypdfium2.PdfDocument, number: int, density: int = DOTS_PER_INCH
) -> tuple[str, NDArray[numpy.uint8] | None, float]:
    """Return why the page cannot be rendered ("" if it can), its grey levels, and its pixels a point."""
    try:
        page = document[number - 1]
        try:
            largest = max((wide * high for wide, high in stored_sizes(page)), default=0)
            if largest > MOST_PIXELS:
                return f"its picture has {largest:,} pixels (at most {MOST_PIXELS:,} are read)", None, 1.0
            wide, high = page.get_size()
            scale = min(density / 72, math.sqrt(_LARGEST_RENDER / max(wide * high, 1)))
            levels = page.render(scale=scale, grayscale=True).to_numpy()
        finally:
            page.close()
    except pypdfium2.PdfiumError as error:
        return f"it cannot be rendered ({error})", None, 1.0
    return "", levels.reshape(levels.shape[0], levels.shape[1]), scale


def _leave_pictures(grey: NDArray[numpy.uint8], scale: float, page: Page) -> NDArray[numpy.uint8]:
    """Return the page with nothing but its pictures; live words over them are painted out."""
    import numpy as np

    left = np.full_like(grey, 255)
    for picture in page.pictures:
        rows, columns = pixels_of(picture.box, scale)
        left[rows, columns] = grey[rows, columns]
    for word in page.words:
        rows, columns = pixels_of(word.box, scale)
        left[rows, columns] = 255
    return left


def _add(page: Page, finding: Finding) -> Page:
    return replace(page, findings=(*page.findings, finding))


def _not_read(code: str, numbers: list[int], why: str) -> Finding:
    what = "pictures beside live text, which"
    if code == "page_no_text":
        what = "no live text that can be read, and the pictures there"
    message = f"{write_pages(numbers)}: {what} were not read: {why}"
    return Finding(code=code, scope="page", message=message, place=Place(page=numbers[0]))
