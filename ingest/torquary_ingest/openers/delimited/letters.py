"""Which letters go together: evidence for or against a way of decoding.

`LANGUAGES` holds, for each group of languages, the letters beyond A to Z that its words are written with.
A right decoding needs only one such set; a wrong one mixes letters that no language has together.
"""

from __future__ import annotations

import unicodedata
from collections import Counter
from collections.abc import Iterable
from itertools import pairwise

LANGUAGES: dict[str, frozenset[str]] = {
    "German": frozenset("äöüß"),
    "French": frozenset("éèêëàâçîïôùûœæ"),
    "Spanish and Catalan": frozenset("áéíóúñüçàèòï"),
    "Italian": frozenset("àèéìòù"),
    "Portuguese": frozenset("ãõáéíóúâêôàç"),
    "Dutch": frozenset("ëïéèöü"),
    "Nordic": frozenset("åäöæøé"),
    "Icelandic": frozenset("áéíóúýþæöð"),
    "Polish": frozenset("ąćęłńóśźż"),
    "Czech and Slovak": frozenset("áčďéěíňóřšťúůýžäľô"),
    "Hungarian": frozenset("áéíóöőúüű"),
    "Romanian": frozenset("ăâîşţșț"),
    "South Slavic": frozenset("čćđšž"),
    "Turkish": frozenset("çğıiöşüâ\u0307"),
    "Baltic": frozenset("āčēģīķļņšūžąęėįųõäöü"),
}

#: Signs that stand beside figures and units on datasheets.
AT_FIGURES = frozenset("²³·±½¼¾–—−×÷…≤≥°µμΩ⅛⅜⅝⅞⋅∙¹⁴⌀Ø≈")

#: Signs that go before a figure and never hang on a word.
LIMITS = frozenset("±≤≥≈¼½¾")

#: Signs that stand between words.
BETWEEN_WORDS = frozenset("–—…•·«»„“”‘’‚‹›®™©§€£°²³±½¼¾×÷µº–’")


_WIDE = frozenset({"han", "kana", "hangul", "full-width"})


def _script(character: str) -> str:
    code = ord(character)
    for name, low, high in (
        ("latin", 0x41, 0x24F),
        ("greek", 0x370, 0x3FF),
        ("cyrillic", 0x400, 0x4FF),
        ("hebrew", 0x590, 0x5FF),
        ("arabic", 0x600, 0x6FF),
        ("thai", 0xE00, 0xE7F),
        ("kana", 0x3040, 0x30FF),
        ("half-width kana", 0xFF61, 0xFF9F),
        ("hangul", 0xAC00, 0xD7A3),
        ("han", 0x4E00, 0x9FFF),
        ("full-width", 0x3000, 0x303F),
        ("full-width", 0xFF00, 0xFF60),
    ):
        if low <= code <= high:
            return name
    return "other"


def _is_accented(character: str) -> bool:
    return ord(character) > 0x7F and character.isalpha() and _script(character) == "latin" and character not in "ªºµ"


def letter_faults(words: Iterable[str]) -> int:
    """Count letters that the best-fitting language does not use, over all words of a text."""
    foreign = Counter(c for word in words for c in word.lower() if _is_accented(c))
    if not foreign:
        return 0
    total = sum(foreign.values())
    return min(total - sum(foreign[c] for c in letters) for letters in LANGUAGES.values())


def word_faults(word: str) -> int:
    """Count what is odd inside one run of letters: two scripts, a capital behind a small letter."""
    scripts = {_script(c) for c in word}
    odd = 0
    if "latin" in scripts and scripts & {"greek", "cyrillic", "hebrew", "arabic", "thai", "half-width kana"}:
        odd += 2 * min(sum(_script(c) == "latin" for c in word), sum(_script(c) != "latin" for c in word))
    pairs = [(a, b) for a, b in pairwise(word) if ord(max(a, b)) > 0x7F]
    odd += sum(a.islower() and b.isupper() for a, b in pairs)
    if scripts == {"half-width kana"} and len(word) < 2:
        odd += 2
    return odd


def sign_faults(text: str) -> int:
    """Count characters beyond ASCII that have no business where they stand (beside figures above all)."""
    faults = 0
    for at, character in enumerate(text):
        if ord(character) < 0x80 or character in "\u00a0\u202f\ufeff":
            continue
        before, after = text[at - 1 : at], text[at + 1 : at + 2]
        near = {before, after}
        kind = unicodedata.category(character)
        if kind in {"Cc", "Cn", "Co", "Cs"}:
            faults += 10
        elif character in LIMITS and before.isalpha() and not after.isdigit():
            faults += 2
        elif any(c.isdigit() and c.isascii() for c in near if c):
            if character not in AT_FIGURES and _script(character) not in _WIDE:
                faults += 3
        elif character in AT_FIGURES:
            continue
        elif not character.isalpha():
            inside = before.isalpha() and after.isalpha() and character != "•"
            faults += 2 if inside or character not in BETWEEN_WORDS else 0
        elif _stands_alone(before, after) and _script(character) in {"latin", "cyrillic", "half-width kana"}:
            faults += 1
    return faults


def _stands_alone(before: str, after: str) -> bool:
    return not (before.isalpha() or after.isalpha())


def rare_characters(text: str, encoding: str) -> int:
    """Count characters outside the common part of an East Asian code page, where wrong decodings end up."""
    test = _COMMON.get(encoding)
    if test is None:
        return 0
    wide = [character for character in text if _script(character) in {"han", "hangul", "half-width kana"}]
    return sum(not _in_rows(character, *test) for character in wide)


#: Code page, first and last lead byte of its common characters (first-level sets of the national standards).
_COMMON = {
    "gb18030": ("gb2312", 0xB0, 0xD7),
    "big5": ("big5", 0xA4, 0xC6),
    "cp949": ("euc_kr", 0xB0, 0xC8),
    "euc_jp": ("euc_jp", 0xB0, 0xCF),
    "cp932": ("euc_jp", 0xB0, 0xCF),
}


def _in_rows(character: str, page: str, first: int, last: int) -> bool:
    try:
        return first <= character.encode(page)[0] <= last
    except UnicodeEncodeError:
        return False
