"""What the text of a page says of torques, line by line: units, words as words, figures near them.

It would rather say too much than too little: a page of which nothing is said here is not read.
"""

from __future__ import annotations

import re
from bisect import bisect
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache, reduce
from itertools import accumulate
from operator import or_

from torquary_ingest.lexis.figures import has_figure
from torquary_ingest.openers.pdf.page_words import (
    ASKS,
    CONDUCTOR,
    NOTHING,
    OF_SCREWS,
    TERMINAL,
    TIGHTENING,
    VARIANT,
    WORD,
    phrases_by_word,
    say,
    says,
    words_of,
)
from torquary_schema.units import find_units
from torquary_schema.words import spot

_MAY_BE_UNIT = re.compile(
    r"(?<![^\W\d_])[cdmk]?a?n\s?[^\w\s,;:()\[\]%+=\"']?\s?[cm]?m(?![^\W\d_])"
    r"|(?<![^\W\d_])(?:lbs?f?|lbfs?|kgf?|kp|ozf?s?|gf|pounds?|ounces?|dyn)(?![^\W\d_])|\d\s?#|#\s?-?in\b"
    r"|newton|ньютон|кгс?|фунт|унц|[cdmk]?[нН]\s?\W?\s?с?[мМ]\b|libra|livre|libbr|pfund|onza|once|磅|ポンド|파운드|公斤|千克力"
    r"|牛|ニュートン|뉴턴|نيوتن|ניוטון|نم|ם\"נ|נ\"מ",
    re.IGNORECASE,
)
"""A first sieve: what may be a unit of torque, in a hundredth of the time that it takes to tell."""

_SIEVE = re.compile(
    r"n\s?[^\w\s,;:()\[\]%+=\"']?\s?[cm]?m(?![^\W\d_])|[\W\d_](?:lbs?f?|lbfs?|kgf?|kp|ozf?s?|gf|dyn)(?![^\W\d_])"
    r"|pound|ounce|\d\s?#|#\s?-?in"
    r"|newton|ньютон|кг|фунт|унц|н\s?\W?\s?с?м\b|libra|livre|libbr|pfund|onza|once|磅|ポンド|파운드|公斤|千克力"
    r"|牛|ニュートン|뉴턴|نيوتن|ניוטון|نم|ם\"נ|נ\"מ"
)
"""A coarser one, of small letters, to pass over whole pages with."""

_SIZE = re.compile(
    r"(?:mm|мм)\s?[²2](?!\d)|㎟|mm\^2|\bawg\b|kcmil|\bmcm\b|qmm|\bsq\.?\s?mm|кв\.?\s?мм|平方|mmq", re.IGNORECASE
)

_BROKEN = re.compile(r"[-\u00ad\u2010\u0002\ufffe]\n(?=[^\W\d_])|[\u0002\ufffe]")
"""A word divided over two lines; the library sets a sign of its own for such a hyphen."""

_SPACED = re.compile(r"(?<![^\W\d_])(?:[^\W\d_][ \n]+){4,}[^\W\d_](?![^\W\d_])")

_NUMBERED = re.compile(r"^\W*(?:\d+\.)*\d{1,3}[.)]?\s+(?=[^\W\d_])")
_FREE = re.compile(
    r"(?<![\w.,/#-])\d+(?:[.,]\d+)*(?![\w.,]|\s?(?:%|°|º|[kmµMG]?(?:A|V|W|VA|Hz|Ω|F|bar|Pa|Wh|Ah|J)\b"
    r"|(?:mm|cm|km|m|µs|ms|s|min|h|g|dB|rpm)(?![\w²])))|[½¼¾⅛⅜⅝⅞]"
)
"""A figure that no unit of another kind stands behind."""

_NUMBERED_HEADING = re.compile(r"^\W*\d{1,3}(?:\.\d{1,2})*[.)]?\s+[^\W\d_a-z]\w+")
_COUNTING = ("numbering", "page")
_ENDED = re.compile(r"[.:;!?。！？]\W*$")
_LEADERS = re.compile(r"(?:[.…]\s?){4,}[\s\d.–-]*\d\s*$")

