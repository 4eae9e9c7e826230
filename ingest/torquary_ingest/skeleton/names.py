"""What of a printed line names a product: the line without kinds of documents, editions, torques and terminals.

A kind of device, a type designation or a word for a series shows a name to be a product's; any figure may be part of
one; a name without all of these ("Lampiride") may as well be a brand.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from enum import IntEnum

from torquary_ingest.figures.drives import drive_spans
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.designations import NO_TYPES, find_types
from torquary_ingest.headings.sense import cut_out, make_sense
from torquary_ingest.skeleton.language_parts import language_named
from torquary_schema.units import find_units
from torquary_schema.vocabulary import roles_of_markings
from torquary_schema.words import Match, fold, spot

LONGEST_NAME = 120
"""Letters of a product's name at most (own choice): longer lines are sentences."""

_SENTENCE_WORDS = 4
"""Words from which a line that ends in a stop is a sentence."""

_NAME_LETTERS = 2
_COLUMN_UNITS = ("torque", "area", "gauge")
_SEPARATOR = re.compile(r"(?<!\d)\s[–—-]\s|\s[–—-]\s(?!\d)|\s[·•]\s|\s?[|;]\s?|,\s")
_TIES = re.compile(
    r"(?<!\w)(?:of|for|the|about|von|für|der|die|das|des|zu|zum|zur|de|du|pour|la|le|les|del|della|per|il|van|voor|het"
    r"|para|do|da|til|för|till|dla|pro|для)(?!\w)",
    re.IGNORECASE,
)
_OUTER = " \t.,:;–—|·•/®™©*"
_CAPITALS = re.compile(r"(?<!\w)[A-Z]{2,6}(?!\w)")
"""A few capitals in a line with small letters: a series ("VX drives")."""

_SECTION_NUMBER = re.compile(r"\A\s*\d{1,2}(?:(?:\.\d{1,2})+\.?|\.)\s+(?=[^\W\d])")
_STEP = re.compile(r"\s*\d{1,2}\s?[.)]\s.*\.\s*$")
_TABLE_NUMBER = re.compile(r"\s*\d{1,3}(?:[.-]\d{1,2})*(?:[.:：]|\s*[–—-](?=\s))?\s+(?=\S)")
"""The number of a table or figure behind its word: "3:", "A.2 –" without the letter."""

BOARDS = frozenset({"asm", "dbo"})
"""Boards and assemblies: a device's sheet speaks of the board it goes into, and a maker is called "switchgear"."""

OF_TERMINALS = frozenset({"tb", "tb_pe", "pcb_tb"})
"""Terminal blocks, which are parts of most devices."""

_TYPE_BEHIND = re.compile(r"-\d")
"""What ties a word to the number of a type."""

_RATING = re.compile(r"IP\s?[\dX]{2}\w?|\d{2}(?:\s*/\s*\d{2})?\s*(?:Hz|Гц)", re.IGNORECASE)
"""A degree of protection (IEC 60529) or the frequency of the mains."""

_SHOWN = re.compile(r"\d+[.,]\d+\s*[^\W\d]{1,4}(?:[·.*/]?[^\W\d]{1,2})?")
"""A figure with a fraction and a short unit."""


class Rank(IntEnum):
    """How surely a name is a product's: by nothing in it, by a figure, by one sign, by a kind of device and a type."""

    BARE = 0
    FIGURE = 1
    TOLD = 2
    WHOLE = 3


def find_name(line: str) -> str:
    """Return what of a line may name a product, "" if nothing; the printed words, cut at the ends alone.

    Beside a part that shows itself to be a product's name, a part that shows nothing is the maker's or a remark.
    """
    if is_prose(line) or states_torque(line) or (language_named(line) and not find_types(line)):
        return ""
    line = _SECTION_NUMBER.sub("", line)
    label, colon, value = line.replace("：", ":").partition(":")
    if colon and _heads_names(label):
        return _strip(value)
    if colon:  # "MS 80 motor starter: main circuit"; else what stands before it names something else
        return label.strip() if rank_of(label) is Rank.WHOLE else ""
    kept = [part for part in map(_strip, _parts(line)) if _may_be_name(part)]
    told = [part for part in kept if rank_of(part) >= Rank.FIGURE] or kept
    if not told:
        return ""
    start = line.index(told[0])
    return line[start : line.index(told[-1], start) + len(told[-1])]


