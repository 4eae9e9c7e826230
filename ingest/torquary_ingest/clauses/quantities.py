"""Figures of torques and sizes of conductors in running text: where they stand, from the first digit to the unit."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache, lru_cache

from torquary_ingest.figures.phrases import phrase_pattern, phrases
from torquary_ingest.lexis.endings import spell_endings
from torquary_ingest.lexis.figures import BEGINS
from torquary_ingest.skeleton.languages import is_rather_in
from torquary_schema.folding import script_of
from torquary_schema.units import UnitMatch, find_units
from torquary_schema.words import Match, all_spellings, spot

_NUMBER = r"(?:\d+[ ]\d+[/⁄]\d+|\d+[/⁄]\d+|\d+(?:[.,]\d+)*[½¼¾⅓⅔⅛⅜⅝⅞]?|[½¼¾⅓⅔⅛⅜⅝⅞])"
_TOLERANCE = r"(?:±|\+\s?/\s?[-–−])"
_SIGN = r"(?:[≤≥<>~≈]\s*)?"
_TWO_LIMITS = rf"(?:min\.?\s*{_NUMBER}\s*[,;/–-]?\s*max\.?\s*)"
_BEFORE_A_FIGURE = re.compile(r"[\s.:]*[\d≤]")
_NEIGHBOURS = 3
"""Times by which the second of two sizes that are listed is the larger, at most (own choice: 1.5 and 4 mm²)."""

_A_TO, _A_AND = ("it", "es", "pt"), ("cs", "sk")
"""Languages in which "a" stands between the ends of a range, and between two figures."""

_CZECH_AND = "a"
"""No connective of the vocabularies, since other languages have it between the ends of a range."""
_BEHIND_A_UNIT = r"(?:(?<=[^\W\d_]/)|(?<=[^\W\d_] /))"
"""Where a stroke behind a unit parts the same figure in another one: "0.6 Nm/5.3 lbf·in"."""
_COUNT = r"(?:\(?[1-6]\)?\s*[x×]\s*\(?\s*)?"


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A figure or size in a text. `parts` are the prints of one figure in several units, or of several figures.

    Each part is its offsets and, where its unit stands behind a later one alone ("10 and 16 mm²"), that unit.
    """

    start: int
    end: int
    parts: tuple[tuple[int, int, str], ...]
    listed: bool = False


@cache
def _connectives(*concepts: str) -> str:
    """Return the words of every language for these connectives, the longest first, as alternatives of a pattern."""
    words = {word.strip("|=") for word in all_spellings("connective", *concepts)}
    lettered = (re.escape(word) for word in words if word.rstrip(".")[-1:].isalpha())
    return "|".join(sorted(lettered, key=len, reverse=True))


@cache
def range_words() -> str:
    """Return a pattern for what stands between the ends of a range, in every language."""
    words = _connectives("range")
    return rf"\s*(?:[-‐‑–—−~÷…〜～]|\.{{2,3}}|(?<=[\s\w])(?:up to|{words})(?=[\s\d]))\s*"


@cache
def _otherwise() -> re.Pattern[str]:
    return re.compile(rf"\s*(?:{_connectives('or')})\s*", re.IGNORECASE)


@cache
def _in_another_unit() -> re.Pattern[str]:
    return re.compile(
        rf"\s*(?:[\[(/=|;,–-]|{_connectives('or')})?\s*[\[(]?\s*", re.IGNORECASE
    )


@cache
def ranges_from_one() -> re.Pattern[str]:
    """Return a pattern for a range of codes that begins with the first one, "first" and "last": "T1 to T8"."""
    return re.compile(rf"(?<![\w.,])(?P<first>(?P<letter>[A-Z])1){range_words()}(?P<last>(?P=letter)\d{{1,2}})(?!\w)")


@cache
def _figure_before() -> re.Pattern[str]:
    ranged = rf"{_NUMBER}(?:(?:{range_words()}|\s*{_TOLERANCE}\s*){_NUMBER})?"
    bracketed = rf"{_NUMBER}\s*\(\s*{_TOLERANCE}\s*{_NUMBER}\s*\)"
    return re.compile(
        rf"(?:{BEGINS}|{_BEHIND_A_UNIT})(?:{_TWO_LIMITS})?{_SIGN}(?:{bracketed}|\(\s*{ranged}\s*\)|{ranged})\s*[\[(]?\s*$",
        re.IGNORECASE,
    )


@cache
def _size_before() -> re.Pattern[str]:
    ranged = rf"{_NUMBER}(?:{range_words()}{_NUMBER})?"
    return re.compile(rf"{BEGINS}{_SIGN}{_COUNT}{ranged}\s*$", re.IGNORECASE)