_OPENS_NOTE = re.compile(
    r"^\s*[(\[]?(?:[*†‡§※]{1,3}\d?|\d\)|[a-z]\)|[¹²³⁴⁵⁶⁷⁸⁹])|\b(?:60|75|90|105)\s*°?\s*(?:C\b|℃)", re.MULTILINE
)
"""What opens a note, or says for which temperature conductors are to be made."""

_LETTERED = re.compile(r"\s[A-Z](?![\w.])")
_SENTENCE, _LONGEST_LINE, WORDS_A_FIGURE = 6, 250, 3
"""Words without a figure from which a line is a sentence, letters beyond which rows may have run together, and words
without a figure for each with one: a row that ends with a long name has fewer."""

_NEAR = 3
"""Lines between a word for torque and a line of figures."""


@dataclass(frozen=True)
class PageText:
    """The text of a page; `lines` are those that are not blank, `sought` further headings that mean a torque."""

    text: str
    sought: tuple[str, ...] = ()

    @cached_property
    def lines(self) -> tuple[str, ...]:
        """The lines that hold anything, a divided word whole, letters that are spaced out together."""
        whole = _SPACED.sub(lambda found: re.sub(r"\s+", "", found[0]), _BROKEN.sub("", self.text.replace("\r", "")))
        return tuple(line for line in map(str.strip, whole.split("\n")) if line)

    @cached_property
    def said(self) -> tuple[int, ...]:
        """What the words of each line speak of."""
        return tuple(map(say, self.lines, (*self.lines[1:], "")))

    @property
    def speaks_of_torque(self) -> bool:
        """Tell whether the page speaks of torques or tightening."""
        return bool(self.speaks_of & ASKS)

    @property
    def speaks_of_screws(self) -> bool:
        """Tell whether the page speaks of torques, tightening or terminals."""
        return bool(self.speaks_of & OF_SCREWS)

    @cached_property
    def speaks_of(self) -> int:
        """What the words of the page speak of."""
        text = words_of("\n".join(self.lines))
        words = set(text.split())
        phrases = (phrase for word in words & phrases_by_word().keys() for phrase in phrases_by_word()[word])
        said = (meaning for phrase, meaning in phrases if f" {phrase} " in text)
        return reduce(or_, (*map(says, words), *said), NOTHING)

    def why_read(self) -> str:
        """Return why the page may bear a torque, in words; "" if nothing on it does."""
        sought = tuple(map(words_of, self.sought))
        if sought and any(heading in words_of(line) for line in self.lines for heading in sought):
            return "a heading that a layout profile explains"
        if self._has_unit():
            return "a unit of torque"
        return "a word for a torque near figures" if self._has_word() else ""

    def _has_unit(self) -> bool:
        text = "\n".join(self.lines)
        if not _SIEVE.search(f" {text.lower()}"):
            return False
        ends = list(accumulate(len(line) + 1 for line in self.lines))
        places = {bisect(ends, found.start()) for found in _MAY_BE_UNIT.finditer(text)}
        return any(
            self._counts(kind, at)
            for at in sorted(places)
            for kind in _units_in("\n".join(self.lines[at : at + 2]))
        )

    def _counts(self, kind: str, at: int) -> bool:
        """Tell whether a unit counts: a doubtful one does on a page that speaks of torque, tightening or terminals.

        One that may be a force or a mass counts near a word for torque or tightening, or under one that is a label.
        """
        if kind != "force":
            return kind == "torque" or self.speaks_of_screws
        near = self.said[max(at - _NEAR, 0) : at + _NEAR + 1]
        return any(one & ASKS for one in near) or (not is_sentence(self.lines[at]) and self._labelled())

    def _labelled(self) -> bool:
        """Tell whether a line that is no sentence names a torque or tightening."""
        return any(said & ASKS and not is_sentence(line) and not _LEADERS.search(line) for line, said in self._told)

    @property
    def _told(self) -> Iterator[tuple[str, int]]:
        return zip(self.lines, self.said, strict=True)

    def _has_word(self) -> bool:
        if not self.speaks_of & ASKS:
            return False
        company = self._has_company
        free = [has_free_figure(_NUMBERED.sub("", one) if said & ASKS else one) for one, said in self._told]
        bare = [held and not is_sentence(line) for line, held in zip(self.lines, free, strict=True)]
        asking = (at for at, (line, said) in enumerate(self._told) if said & ASKS and not _LEADERS.search(line))
        return any(_has_figures_near(at, free, bare, not is_sentence(self.lines[at]), company) for at in asking)

    def lines_for_others(self) -> tuple[str, ...]:
        """Return the lines that may speak for figures of other pages: kinds of conductors, notes, sizes of devices."""
        if not self.speaks_of & (CONDUCTOR | VARIANT) and not _OPENS_NOTE.search("\n".join(self.lines)):
            return ()
        may = list(map(self._may_speak, self.lines, self.said))
        # A line in small letters may go on with the one above it.
        on = [line[:1].islower() and any(may[max(at - 2, 0) : at]) for at, line in enumerate(self.lines)]
        return tuple(line for at, line in enumerate(self.lines) if may[at] or on[at])

    @staticmethod
    def _may_speak(line: str, said: int) -> bool:
        if said & CONDUCTOR or _OPENS_NOTE.search(line):
            return True
        return bool(said & VARIANT) and _LETTERED.search(line) is not None

    def asks_at_foot(self, lines: int) -> bool:
        """Tell whether one of so many last lines names a torque or tightening and ends no sentence.

        What it names may stand overleaf.
        """
        if not self._has_company:
            return False
        foot = zip(self.lines[-lines:], self.said[-lines:], strict=True)
        return any(said & ASKS and not (_ENDED.search(line) or _LEADERS.search(line)) for line, said in foot)

    @property
    def _has_company(self) -> bool:
        """Tell whether the page speaks of more than a torque, which may be a machine's: of screws, or sizes."""
        return bool(self.speaks_of & (TIGHTENING | TERMINAL)) or self.has_sizes()

    def has_sizes(self) -> bool:
        """Tell whether a line that is no sentence gives a conductor's size."""
        return any(_SIZE.search(line) and has_figure(line) and not is_sentence(line) for line in self.lines)