def _may_be_name(part: str) -> bool:
    """Tell whether a part has letters of a name: no units of columns ("mm²"), no size ("1.5 mm²"); "NM 8" is a type.

    A degree of protection, a frequency and what a display shows ("01234.5 kWh") are none.
    """
    if _RATING.fullmatch(part.strip()) or _SHOWN.fullmatch(part.strip()) or _is_drive(part):
        return False
    units = [unit for unit in find_units(part) if unit.kind in _COLUMN_UNITS]
    figured = any(map(str.isdecimal, part))
    sized = any(not figured or part[: unit.start].rstrip()[-1:].isdecimal() for unit in units)
    if figured:
        return any(map(str.isalpha, part)) and not sized
    said = cut_out(part, [(unit.start, unit.end) for unit in find_units(part)])
    return sum(map(str.isalpha, said)) >= _NAME_LETTERS and not sized


def _is_drive(part: str) -> bool:
    """Tell whether a part is nothing but a bit, beside a picture of the screw: "PZ 2"."""
    return any(start == 0 and end == len(part.strip()) for start, end in drive_spans(part.strip()))


def _heads_names(label: str) -> bool:
    """Tell whether a label stands before a product's name: "Type", "Product", "Series"."""
    fields = make_sense(label).fields
    return bool(fields) and set(fields) <= {"model", "series", "device"}


def rank_of(name: str) -> Rank:
    """Return how surely a name is a product's."""
    kind = any(match.concept != "asm" for match in spot("family", name))  # "Quarrow Switchgear" is a maker
    words = [(match.start, match.end) for match in spot("heading", name) if match.concept == "series"]
    series = bool(words) and any(map(str.isalnum, cut_out(name, words)))
    typed = bool(find_types(name)) or (_holds_series(name) and not name.isupper())
    if kind and (typed or series):
        return Rank.WHOLE
    if kind or typed or series:
        return Rank.TOLD
    return Rank.FIGURE if any(map(str.isdigit, name)) else Rank.BARE


def shows_type(text: str) -> bool:
    """Tell whether a text holds a figure or a word of a few capitals: beside words for torques a type or series."""
    return any(map(str.isdecimal, text)) or _holds_series(text)


def _holds_series(text: str) -> bool:
    """Tell whether a text holds a word of a few capitals that is no standard's and no marking of a terminal."""
    return any(found not in NO_TYPES and not roles_of_markings(found) for found in _CAPITALS.findall(text))


def names_company(line: str) -> bool:
    """Tell whether a line holds a company's legal form; one that a figure or a word for a series ties is a type's.

    "Veldmark N.V." is a company; "NV 24" and "series NV" are none.
    """
    series = {match.end for match in spot("heading", line) if match.concept == "series"}
    return any(
        not line[match.end :].lstrip(" -")[:1].isdigit()
        and not any(line[end : match.start].isspace() for end in series)
        for match in company_forms(line)
    )


def company_forms(line: str) -> Iterator[Match]:
    """Yield the legal forms of companies in a line; in small letters without stops they are ordinary words ("as")."""
    for match in spot("document_word", line):
        if match.concept == "company" and ("." in match.printed or not match.printed.islower()):
            yield match


def names_kind(name: str) -> bool:
    """Tell whether a name holds a word for a kind of device; boards, which any device goes into, are none."""
    return any(match.concept not in BOARDS for match in spot("family", name))


def names_part(name: str) -> bool:
    """Tell whether a line names terminal blocks alone, without a type: of a device with a name they are a part."""
    families = {match.concept for match in spot("family", name)}
    return bool(families) and families <= OF_TERMINALS and not find_types(name)


