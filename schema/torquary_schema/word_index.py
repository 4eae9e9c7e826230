"""The spellings of one kind of printed words, arranged for looking up; `words` says what the signs in them mean."""

from __future__ import annotations

from dataclasses import dataclass, field

from torquary_schema.folding import fold, fold_phrase

_LEADING_SIGNS = "+-−＋－"
_UMLAUTS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "Ä": "Ae", "Ö": "Oe", "Ü": "Ue"})
STEM_KEY = 3
"""Letters by which stems are looked up (own choice); shorter stems are tried on every word."""


@dataclass(slots=True)
class Index:
    """All spellings of one kind, arranged for looking up."""

    phrases: dict[str, tuple[str, frozenset[int]]] = field(default_factory=dict)
    openings: dict[str, list[int]] = field(default_factory=dict)
    accented: dict[str, dict[str, str]] = field(default_factory=dict)
    stems: dict[str, list[tuple[str, bool, bool, str]]] = field(default_factory=dict)
    whole: dict[str, str] = field(default_factory=dict)
    signs: dict[str, str] = field(default_factory=dict)
    whole_signs: dict[str, str] = field(default_factory=dict)

    def concept_of(self, spelling: str) -> str | None:
        """Return the concept that a whole spelling stands for, None for an unknown one."""
        known = self.phrases.get(fold_phrase(spelling)[0])
        return known[0] if known else None


def _enter(table: dict[str, str], key: str, concept: str) -> None:
    if table.setdefault(key, concept) != concept:
        raise ValueError(f"the spelling {key!r} stands for {table[key]!r} and for {concept!r}")


def add(index: Index, printed: str, concept: str) -> None:
    """Enter a spelling; ValueError if it stands for another concept already."""
    if printed[0] == printed[-1] == "=" and len(printed) > 2:
        known_accents = index.accented.setdefault(fold_phrase(printed[1:-1])[0], {})
        return _enter(known_accents, printed[1:-1].lower(), concept)
    whole = len(printed) > 2 and printed[0] == printed[-1] == "|"
    bare = printed[1:-1] if whole else printed
    folded, blanks = fold_phrase(bare.strip("*"))
    if not folded or bare[0] in _LEADING_SIGNS:
        _enter(index.whole_signs if whole else index.signs, bare, concept)
    elif whole:
        _enter(index.whole, fold(bare), concept)
    elif "*" in (bare[0], bare[-1]):
        _add_stem(index, folded, bare[0] == "*", bare[-1] == "*", concept)
    else:
        _add_phrase(index, folded, blanks, concept)
    if bare.translate(_UMLAUTS) != bare:
        add(index, printed.translate(_UMLAUTS), concept)


def _add_phrase(index: Index, folded: str, blanks: frozenset[int], concept: str) -> None:
    known = index.phrases.get(folded, (concept, blanks))
    if known[0] != concept:
        raise ValueError(f"the spelling {folded!r} stands for {known[0]!r} and for {concept!r}")
    index.phrases[folded] = (concept, blanks | known[1])


def _add_stem(index: Index, stem: str, leading: bool, trailing: bool, concept: str) -> None:
    key = "" if leading and trailing else stem[-STEM_KEY:] if leading else stem[:STEM_KEY]
    index.stems.setdefault(key if len(key) == STEM_KEY else "", []).append((stem, leading, trailing, concept))
