"""The quick look: which pages can bear a torque or conductor figure. It would rather keep a page too many."""

from __future__ import annotations

import re
import unicodedata
from contextlib import closing
from dataclasses import dataclass
from functools import cache, lru_cache

import pypdfium2

from torquary_ingest.document import HeadingLine
from torquary_ingest.lexis.figures import has_figure
from torquary_ingest.openers.pdf.letters import runs_leftwards
from torquary_ingest.openers.pdf.outline import read_heading_lines
from torquary_ingest.openers.pdf.sight import needs_eyes
from torquary_schema.words import all_spellings

_UNIT = re.compile(
    r"(?:\b|\d|\()[cdmk]?a?n\s?[·.⋅∙•*×x‧・-]?\s?[cm]?m\b"
    r"|lb|pound|kgf|kg\s?[·.⋅*x×-]?\s?c?m\b|\boz|ounce|\bft\b|foot|inch|#"
    r"|newton|ньютон|[нН]\s?[·.⋅-]?\s?[мМ]\b|牛|ニュートン|뉴턴|نيوتن|ניוטון"
    r"|mm\s?[²2]|㎟|awg|kcmil|mcm|qmm",
    re.IGNORECASE,
)

_TORQUE_UNIT = re.compile(
    r"(?:\b|\d|\()[cdmk]?a?n\s?[·.⋅∙•*×x‧・-]?\s?[cm]?m\b"
    r"|(?<![a-zß-ÿ])lb|(?:in|ft|inch|foot)\W{0,3}(?:lb|#)|\d\s?#|(?<!com)pound|kgf|kg\s?[·.⋅*x×-]?\s?c?m\b|\boz|\bounce"
    r"|newton|ньютон|[нН]\s?[·.⋅-]?\s?[мМ]\b|牛|ニュートン|뉴턴|نيوتن|ניוטון",
    re.IGNORECASE,
)

_TORQUE = ("torque", "torque_min", "torque_max")
_CONDUCTOR = ("conductor", "conductor_min", "conductor_max")

_LETTERS = re.compile(r"[^\W\d_]+")
_SHORT = 4

_SENTENCE, _LONGEST_LINE, _WORDS_A_FIGURE = 6, 250, 3
"""Words without a figure from which a line is a sentence, letters beyond which rows may have run together, and words
without a figure for each with one: a row that ends with a long name has fewer."""

_NEAR, _LAST_LINES = 3, 8
"""Lines between a word for torque and a line of figures (a sentence names both in one, or in the next); lines at the
foot of a page that may head a table overleaf."""

_FIGURE_LINES = 2
_FIGURE_WORDS = 4
"""A page behind a kept one is kept too when at least so many of its lines, or so many words of one that rows may
have been run together to, hold a digit: a table goes on overleaf."""

