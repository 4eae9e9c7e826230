"""Names of makers: whether a text is one, and whether a line is headed by it."""

from __future__ import annotations

from torquary_schema.folding import fold, script_of
from torquary_schema.words import KINDS, spot

# Kinds of company (common practice): they stand behind the names of many makers.
_COMPANIES = frozenset(
    {
        "ag", "gmbh", "kg", "ohg", "ug", "se", "ltd", "llc", "inc", "corp", "co", "plc", "sa", "sas", "sarl", "spa",
        "srl", "bv", "nv", "ab", "as", "oy", "aps", "sro", "doo", "kft", "zrt", "company", "group", "international",
        "electric", "electrical", "electronics", "elektrotechnik", "industries", "limited", "corporation",
    }
)  # fmt: skip
_OF_OTHERS = frozenset({"for", "with", "or", "only", "except", "see"})
_SHORTEST = 3


def names_maker(text: str) -> bool:
    """Tell whether a text holds a word that can be a name: no word of the trade, no number, no kind of company."""
    return any(_is_name(word) for word in text.split())


def _is_name(word: str) -> bool:
    folded = fold(word)
    letters = [letter for letter in folded if letter.isalpha()]
    shortest = 2 if any(script_of(letter) == "unspaced" for letter in letters) else _SHORTEST
    if len(letters) < shortest or folded in _COMPANIES or any(letter.isdigit() for letter in folded):
        return False
    return not any(spot(kind, word) for kind in KINDS)


def propose_name(line: str) -> str:
    """Return the words of a line up to the first that cannot belong to a name; "" if it opens with none."""
    known = [match.start for kind in KINDS for match in spot(kind, line)]
    kept: list[str] = []
    for word in line[: min(known, default=len(line))].split():
        if not _is_name(word) and fold(word) not in _COMPANIES:
            break
        kept.append(word.strip(",;:|–—-"))
    name = " ".join(kept)
    return name if names_maker(name) else ""


def stands_in(name: str, line: str) -> bool:
    """Tell whether a line is headed by the name: its words together, not behind "for" or "compatible with"."""
    folded = f" {fold(line)} "
    place = folded.find(f" {fold(name)} ")
    if place < 0:
        return False
    before = folded[:place]
    return not any(match.concept in _OF_OTHERS for match in spot("connective", before))
