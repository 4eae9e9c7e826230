"""Statements for all: what a printed line says of the conductors and screws of every figure it speaks for.

"Use copper conductors only", "all figures for solid or stranded conductors, 75 °C". A line counts only where it is
read whole: every word of it is known, so that no condition is passed over.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from torquary_ingest.figures.conductor_words import ConductorWords, read_conductor_words
from torquary_ingest.headings.sense import cut_out
from torquary_ingest.lexis.figures import ends_in_figure
from torquary_ingest.scope.of_one_kind import is_of_one_kind
from torquary_schema.roles import spot_roles
from torquary_schema.units import UnitMatch, find_units
from torquary_schema.values import Conductor
from torquary_schema.words import Kind, Match, spot

_SENTENCE = re.compile(r"(?<=[^\s.][.!;])\s+(?=[A-ZÀ-ÞΑ-ΩА-Я])|(?<=[。；！])|\s*\n\s*")
_PART = re.compile(r"\s*[,:|()（）：，、]\s*|\s+[–—·•-]\s+")
_DEGREES = re.compile(r"60|75|90|105")
_TEMPERATURE = re.compile(
    rf"(?:(?:{_DEGREES.pattern})\s*(?:(?:°|º|deg\.?)\s*[CС]?)?\s*(?:/|or|and|–|-)\s*)*"
    rf"(?:{_DEGREES.pattern})\s*(?:(?:°|º|deg\.?)?\s*[CС]\b|℃)"  # in Cyrillic letters too
)
"""Temperatures that conductors' insulation is rated for in °C (UL 486A-486B names 60, 75 and 90)."""

_LENGTH = re.compile(r"\d{1,2}(?:[.,]\d)?(?:\s*(?:-|–|\.\.\.|…)\s*\d{1,2})?\s*mm(?!²|\w)")
"""A length that a conductor is stripped to, in mm, read beside a word for preparing it alone."""

_LONGEST = 12
"""Words at most of a line that limits the metal though some of its words are not known."""