_LONE_ROW = 2
"""Words with a digit of a lone row overleaf; so few keep a page only right behind one that bears figures itself."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """The numbers (from 1) of the pages worth reading, and the lines of the others that may be headings."""

    numbers: frozenset[int]
    glimpsed: tuple[HeadingLine, ...]


def choose_pages(content: bytes, password: str) -> Chosen | None:
    """Return the pages worth reading, and the headings of the others; None: read them all (the look failed)."""
    try:
        document = pypdfium2.PdfDocument(content, password=password or None)
    except pypdfium2.PdfiumError:
        return None
    chosen: set[int] = set()
    glimpsed: list[HeadingLine] = []
    try:
        going_on = bore = False
        for index in range(len(document)):
            with closing(document[index]) as page, closing(page.get_textpage()) as words:
                kept, going_on, bore = _look_at(page, words, going_on, bore)
                if kept or index == 0:
                    chosen.add(index + 1)
                else:
                    glimpsed += read_heading_lines(page, words, index + 1)
    except pypdfium2.PdfiumError:
        return None
    finally:
        document.close()
    return Chosen(numbers=frozenset(chosen), glimpsed=tuple(glimpsed))


def _look_at(
    page: pypdfium2.PdfPage, words: pypdfium2.PdfTextPage, going_on: bool, bore: bool
) -> tuple[bool, bool, bool]:
    """Return whether the page is kept, whether a table may go on behind it, and whether it bears figures itself."""
    text = words.get_text_bounded()
    unusual = needs_eyes(page, words, text)
    # A page without any figure may still name the unit of all others, or head a table overleaf.
    bears = not is_mere_prose(text) and (can_bear_figure(text) or not has_figure(text))
    rows = "\n".join(line for line in text.splitlines() if not _is_sentence(line))
    goes_on = going_on and (count_figure_lines(rows) >= _FIGURE_LINES or count_figures(rows) >= _FIGURE_WORDS)
    lone = bore and count_figures(rows) >= _LONE_ROW
    return bears or goes_on or lone or unusual, bears or goes_on, bears


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
    if not has_figure(text):
        return False
    if _UNIT.search(text):
        return True
    squeezed = _squeeze(text)
    single = _undouble(squeezed)
    return any(word in squeezed or _undouble(word) in single for word in _heading_words(_TORQUE + _CONDUCTOR))


def is_mere_prose(text: str) -> bool:
    """Tell a page of sentences without a unit of torque, and without a word for torque near a figure.

    A page with more than two lines of figures, or a size on such a line, is never mere prose, nor is one whose last
    lines name a torque: their table may begin overleaf. Text that is spaced out, run together or without blanks is
    not taken for sentences.
    """
    lines = [line for line in text.splitlines() if line.strip()]
    figured = [has_figure(line) for line in lines]
    bare = [held and not _is_sentence(line) for line, held in zip(lines, figured, strict=True)]
    sized = any(held and _UNIT.search(line) for line, held in zip(lines, bare, strict=True))
    if sized or sum(bare) > _FIGURE_LINES or _TORQUE_UNIT.search(text):
        return False
    if not _names_torque(lines):
        return True
    last = len(lines) - _LAST_LINES
    near = (
        at >= last or any(figured[max(at - 1, 0) : at + 2]) or any(bare[max(at - _NEAR, 0) : at + _NEAR + 1])
        for at in range(len(lines))
    )
    return not _names_torque([line for line, told in zip(lines, near, strict=True) if told])


def _is_sentence(line: str) -> bool:
    """Tell a line of words with few figures among them; one that ends with a figure may be a row of a table."""
    words = line.split()
    if not words or has_figure(words[-1]):
        return False
    figures = sum(map(has_figure, words))
    plain = [word for word in words if _LETTERS.search(word) and not has_figure(word)]
    letters = sum(len(word) for word in plain)
    few = len(plain) >= _WORDS_A_FIGURE * figures
    return len(plain) >= _SENTENCE and few and letters >= 3 * len(plain) and len(line) <= _LONGEST_LINE


def _names_torque(lines: list[str]) -> bool:
    """Tell whether a word for torque stands in the lines; a short one ("par") not as part of another ("separate")."""
    squeezed = _squeeze("".join(lines))
    single = _undouble(squeezed)
    alone = {_squeeze(word) for line in lines for word in _LETTERS.findall(line)}
    return any(
        word in alone if len(word) <= _SHORT and word.isascii() else word in squeezed or _undouble(word) in single
        for word in _heading_words(_TORQUE)
    )


def _squeeze(text: str) -> str:
    plain = "".join(part for part in unicodedata.normalize("NFKD", text) if not unicodedata.combining(part))
    return re.sub(r"[\s\u00ad\u200b-]+", "", plain.casefold())


@lru_cache(maxsize=4096)
def _undouble(text: str) -> str:
    return re.sub(r"(.)\1", r"\1", text)


@cache
def _heading_words(concepts: tuple[str, ...]) -> tuple[str, ...]:
    """Return every printed word for the concepts known to the words data, squeezed."""
    found = {_squeeze(word.strip("*-~")) for word in all_spellings("heading", *concepts)}
    # Scripts written from right to left may come out of a file in the order of the paper.
    found |= {word[::-1] for word in found if runs_leftwards(word)}
    return tuple(sorted((word for word in found if len(word) >= 2), key=len))