@cache
def _gauge_behind() -> re.Pattern[str]:
    return re.compile(
        rf"\s*{_NUMBER}(?:{range_words()}(?:AWG\s*)?{_NUMBER})?(?![\w]*[%°])", re.IGNORECASE
    )


@cache
def _listed_before() -> re.Pattern[str]:
    joined = rf"(?:,\s+|\s+(?:{_connectives('and', 'or')}|{_CZECH_AND})\s+)"
    return re.compile(rf"{BEGINS}({_NUMBER}(?:{joined}{_NUMBER})+)\s*$", re.IGNORECASE)


def _list_before(text: str) -> re.Match[str] | None:
    """Return the list of numbers that a text ends in; the "a" of Italian, Spanish and Portuguese is a range's.

    A word such as "da" before it tells, or more words of these languages than of those in which it joins two figures;
    so do figures far apart ("1,5 a 16 mm²"), where no word is of those languages.
    """
    listed = _listed_before().search(text)
    if listed is None:
        return None
    two = re.split(_NUMBER, listed[1])[1:-1]
    ranged = len(two) == 1 and re.fullmatch(range_words(), f" {two[0].strip()} ", re.IGNORECASE)
    opened = any(m.concept == "from" and _only_blank(text[m.end : listed.start()]) for m in spot("connective", text))
    romance = is_rather_in(text[: listed.start()], _A_TO, _A_AND)
    apart = _are_far_apart(listed[1]) and not is_rather_in(text[: listed.start()], _A_AND, _A_TO)
    return None if ranged and (opened or romance or apart) else listed


def _are_far_apart(listed: str) -> bool:
    """Tell whether the first two numbers of a list rise more than neighbours of one list do."""
    low, high, *_ = (Decimal(one.replace(",", ".")) for one in (*re.findall(r"\d+(?:[.,]\d+)?", listed), "0", "0"))
    return high > _NEIGHBOURS * low


@lru_cache(maxsize=4096)
def find_figures(text: str) -> tuple[Span, ...]:
    """Return the torques of a text, each from its first digit or sign to its last unit; two units give one span."""
    printed, text = text, spell_endings(text)
    found: list[Span] = []
    for unit in (unit for unit in find_units(text) if unit.kind == "torque"):
        before = _figure_before().search(text[: unit.start])
        if before is not None:
            listed = _list_before(text[: unit.start])
            whole = Span(
                start=before.start(), end=unit.end, parts=((before.start(), unit.end, ""),)
            )
            _add_figure(found, whole if listed is None else _listed_parts(listed, unit), text)
    return tuple(_with_ending(_with_limit(span, text), printed, text) for span in found)


def _with_ending(span: Span, printed: str, spelt: str) -> Span:
    """Return a range told by case endings with the one at its upper end: "1,2 Nm-től 1,5 Nm-ig"."""
    end = span.end
    if printed[span.start : end] == spelt[span.start : end]:
        return span
    while end < len(printed) and printed[end] != spelt[end]:
        end += 1
    return Span(start=span.start, end=end, parts=(*span.parts[:-1], (*span.parts[-1][:1], end, span.parts[-1][2])))


def _add_figure(found: list[Span], span: Span, text: str) -> None:
    """Add a figure; one behind a sign of range or tolerance, or in another unit, belongs to the one before."""
    last = found[-1] if found else None
    between = text[last.end : span.start] if last is not None else ""
    if last is None or span.listed or not (_goes_on(between) or _also(last, span, text)):
        found.append(span)
        return
    end = span.end + (
        text[span.end : span.end + 1] in (")", "]") and between.strip()[-1:] in ("(", "[")
    )
    if _otherwise().fullmatch(between):
        parts = (*last.parts, (span.start, end, ""))
    else:
        parts = (*last.parts[:-1], (last.parts[-1][0], end, ""))
    found[-1] = Span(start=last.start, end=end, parts=parts)


def _goes_on(between: str) -> bool:
    ranged = rf"(?:{range_words()}|\s*{_TOLERANCE}\s*)"
    return (
        bool(between.strip())
        and re.fullmatch(ranged, between, re.IGNORECASE) is not None
        and "—" not in between
    )


def _also(last: Span, span: Span, text: str) -> bool:
    """Tell whether a figure says the one before again in another unit: "5.6 N·m (50 lb-in)"."""
    units = [find_units(text[one.start : one.end])[-1:] for one in (last, span)]
    differ = all(units) and units[0][0].name != units[1][0].name
    return differ and _in_another_unit().fullmatch(text[last.end : span.start]) is not None


