"""Compares what the text layer says with what a recogniser saw, its harmless habits set aside."""

from __future__ import annotations

import re
import unicodedata

from torquary_ingest.document import Word
from torquary_ingest.witness.faces import DASHES

_ALIASES = str.maketrans(
    {
        "\u2044": "/", "…": "...", "−": "-", "～": "~", "〜": "~", "∼": "~", "≦": "≤", "≧": "≥", "⩽": "≤", "⩾": "≥",
        "″": '"', "”": '"', "“": '"', "’": "'", "‘": "'", "′": "'", "×": "x", "÷": "+", "μ": "µ",
        "，": ",", "。": ".", "：": ":", "（": "(", "）": ")", "、": ",", "丨": None,
    }
)  # fmt: skip
_THIN = "ilj"
_SEEN_THIN = "ilj1|!íìîïı'"
_READ_SCRIPTS = ("LATIN", "CJK", "HIRAGANA", "KATAKANA", "MICRO", "DIGIT", "OHM", "GREEK SMALL LETTER MU")


def fold_reading(text: str) -> str:
    """Fold a reading to what two honest readers of one picture agree on: no blanks, one form of each mark.

    Figures, points, commas, dashes beside figures and comparison signs are kept apart. Not kept apart are
    letter case, letters that many faces draw alike, and marks between letters ("N·m", "N.m", "N-m").
    """
    # ½ is read as 1/2 and 2½ as 21/2: fractions are spelt out on both sides.
    text = unicodedata.normalize("NFKC", text.translate(_ALIASES)).translate(_ALIASES)
    text = "".join(c for c in text if not c.isspace() and c not in "\u00ad\u200b")
    text = re.sub(f"[{re.escape(DASHES)}ー一]", "-", text)
    text = re.sub("[·∙⋅•‧・˙]", "·", text)
    text = re.sub(r"(?<=[a-zA-Zµ])[.·\-](?=[a-zA-Z]|$)", "", text)
    return text.casefold().replace("μ", "µ")


def agree(live: tuple[str, ...], seen: str) -> bool:
    """Tell whether what was seen is one of the forms in which the text layer's line may be read.

    A thin letter among letters ("lb", "in") is often seen as another thin sign or not at all; a figure or
    mark of the text layer must be seen as itself.
    """
    folded = fold_reading(seen)
    return any(re.fullmatch(_allow_thin(fold_reading(form)), folded) for form in live)


def _allow_thin(folded: str) -> str:
    parts = []
    for at, char in enumerate(folded):
        beside = folded[max(at - 1, 0) : at] + folded[at + 1 : at + 2]
        among = char in _THIN and any(other.isalpha() for other in beside)
        parts.append(f"[{_SEEN_THIN}]?" if among else re.escape(char))
    return "".join(parts)


def spell_line(line: list[Word]) -> tuple[str, ...]:
    """Return the forms of a printed line: with its raised note marks read as characters, and without."""
    plain = " ".join(word.text for word in line)
    marked = " ".join(_with_marks(word) for word in line)
    return (plain,) if marked == plain else (marked, plain)


def _with_marks(word: Word) -> str:
    """Return a word with its note marks where they stand: before it or behind it."""
    middle = word.box.middle[0]
    before = [mark.text for mark in word.marks if mark.box is not None and mark.box.middle[0] < middle - 0.01]
    behind = [mark.text for mark in word.marks if mark.box is None or mark.box.middle[0] >= middle - 0.01]
    return "".join([*before, word.text, *behind])


def is_readable(text: str) -> bool:
    """Tell whether the recogniser was taught the script of a word: its letters are Latin, Chinese or Japanese.

    A word in another script holds no figure that it could read wrong; where a figure stands among its
    letters, it counts as readable, and is then not witnessed rather than passed over.
    """
    if any(c.isdigit() for c in text):
        return True
    letters = [c for c in unicodedata.normalize("NFKC", text) if c.isalpha()]
    return not letters or any(unicodedata.name(c, "").startswith(_READ_SCRIPTS) for c in letters)
