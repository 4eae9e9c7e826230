"""The maker of a sheet's product: only where the sheet, or its file, names one company and no other."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from torquary_ingest.document import Cell, Table
from torquary_ingest.headings.grid import text_of
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.skeleton.names import company_forms
from torquary_schema.words import fold, spot

_SHORT_FORM = re.compile(
    r"(?<!\w)(?:AG|SE|AB|AS|SA|KG|OHG|NV|BV|Oyj?|ApS|S\.?L\.?|Srl|SRL|Ltda|d\.o\.o\.|Kft\.?)(?!\w)"
)
"""Legal forms that are ordinary words in small letters (common practice)."""

_RIGHTS = re.compile(r"(?:©|\(c\)|copyright)\s*", re.IGNORECASE)
_YEARS = re.compile(r"^[\s,]*(?:(?:19|20)\d\d(?:\s*[-–/,]\s*(?:19|20)?\d\d)*)[\s,.]*(?:by\s+)?", re.IGNORECASE)
_BREAK = re.compile(r"\s[–—|·•-]\s|[|•·;:!?]|,\s(?!(?:Inc|Ltd|LLC|Co|S\.)\b)|(?<=[a-zß-ÿ]{3})\.\s|\s{3,}")
_PAIR = re.compile(r"\s*(?P<name>[^:：]{2,40}?)\s*[:：]\s*(?P<value>\S.*)")
_MOST_MAKERS = 20
_JOINING = frozenset({"and", "und", "et", "e", "y", "i", "of", "de", "da", "do", "di", "del", "für", "for"})
_LONGEST = 60
_MOST_WORDS = 6
"""Words of a company's name at most: what is longer is a sentence that names one."""


def find_maker(told: Iterable[str], edges: Iterable[str], noted: Iterable[str]) -> str:
    """Return the maker as printed, "" unless one company alone is named.

    `told` are the names that stand under or behind a word for makers; `edges` the lines at heads and feet of pages;
    `noted` what the file notes of its author: a company, or a name that stands as a line at an edge too. The first of
    these that names a company decides.
    """
    edges = tuple(edges)
    printed = {fold(line) for line in edges}
    for names in (told, _companies(edges), _companies(noted), (one for one in noted if fold(one) in printed and one)):
        known = {fold(name): name for name in names}
        whole = [name for key, name in known.items() if not any(key != other and key in other for other in known)]
        if whole:
            return whole[0] if len(whole) == 1 else ""
    return ""


def lines_of_maker(maker: str, lines: Iterable[str]) -> Iterator[str]:
    """Yield the lines that are nothing but the name of the maker, or the words that its name begins with."""
    name = f"{fold(maker)} " if maker else ""
    yield from (line for line in lines if fold(line) and name.startswith(f"{fold(line)} "))


def find_makers_told(lines: Iterable[str], tables: Sequence[Table]) -> tuple[str, ...]:
    """Return what stands as a maker's name behind such a word in a line, or under or beside it in a table."""
    pairs = (pair for line in lines if (pair := _PAIR.fullmatch(line)) is not None)
    found = [pair["value"].strip() for pair in pairs if _heads_makers(pair["name"])]
    found += [text for table in tables for text in _makers_in(table)]
    return tuple(dict.fromkeys(text for text in found if len(text) <= _LONGEST))


def _heads_makers(text: str) -> bool:
    return make_sense(text).fields == ("maker",)


def _makers_in(table: Table) -> Iterator[str]:
    """Yield what stands under a heading for makers; beside it where it is the only heading in its row."""
    heads = [cell for cell in table.cells if _heads_makers(text_of(cell))]
    for cell in heads[:_MOST_MAKERS]:
        row = [other for other in table.cells if other.row == cell.row and other is not cell]
        across = any(make_sense(text_of(other)).fields for other in row)
        places = (other for other in table.cells if _is_under(other, cell)) if across else iter(row)
        yield from (text for other in places if (text := text_of(other)))


def _is_under(other: Cell, cell: Cell) -> bool:
    return other.row > cell.row and other.column == cell.column


def _companies(lines: Iterable[str]) -> Iterator[str]:
    for line in lines:
        bare = _RIGHTS.split(line)[-1]
        bare = _YEARS.sub("", bare) if bare != line else line
        for part in _BREAK.split(bare):
            if name := _company_in(part):
                yield name


def _company_in(part: str) -> str:
    """Return the name of a company in a part of a line, up to the end of its legal form; "" if there is none."""
    forms = [(match.start, match.end) for match in company_forms(part)]
    forms += [match.span() for match in _SHORT_FORM.finditer(part)]
    end = next((end for start, end in sorted(forms) if start), 0)
    for start, further in sorted(forms):
        if start >= end and not part[end:start].strip(" .,&"):
            end = further
    end += part[end : end + 1] == "."
    words = part[:end].strip(" \t,()").split()
    named = 1 < len(words) <= _MOST_WORDS and words[0][:1].isupper() and all(map(_may_be_in_name, words))
    sentence = part[end:].strip()[:1].islower()
    return " ".join(words) if named and not sentence else ""


def _may_be_in_name(word: str) -> bool:
    return not word[:1].islower() or word in _JOINING or bool(spot("document_word", word))