@cache
def _limit_behind() -> re.Pattern[str]:
    """Return a pattern for a limit behind a figure: "0.4 Nm (max)", and the words of scripts without blanks, "以下"."""
    behind = [word for word in (*phrases("MAX"), *phrases("MIN")) if script_of(word[-1]) == "unspaced"]
    latin = r"(?:max|min|máx|maks)(?:imum|imal)?\.?\s*\)?(?![\w])(?!\s*\d)"
    return re.compile(rf"\s*\(?\s*(?:{latin}|(?:{'|'.join(behind)})\)?(?!\s*\d))", re.IGNORECASE)


def _with_limit(span: Span, text: str) -> Span:
    """Return a figure with the word for a limit behind it: "0.4 Nm (max)"."""
    behind = _limit_behind().match(text, span.end)
    if behind is None or span.listed:
        return span
    end = behind.end()
    return Span(start=span.start, end=end, parts=(*span.parts[:-1], (span.parts[-1][0], end, "")))


@lru_cache(maxsize=4096)
def find_sizes(text: str) -> tuple[Span, ...]:
    """Return the conductor sizes of a text, each with its range, count and limit ("up to 4 mm²", "2 x 2.5 mm²")."""
    printed, text = text, spell_endings(text)
    found: list[Span] = []
    for unit in (unit for unit in find_units(text) if unit.kind in ("area", "gauge")):
        span = _size_at(text, unit)
        last = found[-1] if found else None
        if span is None:
            continue
        if last is not None and span.start < last.end:
            found[-1] = Span(
                start=last.start, end=max(last.end, span.end), parts=((last.start, span.end, ""),)
            )
        elif last is not None and _goes_on(text[last.end : span.start]):
            found[-1] = Span(start=last.start, end=span.end, parts=((last.start, span.end, ""),))
        else:
            found.append(span)
    return tuple(_with_ending(_with_bounds(span, text), printed, text) for span in found)


def _size_at(text: str, unit: UnitMatch) -> Span | None:
    """Return the size that a unit belongs to; None where no number stands at it."""
    before = text[: unit.start]
    listed = _list_before(before)
    if listed is not None and unit.kind == "area":
        return _listed_parts(listed, unit)
    number = _size_before().search(before)
    if number is not None:
        return Span(start=number.start(), end=unit.end, parts=((number.start(), unit.end, ""),))
    behind = _gauge_behind().match(text, unit.end) if unit.kind == "gauge" else None
    if behind is not None:
        return Span(start=unit.start, end=behind.end(), parts=((unit.start, behind.end(), ""),))
    return None


def _listed_parts(listed: re.Match[str], unit: UnitMatch) -> Span:
    numbers = list(re.finditer(_NUMBER, listed[1]))
    offset = listed.start(1)
    parts = [(offset + one.start(), offset + one.end(), unit.printed) for one in numbers[:-1]]
    parts.append((offset + numbers[-1].start(), unit.end, ""))
    return Span(start=offset, end=unit.end, parts=tuple(parts), listed=True)


def _with_bounds(span: Span, text: str) -> Span:
    """Return a size with the words that limit it, before ("up to") or behind ("and larger")."""
    if span.listed:
        return span
    limits = [match for match in spot("connective", text) if _bounds(match)]
    start = next(
        (m.start for m in limits if m.end <= span.start and _only_blank(text[m.end : span.start])),
        span.start,
    )
    end = _end_of_bound(text, span.end)
    return Span(start=start, end=end, parts=((start, end, ""),))


def _bounds(match: Match) -> bool:
    """Tell whether a word bounds the size behind it: "max.", "from", and "bis", which stands within ranges too."""
    alone = match.concept == "range" and match.printed.casefold() in phrases("PREFIX_MAX")
    return alone or match.concept in ("max", "min", "from")


def _end_of_bound(text: str, end: int) -> int:
    """Return where the words behind a size end that bound it; a "max." before a figure is the figure's."""
    at = _skip_blanks(text, end)
    for kind in ("MORE", "LESS"):
        if bound := phrase_pattern(kind).match(text, at):
            return bound.end()
    highest = phrase_pattern("MAX").match(text, at)
    return end if highest is None or _BEFORE_A_FIGURE.match(text, highest.end()) else highest.end()


def _skip_blanks(text: str, at: int) -> int:
    return at + len(text[at:]) - len(text[at:].lstrip())


def _only_blank(text: str) -> bool:
    return not text.strip(" .:\n")


def cut_parts(text: str, spans: Sequence[Span]) -> list[str]:
    """Return the prints of spans, blanks folded."""
    return [" ".join(text[start:end].split()) for span in spans for start, end, _ in span.parts]
