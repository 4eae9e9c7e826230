"""The quick look: which pages can bear a torque or conductor figure. It would rather keep a page too many."""

from __future__ import annotations

import re
import unicodedata
from functools import cache, lru_cache

import pypdfium2
import pypdfium2.raw as pdfium

from torquary_ingest.openers.pdf.letters import runs_leftwards
from torquary_schema.words import languages, spellings

_UNIT = re.compile(
    r"(?:\b|\d|\()[cdmk]?a?n\s?[·.⋅∙•*×x‧・-]?\s?[cm]?m\b"
    r"|lb|pound|kgf|kg\s?[·.⋅*x×-]?\s?c?m\b|\boz|ounce|\bft\b|foot|inch|#"
    r"|newton|ньютон|[нН]\s?[·.⋅-]?\s?[мМ]\b|牛|ニュートン|뉴턴|نيوتن|ניוטון"
    r"|mm\s?[²2]|㎟|awg|kcmil|mcm|qmm",
    re.IGNORECASE,
)

_FEW_LETTERS = 300
"""A page with fewer letters and a large picture may have its table in the picture."""

_LEAST_PICTURE = (150.0, 60.0)
"""Points across and down of such a picture."""

_FIGURE_LINES = 2
_FIGURE_WORDS = 4
"""A page behind a kept one is kept too when at least so many of its lines, or so many words of one that rows may
have been run together to, hold a digit: a table goes on overleaf."""


def choose_pages(content: bytes, password: str) -> frozenset[int] | None:
    """Return the numbers (from 1) of the pages worth reading; None: read them all (the look failed)."""
    try:
        document = pypdfium2.PdfDocument(content, password=password or None)
    except pypdfium2.PdfiumError:
        return None
    chosen: set[int] = set()
    try:
        going_on = False
        for index in range(len(document)):
            kept, going_on = _look_at(document, index, going_on)
            if kept or index == 0:
                chosen.add(index + 1)
    except pypdfium2.PdfiumError:
        return None
    finally:
        document.close()
    return frozenset(chosen)


def _look_at(document: pypdfium2.PdfDocument, index: int, going_on: bool) -> tuple[bool, bool]:
    """Return whether the page is kept, and whether a table may go on behind it."""
    page = document[index]
    try:
        words = page.get_textpage()
        try:
            text = words.get_text_bounded()
        finally:
            words.close()
        unusual = pdfium.FPDFPage_GetAnnotCount(page) > 0 or _needs_eyes(page, text)
    finally:
        page.close()
    bears = can_bear_figure(text)
    goes_on = going_on and (count_figure_lines(text) >= _FIGURE_LINES or count_figures(text) >= _FIGURE_WORDS)
    return bears or goes_on or unusual, bears or goes_on


def _needs_eyes(page: pypdfium2.PdfPage, text: str) -> bool:
    """Tell a page whose text cannot be judged: little beside pictures, or characters without a meaning."""
    letters = [letter for letter in text if not letter.isspace()]
    if not letters:
        return bool(pdfium.FPDFPage_CountObjects(page) > 0)
    if len(letters) < _FEW_LETTERS and _shows_picture(page):
        return True
    if len(letters) < 12:
        return False
    strange = sum(letter < " " or letter == "\ufffd" or "\ue000" <= letter <= "\uf8ff" for letter in letters)
    plain = sum(letter.isalnum() for letter in letters)
    return strange > 0 or plain < 0.4 * len(letters)


def _shows_picture(page: pypdfium2.PdfPage) -> bool:
    """Tell whether a picture on the page is large enough to be a scanned table."""
    for image in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_IMAGE], max_depth=6):
        left, bottom, right, top = image.get_bounds()
        if right - left >= _LEAST_PICTURE[0] and top - bottom >= _LEAST_PICTURE[1]:
            return True
    return False


def count_figure_lines(text: str) -> int:
    """Return how many lines of the text hold a digit."""
    return sum(any(letter.isdigit() for letter in line) for line in text.splitlines())


def count_figures(text: str) -> int:
    """Return how many words of the text hold a digit."""
    return sum(any(letter.isdigit() for letter in word) for word in text.split())


def can_bear_figure(text: str) -> bool:
    """Tell whether a page with this text may hold a torque or conductor figure.

    Letters may be doubled by bold imitation, spaced out or broken at line ends, so blanks and doubles are
    squeezed out before words are looked for.
    """
    if not any(letter.isdigit() or letter in "½¼¾⅛⅜⅝⅞" for letter in text):
        return False
    if _UNIT.search(text):
        return True
    squeezed = _squeeze(text)
    single = _undouble(squeezed)
    return any(word in squeezed or _undouble(word) in single for word in _torque_words())


def _squeeze(text: str) -> str:
    plain = "".join(part for part in unicodedata.normalize("NFKD", text) if not unicodedata.combining(part))
    return re.sub(r"[\s\u00ad\u200b-]+", "", plain.casefold())


@lru_cache(maxsize=4096)
def _undouble(text: str) -> str:
    return re.sub(r"(.)\1", r"\1", text)


@cache
def _torque_words() -> tuple[str, ...]:
    """Return every printed word for torque and conductor size known to the words data, squeezed."""
    found = {
        _squeeze(word.strip("*-~"))
        for concept in ("torque", "torque_min", "torque_max", "conductor", "conductor_min", "conductor_max")
        for language in languages()
        for word in spellings("heading", concept, language)
    }
    # Scripts written from right to left may come out of a file in the order of the paper.
    found |= {word[::-1] for word in found if runs_leftwards(word)}
    return tuple(sorted((word for word in found if len(word) >= 2), key=len))
