"""The language that a page is in, by the small words that every text of it has, or by its script."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from torquary_ingest.document import Document

_SMALL_WORDS = {
    "bg": "и на за се от не са или при със който това",
    "cs": "pro se na je nebo podle při musí jsou která",
    "da": "og til er ikke af skal med på eller det",
    "de": "und der die das für mit nicht ist bei werden oder auf",
    "en": "the and of for with is are be not on or to",
    "es": "el los las para con del por una debe se que",
    "et": "ja on ei või ning kui tuleb peab kuni ainult",
    "fi": "ja on ei tai että sekä kun ovat voi mukaan",
    "fr": "le les des pour avec est dans une sur doit ou être",
    "hr": "je na za ili nije koje mora prije uređaja",
    "hu": "az és nem vagy hogy csak kell egy meg",
    "it": "il gli di per con del della è non una sono deve",
    "lt": "ir yra į iš tik turi nuo arba būti",
    "lv": "ir ar uz tikai vai jābūt nav kā",
    "nl": "het een van voor met niet zijn bij wordt op moet dient",
    "no": "og til er ikke av skal med på eller det",
    "pl": "do na jest nie przez lub należy są oraz dla",
    "pt": "os para com do da não uma deve ou são em",
    "ro": "și în cu pe este sunt nu pentru sau din trebuie",
    "ru": "и на в не с для или при по должны что",
    "sk": "pre sa na je alebo podľa pri musí sú ktorá",
    "sl": "je na za ali ni pri naj mora so",
    "sv": "och för är inte av ska med på eller det som",
    "tr": "ve için ile bir bu veya olarak değil göre",
    "uk": "і та на в не з для або при що має",
}
"""Some of the commonest words of each language (common practice), without "de", which is Dutch, Spanish and more."""

_SCRIPTS = (
    ("ja", re.compile(r"[\u3040-\u30ff]")),
    ("ko", re.compile(r"[\uac00-\ud7af]")),
    ("zh", re.compile(r"[\u4e00-\u9fff]")),
    ("ru", re.compile(r"[\u0400-\u04ff]")),
    ("el", re.compile(r"[\u0370-\u03ff]")),
    ("he", re.compile(r"[\u0590-\u05ff]")),
    ("ar", re.compile(r"[\u0600-\u06ff]")),
)
_SAME_SCRIPT = {"ru": ("bg", "uk")}
"""Languages told from another of the same script by their small words."""

_LEAST_SIGNS = 20
"""Letters of a script from which a page is in a language of it: fewer may be a sign ("Ω", "µ")."""

_LEAST_WORDS = 6
_AHEAD = 2
"""Small words of a language at least, and times as many as of the next, for a page to be in it (own choice)."""

_LANGUAGES = {language: frozenset(words.split()) for language, words in _SMALL_WORDS.items()}


def find_languages(document: Document) -> dict[int, str]:
    """Return the language of each page where it is clear: number of the page from 1 → code ("de")."""
    told = {page.number: language_of(" ".join(word.text for word in page.words)) for page in document.pages}
    told |= {page.number: page.language for page in document.passed}
    return {number: language for number, language in told.items() if language}


def language_of(text: str) -> str:
    """Return the code of the language that a text is in, "" where none is clearly ahead."""
    for language, script in _SCRIPTS:
        if len(script.findall(text)) >= _LEAST_SIGNS:
            counted = _count_words(text)
            alike: tuple[str, ...] = (language, *_SAME_SCRIPT.get(language, ()))
            return max(alike, key=lambda one: counted.get(one, 0))
    counts = sorted((count, language) for language, count in _count_words(text).items())
    (next_most, _), (most, language) = counts[-2:]
    return language if most >= _LEAST_WORDS and most >= _AHEAD * next_most else ""


def speaks(text: str, language: str) -> bool:
    """Tell whether a short text may be in a language: no other one has more of its small words in it.

    In a language whose small words are not known every text may be.
    """
    counts = _count_words(text)
    return language not in counts or (counts[language] > 0 and counts[language] == max(counts.values()))


def is_rather_in(text: str, ones: Sequence[str], others: Sequence[str]) -> bool:
    """Tell whether a text has more small words of one of some languages than of any of some others."""
    counts = _count_words(text)
    return max(counts[one] for one in ones) > max(counts[other] for other in others)


def _count_words(text: str) -> dict[str, int]:
    """Return how many small words of each language a text has."""
    words = Counter(re.findall(r"[^\W\d_]+", text.lower()))
    return {language: sum(words[word] for word in known) for language, known in _LANGUAGES.items()}
