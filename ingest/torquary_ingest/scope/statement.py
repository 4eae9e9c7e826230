"""Statements for all: what a printed line says of the conductors and screws of every figure it speaks for.

"Use copper conductors only", "all figures for solid or stranded conductors, 75 °C". A line counts only where it is
read whole: every word of it is known, so that no condition is passed over. A sentence about copper conductors counts
otherwise too, where nothing in it may be a condition: it only narrows an answer.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from torquary_ingest.figures.conductor_words import ConductorWords, read_conductor_words
from torquary_ingest.scope.exceptions import excepted_by, named_alone, part_exception, roles_left_open
from torquary_ingest.scope.of_one_kind import is_of_one_kind
from torquary_ingest.scope.unread import (
    DEGREES,
    TEMPERATURE,
    conductor_words,
    denies,
    is_conditional,
    names_conductors,
    unread_of,
    without_warmth,
)
from torquary_schema.roles import spot_roles
from torquary_schema.values import Conductor
from torquary_schema.words import spot

_SENTENCE = re.compile(
    r"(?<=[^\s.][.!;])\s+(?=[A-ZÀ-ÞΑ-ΩА-Я])|(?<=[mAV²][.])\s+(?=\d)|(?<=[。；！])|\s*\n\s*"  # "35 mm. 800 V, copper."
)
_PART = re.compile(r"\s*[,;:|()（）：，、；]\s*|\s+[–—·•-]\s+")
_ONLY = {"copper": "copper_only", "solid": "solid_only", "stranded": "stranded_only", "flexible": "flexible_only"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement:
    """What a text says for all. Kinds are vocabulary keys; `ferrule` None: it says nothing of ferrules.

    `limits`: it allows this alone ("only", a temperature); `explicit`: it says so in words ("use", "for", "only");
    `applied`: it is a sentence that says so ("the terminals are made for …"), no heading ("for …"); `named`: it names
    conductors or their ends; `for_all`: it says "all", or "unless otherwise stated". `spared` are the roles of
    terminals that it excepts, `spared_types` the types of devices, folded, `spared_clamps` the clamps of which its text
    says something else, `clamps` those that it speaks of alone. `own` are the statements of its text for some
    terminals alone, by `names` (folded) and `roles`.
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
    spared_types: frozenset[str] = frozenset()
    spared_clamps: frozenset[str] = frozenset()
    clamps: frozenset[str] = frozenset()
    own: tuple[Statement, ...] = ()
    names: frozenset[str] = frozenset()
    roles: frozenset[str] = frozenset()
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
    if _is_rest(clauses[0]):
        del clauses[0]
    read = {clause: _read_clause(clause, over=over) for clause in clauses}
    found = [replace(one, clamps=_clamps_in(clause)) for clause, one in read.items() if one is not None]
    own = () if over else tuple(_of_named(clauses))
    excepted = excepted_by(clause for clause, one in read.items() if one is None)
    if excepted.all or not (found or own):
        return None
    apart = frozenset(clamp for clause, one in read.items() if one is None for clamp in _clamps_apart(clause))
    joined = _join(found)
    return replace(
        joined,
        text=" ".join(text.split()),
        own=own,
        spared=joined.spared | excepted.roles | roles_left_open(clauses),
        spared_types=excepted.types,
        spared_clamps=apart,
    )


def _is_rest(clause: str) -> bool:
    """Tell whether a clause is the end of a sentence that begins elsewhere: what it allows for is not known here.

    One that allows this only forbids the rest whatever it is about.
    """
    ends = clause[:1].islower() and clause.rstrip().endswith(".") and len(clause.split()) > 1
    return ends and not any(match.concept == "only" for match in spot("connective", clause))


def _of_named(clauses: Iterable[str]) -> Iterator[Statement]:
    """Yield what clauses say of terminals that they name alone: "Main lugs and neutral lug: copper or aluminium"."""
    for clause in clauses:
        said, names, roles = named_alone(clause)
        one = _read_clause(said, over=False) if names else None
        if one is not None:
            yield replace(one, text=" ".join(clause.split()), names=names, roles=roles)


def split_sentences(text: str) -> list[str]:
    """Return the sentences and lines of a text."""
    return [sentence for sentence in _SENTENCE.split(text) if sentence.strip()]


def _clamps_apart(clause: str) -> Iterator[str]:
    """Yield the kinds of clamp for which alone a clause says something: "For stud terminals the size is that of …"."""
    if any(match.concept == "for" and match.start == 0 for match in spot("connective", clause)):
        yield from (match.concept for match in spot("clamp", clause))