def _has_figures_near(at: int, free: list[bool], bare: list[bool], label: bool, company: bool) -> bool:
    """Tell whether figures stand near enough to a line to be the torque that it names.

    `free` are the lines with figures, `bare` those of them that are no sentences; `label`: the line is none itself;
    `company`: the page speaks of screws or sizes too.
    """
    if any(bare[max(at - _NEAR, 0) : at + _NEAR + 1]) and (company or label):
        return True
    return company and (any(free[max(at - 1, 0) : at + 2]) or (label and any(bare)))


def speaks_of_screws(heading: str) -> bool:
    """Tell whether a heading speaks of torques, tightening or terminals."""
    return bool(say(heading, "") & OF_SCREWS)


def is_row(line: str) -> bool:
    """Tell whether a line may be a row of a table: no sentence or heading, a figure in it, more than a bare number."""
    if _NUMBERED_HEADING.match(line) or _LEADERS.search(line) or is_sentence(line) or not has_free_figure(line):
        return False
    return not line.isdigit() and not any(match.concept in _COUNTING for match in spot("document_word", line))


def has_free_figure(line: str) -> bool:
    """Tell whether a line has a figure without a unit of another kind."""
    return _FREE.search(line) is not None


def count_figures(text: str) -> int:
    """Return how many words of the text hold a digit."""
    return sum(any(letter.isdigit() for letter in word) for word in text.split())


def is_sentence(line: str) -> bool:
    """Tell a line of words with few figures among them; one that ends with a figure may be a row of a table."""
    words = line.split()
    if not words or has_figure(words[-1]):
        return False
    figures = sum(map(has_figure, words))
    plain = [word for word in words if WORD.search(word) and not has_figure(word)]
    letters = sum(len(word) for word in plain)
    few = len(plain) >= WORDS_A_FIGURE * figures
    return len(plain) >= _SENTENCE and few and letters >= 3 * len(plain) and len(line) <= _LONGEST_LINE


@lru_cache(maxsize=4096)
def _units_in(text: str) -> tuple[str, ...]:
    """Return the kinds of the units that may be a torque's: "torque", "doubtful", "force"."""
    found = [unit for unit in find_units(text) if unit.kind in ("torque", "force")]
    told = ["force" if unit.kind == "force" else "torque" if unit.certain else "doubtful" for unit in found]
    return tuple(dict.fromkeys(told)) or ("doubtful",)