def is_prose(line: str) -> bool:
    """Tell whether a line is running text or a numbered step ("1. Switch off."), and no name."""
    ends = line.rstrip().endswith(".") and len(line.split()) > _SENTENCE_WORDS
    return len(line) > LONGEST_NAME or ends or "。" in line or _STEP.match(line) is not None


def cut_numbering(line: str) -> str:
    """Return a line without the number of its table or figure: "Table 3: Line terminals" is "Line terminals"."""
    said = line.strip()
    words = spot("document_word", said)
    first = next((word for word in words if word.concept == "numbering" and word.start == 0), None)
    number = _TABLE_NUMBER.match(said, first.end) if first is not None else None
    return said[number.end() :] if number is not None and number.end() < len(said) else said


def says_same(name: str, text: str) -> bool:
    """Tell whether a name stands in a text, blanks and signs aside: "MS 80" in "ms80_manual"."""
    bare = fold(name).replace(" ", "")
    return bool(bare) and bare in fold(text).replace(" ", "")


def _parts(line: str) -> Iterator[str]:
    start = 0
    for gap in _SEPARATOR.finditer(line):
        yield line[start : gap.start()]
        start = gap.end()
    yield line[start:]


def _strip(part: str) -> str:
    """Return a part of a line without words of no product at its ends; "" for an edition, or a document's number.

    What stands right behind a kind of document is its number ("Data sheet HT-12"), unless it names a kind of device
    or several types ("Manual QX-11 and QX-22").
    """
    words = sorted(_words_of_no_product(part), key=lambda match: match.start)
    start, end = 0, len(part)
    for match in words:
        if not _said(part[start : match.start]) and _opens(part, match):
            start = max(start, match.end)
    for match in reversed(words):
        if match.start >= start and not _said(part[match.end : end]) and not _names_terminals(match):
            end = match.start
    dated = any(match.concept in _OF_PAPER and match.end <= start for match in words)
    name = part[start:end].strip(_OUTER)
    documents = any(match.concept == "datasheet" and match.end <= start for match in words)
    numbered = documents and not (spot("family", name) or _TIES.match(name) or len(find_types(name)) > 1)
    return "" if dated or numbered else _untie(name)


_OF_PAPER = ("edition", "document_number", "page")
_OF_DOCUMENTS = (*_OF_PAPER, "datasheet", "language", "contents", "numbering", "continued")


def _names_terminals(match: Match) -> bool:
    """Tell whether a word is for terminals or conductors: it stays at the end of a name ("WG 10 terminals")."""
    return match.concept in ("terminal", "conductor", "conductor_min", "conductor_max")


def _opens(part: str, match: Match) -> bool:
    """Tell whether a word at the beginning is none of the name: a document, or tied to it ("Terminals of MS 80")."""
    rest = part[match.end :].strip(_OUTER)
    return match.concept in _OF_DOCUMENTS or not rest or _TIES.match(rest) is not None


def _words_of_no_product(part: str) -> Iterator[Match]:
    """Yield the words for documents, torques and terminals; not those inside a type or the name of a kind of device.

    "STR" is a page in one language; "STR-40" is a type.
    """
    kinds = spot("family", part)
    found = [match for match in spot("document_word", part) if match.concept != "company"]
    found = [match for match in found if match.concept != "page" or not _TYPE_BEHIND.match(part, match.end)]
    found += [*spot("torque_kind", part), *spot("tightened", part)]
    found += [m for m in spot("heading", part) if m.concept.split("_")[0] in ("torque", "terminal", "conductor")]
    yield from (m for m in found if not any(k.start < m.end and m.start < k.end for k in kinds))


def _said(text: str) -> bool:
    """Tell whether a text says anything beyond words that only tie others together."""
    return bool(_TIES.sub("", text).strip(_OUTER))


def _untie(name: str) -> str:
    """Return a name without a tie at its beginning: "for MS 80" is "MS 80"."""
    first, _, rest = name.partition(" ")
    return _untie(rest.strip(_OUTER)) if rest and _TIES.fullmatch(first) else name