def _clamps_in(clause: str) -> frozenset[str]:
    """Return the kinds of clamp that a clause names; "screw terminals" are any, and a lug ends a conductor."""
    return frozenset(match.concept for match in spot("clamp", clause)) - {"screw", "lug"}


def _may_state(text: str) -> bool:
    return read_conductor_words(text).known or bool(spot("handling", text)) or bool(TEMPERATURE.search(text))


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
        clamps=frozenset(clamp for one in found for clamp in one.clamps if all(other.clamps for other in found)),
    )


def _read_clause(clause: str, *, over: bool) -> Statement | None:
    if _forbids_aluminium(clause):
        return Statement(text="", conditions=("no_aluminium",), limits=True, explicit=True)
    main, spared = part_exception(clause)
    if main is None or (not over and spot_roles(main)):
        return None
    whole = _read_whole(main)
    if whole is not None:
        return replace(whole, spared=spared)
    if denies(main):
        return None
    return _read_parts(main, spared) or _copper_of_sentence(main)


def _read_parts(text: str, spared: frozenset[str]) -> Statement | None:
    """Return what the parts of a clause state that are read whole, where no other part may limit them."""
    parts = {part: _read_whole(part) for part in _PART.split(text) if part.strip()}
    found = [one for one in parts.values() if one is not None]
    unread = [part for part, one in parts.items() if one is None]
    if not found or any(map(is_conditional, unread)):
        return None
    joined = _join(found)
    if any(words.stranding or words.ferrule is not None for words in map(read_conductor_words, unread)):
        joined = replace(joined, stranding=(), ferrule=None)  # "stranded; flexible with ferrule one size less"
    applied = joined.applied or _is_sentence_of_metal(text, joined, named=joined.named)
    return replace(joined, spared=spared, applied=applied)


def _read_whole(text: str) -> Statement | None:
    """Return what a text states if all its words are known, and it denies nothing."""
    words = conductor_words(text)
    if denies(text) or unread_of(text):
        return None
    degrees = [degree for match in TEMPERATURE.finditer(text) for degree in DEGREES.findall(match[0])]
    return _stated(text, words, degrees)


def _stated(text: str, words: ConductorWords, degrees: list[str]) -> Statement | None:
    conditions = [match.concept for match in spot("handling", text)]
    ties = {match.concept for match in spot("connective", text)}
    only = "only" in ties
    conductors = names_conductors(text)
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
        applied="apply" in said or _is_sentence_of_metal(text, words, named=conductors),
        named=conductors or ("with" in ties and words.ferrule is True),
        for_all="all" in said or "otherwise" in ties,
    )


def _is_sentence_of_metal(text: str, words: ConductorWords | Statement, *, named: bool) -> bool:
    """Tell whether a text that ends in a full stop names conductors and their metal alone: "Copper conductors."

    A heading over the figures of one kind has no full stop.
    """
    stopped = text.rstrip().endswith((".", "。"))
    return stopped and named and bool(words.material) and not words.stranding and words.ferrule is None


def _conditions_of(words: ConductorWords) -> Iterator[str]:
    """Yield the conditions of words beside "only"."""
    for kinds in (words.material, words.stranding):
        if len(kinds) == 1 and kinds[0] in _ONLY:
            yield _ONLY[kinds[0]]
    if words.ferrule is not None:
        yield "with_ferrule_only" if words.ferrule else "without_ferrule_only"


def _forbids_aluminium(text: str) -> bool:
    """Tell whether a text read whole says that aluminium is not for here: "no aluminium", "not for aluminium"."""
    words = conductor_words(text)
    refused = denies(text) or any(match.concept == "except" for match in spot("connective", text))
    alone = words.material == ("aluminium",) and not words.stranding and words.ferrule is None
    return refused and alone and not unread_of(text)


def _copper_of_sentence(text: str) -> Statement | None:
    """Return what a sentence about copper conductors says of the metal, though not all of its words are known.

    Copper alone may be taken so: to take it too far only narrows an answer. A line with a number or a figure may
    speak for that alone.
    """
    words = conductor_words(text)
    numbered = any(map(str.isdigit, without_warmth(TEMPERATURE.sub("", text)))) or is_conditional(text)
    only = any(match.concept == "only" for match in spot("connective", text))
    if words.material != ("copper",) or numbered or not (only or names_conductors(text)):
        return None
    told = ("copper_only",) if only else ()
    return Statement(text=text, material=words.material, conditions=told, limits=only, explicit=only, applied=True)


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
