"""Which words of a statement are known: what is left of a line says something more, and is never passed over."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from torquary_ingest.figures.conductor_words import ConductorWords, read_conductor_words
from torquary_ingest.headings.sense import cut_out
from torquary_ingest.lexis.figures import ends_in_figure
from torquary_schema.units import UnitMatch, find_units
from torquary_schema.words import Kind, Match, spot

DEGREES = re.compile(r"60|75|90|105")
TEMPERATURE = re.compile(
    rf"(?:(?:{DEGREES.pattern})\s*(?:(?:°|º|deg\.?)\s*[CС]?)?\s*(?:/|or|and|–|-)\s*)*"
    rf"(?:{DEGREES.pattern})\s*(?:(?:°|º|deg\.?)?\s*[CС]\b|℃)"  # in Cyrillic letters too
)
"""Temperatures that conductors' insulation is rated for in °C (UL 486A-486B names 60, 75 and 90)."""

_WARMTH = re.compile(r"\d{2,3}\s*(?:[°º]\s*[CС]\b|℃)")
"""Any temperature in °C: of the air at which values hold, or one that no standard names."""

_LENGTH = re.compile(r"\d{1,2}(?:[.,]\d)?(?:\s*(?:-|–|\.\.\.|…)\s*\d{1,2})?\s*mm(?!²|\w)")
"""A length that a conductor is stripped to, in mm, read beside a word for preparing it alone."""

_KNOWN: tuple[Kind, ...] = ("statement", "handling", "tightened", "clamp", "family")
_TIES = frozenset({"only", "for", "and", "or", "with", "otherwise", "per", "except"})
_HEADS = frozenset({"conductor", "terminal", "torque", "material", "stranding", "ferrule"})


def unread_of(text: str) -> str:
    """Return the words of a text that are not known; a unit without a figure says nothing."""
    units = (unit for unit in find_units(text) if not ends_in_figure(text[: unit.start]))
    found = [*spans_of(known_words(text)), *spans_of(units), *(match.span() for match in TEMPERATURE.finditer(text))]
    if TEMPERATURE.search(text) and not gives_figure(text):  # "at least 75 °C"
        found += spans_of(match for match in spot("connective", text) if match.concept == "min")
    if any(match.concept == "prepared" for match in spot("statement", text)):
        found += [match.span() for match in _LENGTH.finditer(text)]
    covered = [(at, at + 1) for at in conductor_words(text).covered]
    left = cut_out(text, [*found, *covered])
    return " ".join(word for word in left.split() if any(map(str.isalnum, word)))


def gives_figure(text: str) -> bool:
    """Tell whether a text gives a torque or a size."""
    return any(unit.kind in ("torque", "area", "gauge") for unit in find_units(text))


def conductor_words(text: str) -> ConductorWords:
    """Return the words for conductors of a running text, in which "al" is a preposition and "Al" a metal."""
    return read_conductor_words(re.sub(r"\bal\b", "to", text))


def known_words(text: str) -> Iterator[Match]:
    """Yield the words that say nothing beyond that something is stated, and of what."""
    for kind in _KNOWN:
        yield from spot(kind, text)
    yield from (match for match in spot("connective", text) if match.concept in _TIES)
    yield from (match for match in spot("heading", text) if match.concept.split("_")[0] in _HEADS)
    yield from (match for match in spot("torque_kind", text) if match.concept == "tightening")


def spans_of(found: Iterable[Match | UnitMatch]) -> Iterator[tuple[int, int]]:
    """Yield where words stand in their text."""
    return ((one.start, one.end) for one in found)


def names_conductors(text: str) -> bool:
    """Tell whether a text names conductors, in compounds too: "kuparijohtimet"."""
    return any(match.concept == "conductor" for match in (*spot("heading", text), *spot("instruction", text)))


def denies(text: str) -> bool:
    """Tell whether a text denies something; "not" is part of "unless stated otherwise" in many languages."""
    ties = ("otherwise", "min", "max")  # Portuguese "no mínimo", "not less than"
    phrases = (*spot("handling", text), *(match for match in spot("connective", text) if match.concept in ties))
    denials = (match for match in spot("statement", text) if match.concept == "not")
    return any(not any(one.start <= no.start and no.end <= one.end for one in phrases) for no in denials)


def is_conditional(text: str) -> bool:
    """Tell whether a part that was not read may say when the others hold, or for which figure."""
    said = without_warmth(text)
    uses = [match for match in spot("statement", said) if match.concept == "apply"]  # "使用" is no "用"
    ties = (tie for tie in spot("connective", said) if not any(use.start < tie.end <= use.end for use in uses))
    return any(tie.concept in ("for", "except", "otherwise") for tie in ties) or gives_figure(text)


def without_warmth(text: str) -> str:
    """Return a text without its temperatures and what ties them to it: "at 20 °C", "for 70 °C"."""
    for warmth in reversed(list(_WARMTH.finditer(text))):
        before = text[: warmth.start()].rstrip()
        tie = next((tie for tie in spot("connective", before) if tie.end == len(before)), None)
        text = text[: tie.start if tie else warmth.start()] + text[warmth.end() :]
    return text