_KNOWN: tuple[Kind, ...] = ("statement", "handling", "tightened", "family")
_TIES = frozenset({"only", "for", "and", "or", "with", "otherwise", "per", "except"})
_HEADS = frozenset({"conductor", "terminal", "torque", "material", "stranding", "ferrule"})
_ONLY = {"copper": "copper_only", "solid": "solid_only", "stranded": "stranded_only", "flexible": "flexible_only"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement:
    """What a text says for all. Kinds are vocabulary keys; `ferrule` None: it says nothing of ferrules.

    `limits`: it allows this alone ("only", a temperature); `explicit`: it says so in words ("use", "for", "only");
    `applied`: it is a sentence that says so ("the terminals are made for …"), no heading ("for …"); `named`: it names
    conductors or their ends; `for_all`: it says "all", or "unless otherwise stated". `spared` are the roles of
    terminals that it excepts, `spared_clamps` the clamps of which its text says something else.
    """

    text: str
    material: tuple[str, ...] = ()
    stranding: tuple[str, ...] = ()
    ferrule: bool | None = None
    conditions: tuple[str, ...] = ()
    limits: bool = False
    explicit: bool = False
    applied: bool = False
    named: bool = False
    for_all: bool = False
    spared: frozenset[str] = frozenset()
    spared_clamps: frozenset[str] = frozenset()
    page: int | None = None

    @property
    def says_kind(self) -> bool:
        """Tell whether it says how conductors are built or end, which may differ from table to table."""
        return bool(self.stranding) or self.ferrule is not None


@lru_cache(maxsize=4096)
def read_statement(text: str, *, over: bool = False) -> Statement | None:
    """Return what a text states for all; None if it states nothing, or is not read whole.

    `over`: the text stands over the figures it speaks for, and may name their terminals beside it.
    """
    if not _may_state(text):
        return None
    clauses = split_sentences(text)
    read = {clause: _read_clause(clause, over=over) for clause in clauses}
    found = [one for one in read.values() if one is not None]
    apart = frozenset(clamp for clause, one in read.items() if one is None for clamp in _clamps_apart(clause))
    return replace(_join(found), text=" ".join(text.split()), spared_clamps=apart) if found else None


def split_sentences(text: str) -> list[str]:
    """Return the sentences and lines of a text."""
    return [sentence for sentence in _SENTENCE.split(text) if sentence.strip()]


def _clamps_apart(clause: str) -> Iterator[str]:
    """Yield the kinds of clamp for which alone a clause says something: "For stud terminals the size is that of …"."""
    if any(match.concept == "for" and match.start == 0 for match in spot("connective", clause)):
        yield from (match.concept for match in spot("clamp", clause))


def _may_state(text: str) -> bool:
    return read_conductor_words(text).known or bool(spot("handling", text)) or bool(_TEMPERATURE.search(text))


def _join(statements: Iterable[Statement]) -> Statement:
    """Return several statements of one text as one; a kind that two of them give differently is left out."""
    found = tuple(statements)
    materials = {one.material for one in found if one.material}
    strandings = {one.stranding for one in found if one.stranding}
    ferrules = {one.ferrule for one in found if one.ferrule is not None}
    return Statement(
        text="",
        material=materials.pop() if len(materials) == 1 else (),
        stranding=strandings.pop() if len(strandings) == 1 else (),
        ferrule=ferrules.pop() if len(ferrules) == 1 else None,
        conditions=tuple(dict.fromkeys(condition for one in found for condition in one.conditions)),
        limits=any(one.limits for one in found),
        explicit=any(one.explicit for one in found),
        applied=any(one.applied for one in found),
        named=any(one.named for one in found),
        for_all=any(one.for_all for one in found),
        spared=frozenset(role for one in found for role in one.spared),
    )


def _read_clause(clause: str, *, over: bool) -> Statement | None:
    if _forbids_aluminium(clause):
        return Statement(text="", conditions=("no_aluminium",), limits=True, explicit=True)
    main, spared = _part_exception(clause)
    if main is None or (not over and spot_roles(main)):
        return None
    whole = _read_whole(main)
    if whole is not None:
        return replace(whole, spared=spared)
    if _denies(main):
        return None
    parts = {part: _read_whole(part) for part in _PART.split(main) if part.strip()}
    found = [one for one in parts.values() if one is not None]
    if found and not any(_is_conditional(part) for part, one in parts.items() if one is None):
        return replace(_join(found), spared=spared)
    return _limit_of_metal(main)


def _is_conditional(text: str) -> bool:
    """Tell whether a part that was not read may say when the others hold, or for which figure."""
    ties = any(match.concept in ("for", "except", "otherwise") for match in spot("connective", text))
    return ties or _gives_figure(text)


def _gives_figure(text: str) -> bool:
    return any(unit.kind in ("torque", "area", "gauge") for unit in find_units(text))


def _part_exception(clause: str) -> tuple[str | None, frozenset[str]]:
    """Return a clause without its exception, and the roles excepted; None for the clause if it excepts other things."""
    found = next((match for match in spot("connective", clause) if match.concept == "except"), None)
    if found is None:
        return clause, frozenset()
    main, excepted = clause[: found.start], clause[found.end :]
    if not main.strip():
        return None, frozenset()
    roles = spot_roles(excepted)
    rest = cut_out(excepted, [*_spans(roles), *_spans(_known_words(excepted))])
    if not roles or any(map(str.isalnum, rest)) or read_conductor_words(excepted).known:
        return None, frozenset()
    return main, frozenset(match.concept for match in roles)


def _read_whole(text: str) -> Statement | None:
    """Return what a text states if all its words are known, and it denies nothing."""
    words = _conductor_words(text)
    if _denies(text) or unread_of(text):
        return None
    degrees = [degree for match in _TEMPERATURE.finditer(text) for degree in _DEGREES.findall(match[0])]
    return _stated(text, words, degrees)


def unread_of(text: str) -> str:
    """Return the words of a text that are not known; a unit without a figure says nothing."""
    units = (unit for unit in find_units(text) if not ends_in_figure(text[: unit.start]))
    spans = [*_spans(_known_words(text)), *_spans(units), *(match.span() for match in _TEMPERATURE.finditer(text))]
    if _TEMPERATURE.search(text) and not _gives_figure(text):  # "at least 75 °C"
        spans += _spans(match for match in spot("connective", text) if match.concept == "min")
    if any(match.concept == "prepared" for match in spot("statement", text)):
        spans += [match.span() for match in _LENGTH.finditer(text)]
    covered = [(at, at + 1) for at in _conductor_words(text).covered]
    left = cut_out(text, [*spans, *covered])
    return " ".join(word for word in left.split() if any(map(str.isalnum, word)))


def _stated(text: str, words: ConductorWords, degrees: list[str]) -> Statement | None:
    conditions = [match.concept for match in spot("handling", text)]
    ties = {match.concept for match in spot("connective", text)}
    only = "only" in ties
    things = (*spot("heading", text), *spot("instruction", text))  # "kuparijohtimet": in compounds too
    conductors = any(match.concept == "conductor" for match in things)
    if degrees and not (words.material or conductors):
        degrees = []  # a temperature of something else
    told = [*(f"conductor_{degree}_c" for degree in degrees), *conditions, *(_conditions_of(words) if only else ())]
    later = "retighten" in conditions and words.known  # of one kind's terminals, months after: not of these figures
    if not (words.known or told) or later or is_of_one_kind(text):
        return None
    said = {match.concept for match in spot("statement", text)}
    return Statement(
        text=text,
        material=words.material,
        stranding=words.stranding,
        ferrule=words.ferrule,
        conditions=tuple(dict.fromkeys(told)),
        limits=only or bool(degrees) or bool(conditions),
        explicit=only or bool(ties & {"for", "otherwise"}) or bool(said & {"all", "apply"}) or bool(degrees),
        applied="apply" in said or _is_sentence_of_metal(text, words, conductors=conductors),
        named=conductors or ("with" in ties and words.ferrule is True),
        for_all="all" in said or "otherwise" in ties,
    )


def _is_sentence_of_metal(text: str, words: ConductorWords, *, conductors: bool) -> bool:
    """Tell whether a text that ends in a full stop names conductors and their metal alone: "Copper conductors."

    A heading over the figures of one kind has no full stop.
    """
    stopped = text.rstrip().endswith((".", "。"))
    return stopped and conductors and bool(words.material) and not words.stranding and words.ferrule is None


def _conditions_of(words: ConductorWords) -> Iterator[str]:
    """Yield the conditions of words beside "only"."""
    for kinds in (words.material, words.stranding):
        if len(kinds) == 1 and kinds[0] in _ONLY:
            yield _ONLY[kinds[0]]
    if words.ferrule is not None:
        yield "with_ferrule_only" if words.ferrule else "without_ferrule_only"


def _forbids_aluminium(text: str) -> bool:
    """Tell whether a text read whole says that aluminium is not for here: "no aluminium", "not for aluminium"."""
    words = _conductor_words(text)
    refused = _denies(text) or any(match.concept == "except" for match in spot("connective", text))
    alone = words.material == ("aluminium",) and not words.stranding and words.ferrule is None
    return refused and alone and not unread_of(text)


def _limit_of_metal(text: str) -> Statement | None:
    """Return the one metal that a short line allows alone, though not all of its words are known.

    A line with a number ("retorque aluminum conductors after 24 hours only") may limit that.
    """
    words = _conductor_words(text)
    numbered = any(map(str.isdigit, _TEMPERATURE.sub("", text)))
    ties = {match.concept for match in spot("connective", text)}
    plain = len(text.split()) <= _LONGEST and not text[:1].isdigit() and not text.startswith(("*", "("))
    alone = len(words.material) == 1 and not words.stranding and not _gives_figure(text) and plain
    if not alone or numbered or "only" not in ties or _is_conditional(text):
        return None
    only = tuple(_conditions_of(words))
    return Statement(text=text, material=words.material, conditions=only, limits=True, explicit=True)


def _denies(text: str) -> bool:
    """Tell whether a text denies something; "not" is part of "unless stated otherwise" in many languages."""
    ties = ("otherwise", "min", "max")  # Portuguese "no mínimo", "not less than"
    phrases = (*spot("handling", text), *(match for match in spot("connective", text) if match.concept in ties))
    denials = (match for match in spot("statement", text) if match.concept == "not")
    return any(not any(one.start <= no.start and no.end <= one.end for one in phrases) for no in denials)


def _conductor_words(text: str) -> ConductorWords:
    """Return the words for conductors of a running text, in which "al" is a preposition and "Al" a metal."""
    return read_conductor_words(re.sub(r"\bal\b", "to", text))


def _known_words(text: str) -> Iterator[Match]:
    """Yield the words that say nothing beyond that something is stated, and of what."""
    for kind in _KNOWN:
        yield from spot(kind, text)
    yield from (match for match in spot("connective", text) if match.concept in _TIES)
    yield from (match for match in spot("heading", text) if match.concept.split("_")[0] in _HEADS)
    yield from (match for match in spot("torque_kind", text) if match.concept == "tightening")


def _spans(found: Iterable[Match | UnitMatch]) -> Iterator[tuple[int, int]]:
    return ((one.start, one.end) for one in found)


def fill_kinds(conductor: Conductor, statement: Statement) -> Conductor:
    """Return the conductor with the kinds of a statement where it is silent."""
    return replace(
        conductor,
        material=conductor.material or statement.material,
        stranding=conductor.stranding or statement.stranding,
        ferrule=conductor.ferrule if conductor.ferrule is not None else statement.ferrule,
    )


def agrees(statement: Statement, conductor: Conductor) -> bool:
    """Tell whether a statement contradicts nothing that is said of a conductor: it may allow more."""
    pairs = ((statement.material, conductor.material), (statement.stranding, conductor.stranding))
    wider = all(not said or not own or set(own) <= set(said) for said, own in pairs)
    return wider and (statement.ferrule is None or conductor.ferrule in (None, statement.ferrule))
