"""Parts of a leaflet in several languages: each begins at a heading that names its language, or with a page of it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from torquary_ingest.document import HeadingLine, PassedPage
from torquary_ingest.document.lines import Line
from torquary_ingest.skeleton.languages import language_of, speaks
from torquary_ingest.skeleton.lines import PageLines
from torquary_schema.values import Place
from torquary_schema.words import fold, languages, spellings

_CODE = re.compile(r"[\[(|]?(?P<code>[A-Z]{2})(?P<more>/[A-Z]{2})*[\])|]?(?=$|[\s:.–—-])")
_COUNTRIES = {
    "GB": "en", "UK": "en", "US": "en", "CZ": "cs", "SE": "sv", "DK": "da", "GR": "el", "JP": "ja", "CN": "zh",
    "UA": "uk", "SI": "sl", "EE": "et",
}  # fmt: skip
"""Country codes that stand for a language over parts of leaflets (common practice)."""
_LETTERS = {"D": "de", "E": "es", "F": "fr", "I": "it", "N": "no", "P": "pt", "S": "sv"}
"""Letters of countries over parts of leaflets, alone or before a kind of document (common practice)."""
_OTHERS = ("sr",)
"""Languages beyond those of the vocabularies whose parts begin with their code (ISO 639-1)."""
_MOST_WORDS = 8
"""Words of a heading that names its language at most (own choice)."""
_BESIDE = 1.5
"""Type sizes by which headings over columns side by side differ in height at most."""
_INDENT = 20.0
"""Points by which a text may begin left of its part's heading (own choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LanguagePart:
    """A part of a sheet in one language, told by its code ("de"); it begins on `page` at (`x0`, `top`) in points."""

    language: str
    page: int
    x0: float
    top: float


def find_language_parts(
    pages: Sequence[PageLines], glimpsed: Sequence[HeadingLine] = (), passed: Sequence[PassedPage] = ()
) -> tuple[LanguagePart, ...]:
    """Return the parts of a sheet in the order of its pages; none where it is all in one language.

    `glimpsed` are headings of pages that were not read closely, `passed` these pages. Each part's text must not be in
    another language than its heading says: "IT systems" opens no part.
    """
    parts = [part for page in pages for part in _parts_of(page)]
    parts = sorted((*parts, *_parts_glimpsed(glimpsed)), key=lambda part: part.page)
    texts = _texts_of(parts, pages)
    speaking = [part for part in parts if speaks(texts[part], part.language)]
    kept = [part for part in parts if part in speaking or _stands_in_row(part, speaking)]
    if len({part.language for part in kept}) < 2:
        kept = list(_parts_by_page(pages, passed))
    return tuple(kept) if len({part.language for part in kept}) > 1 else ()


def _texts_of(parts: Sequence[LanguagePart], pages: Sequence[PageLines]) -> dict[LanguagePart, str]:
    texts = dict.fromkeys(parts, "")
    for page in pages:
        for line in page.lines:
            part = part_at(parts, page.page, line.box.x0, line.box.top)
            if part is not None:
                texts[part] += f" {line.text}"
    return texts


def _stands_in_row(part: LanguagePart, speaking: Sequence[LanguagePart]) -> bool:
    """Tell whether a heading stands in one row with those of other parts: a short text may say little of itself."""
    row = [one for one in speaking if one.page == part.page and abs(one.top - part.top) < 1]
    return len(row) > 1 and part.language not in {one.language for one in row}


def _parts_glimpsed(lines: Sequence[HeadingLine]) -> Iterator[LanguagePart]:
    """Yield the parts that begin at headings of pages that were not read closely."""
    for line in lines:
        language = language_named(line.text)
        if language and not _is_listed(line, (other for other in lines if other.page == line.page)):
            yield LanguagePart(language=language, page=line.page, x0=line.box.x0, top=line.box.top)


def _parts_by_page(pages: Sequence[PageLines], passed: Sequence[PassedPage]) -> Iterator[LanguagePart]:
    """Yield a part for each page whose language is clear and another than that of the page before."""
    last = ""
    told = {page.page: language_of(" ".join(line.text for line in page.lines)) for page in pages}
    told |= {page.number: page.language for page in passed}
    for number, language in sorted(told.items()):
        if language and language != last:
            yield LanguagePart(language=language, page=number, x0=0.0, top=0.0)
        last = language or last


def part_of(parts: Sequence[LanguagePart], place: Place) -> LanguagePart | None:
    """Return the part that a place stands in; None before the first, or where the place is not known."""
    if place.page is None or place.box is None:
        return None
    return part_at(parts, place.page, place.box.x0, place.box.top)


def part_at(parts: Sequence[LanguagePart], page: int, x0: float, top: float) -> LanguagePart | None:
    """Return the part that a point of a page stands in: of those over it the one in its column, the lowest."""
    over = [part for part in parts if part.page == page and part.top <= top + 1 and part.x0 <= x0 + _INDENT]
    if over:
        column = max(part.x0 for part in over)
        return max((part for part in over if part.x0 > column - _INDENT), key=lambda part: part.top)
    before = [part for part in parts if part.page < page]
    return before[-1] if before else None


def _parts_of(page: PageLines) -> Iterator[LanguagePart]:
    for line in page.lines:
        language = language_named(line.text) if line.text else ""
        if language and not _is_listed(line, page.lines):
            yield LanguagePart(language=language, page=page.page, x0=line.box.x0, top=line.box.top)


def _is_listed(line: Line | HeadingLine, lines: Iterable[Line | HeadingLine]) -> bool:
    """Tell whether the languages of a leaflet are told one right under the other: a list, and no headings."""
    near = (other for other in lines if 0 < abs(other.box.top - line.box.top) < _BESIDE * line.size)
    return any(language_named(other.text) for other in near if abs(other.box.x0 - line.box.x0) < _INDENT)


def language_named(text: str) -> str:
    """Return the code of the language that a heading names, by code or name at its beginning; "" if it names none.

    "DE – Montageanleitung", "Deutsch", "SV Fördelningsblock FB 125"; no number follows a language, as it does a
    standard ("EN 60947").
    So does a kind of document alone, in the one language that calls it so: "Montageanleitung".
    """
    words = text.split()
    if not words or len(words) > _MOST_WORDS or any(map(str.isdigit, "".join(words[:2]))):
        return ""
    code = _CODE.match(text.strip())
    if code is not None:
        return _codes().get(code["code"], "")
    letter = _LETTERS.get(words[0], "")
    if letter and (len(words) == 1 or _documents().get(fold(" ".join(words[1:]))) == letter):
        return letter
    return _names().get(fold(words[0].strip(":|–-()[] ")), "") or _documents().get(fold(text).strip(), "")


@cache
def _codes() -> dict[str, str]:
    return {code.upper(): code for code in (*languages(), *_OTHERS)} | _COUNTRIES


@cache
def _documents() -> dict[str, str]:
    """Return the kinds of documents that one language alone has a name for, with it."""
    found: dict[str, list[str]] = {}
    for language in languages():
        for name in spellings("document_word", "datasheet", language):
            found.setdefault(fold(name.strip("|*=")), []).append(language)
    return {name: told[0] for name, told in found.items() if len(told) == 1}


@cache
def _names() -> dict[str, str]:
    """Return the languages by their own names, as each calls itself."""
    own = ((language, spellings("document_word", "language", language)) for language in languages())
    return {fold(names[0].strip("|*=")): language for language, names in own if names}
