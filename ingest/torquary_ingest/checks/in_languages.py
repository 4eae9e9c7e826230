"""Parts of a leaflet in other languages say the same once more: they confirm a setting, or contradict it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from torquary_ingest.checks.contradiction import are_of_one_type, contradicted, differ, may_be_one_device
from torquary_ingest.checks.sizes import figure_of
from torquary_ingest.skeleton.language_parts import LanguagePart, part_of
from torquary_schema.findings import holds
from torquary_schema.values import Conductor, Finding, Setting

_MARKING = re.compile(r"(?<!\w)(?:[A-Z+−-]?\d?/?[A-Z]{0,3}\d{1,3}|[A-Z]{1,3}[+-]?)(?!\w)")
"""What marks a terminal in every language: numbers, codes and letters ("15-16-18", "DV2", "N")."""
_LEAST_ALIKE = 2
"""Settings of two parts that agree at least, for their order to tell which belong together (own choice)."""
_MANY_WIRES = {"stranded", "flexible"}
"""Kinds of conductors that translations of one leaflet do not keep apart (common practice)."""
_OF_READING = ("not_witnessed", "terminal_missing", "quantity_missing", "screw_missing")
"""What holds a setting for want of proof alone: the same print in another language may prove it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pair:
    """Two settings, by their positions, that say the same thing of one terminal in two languages."""

    one: int
    other: int


def check_languages(
    settings: Sequence[Setting], parts: Sequence[LanguagePart]
) -> Iterator[tuple[int, Finding]]:
    """Hold each of two settings that stand for each other in two languages and whose torques differ."""
    for pair in _pairs(settings, parts):
        one, other = settings[pair.one], settings[pair.other]
        if differ(one, other):
            yield pair.one, contradicted(one, other)
            yield pair.other, contradicted(other, one)


def join_languages(settings: Sequence[Setting], parts: Sequence[LanguagePart]) -> tuple[Setting, ...]:
    """Return the settings, those that several languages print alike once, with a word of where they stand again.

    The first released one stays, else the first; one that is held for what its own text says stays too.
    """
    found: dict[int, Setting] = dict(enumerate(settings))
    for group in _groups(settings, parts):
        kept = min(group, key=lambda at: (settings[at].state != "released", group.index(at)))
        for again in (at for at in group if at != kept and _may_go(settings[at], settings[kept])):
            found[kept] = _confirmed(found[kept], settings[again], parts)
            del found[again]
    return tuple(found.values())


def _groups(settings: Sequence[Setting], parts: Sequence[LanguagePart]) -> list[list[int]]:
    """Return the positions of settings that several languages print alike, in the order of their parts."""
    groups: list[list[int]] = []
    for pair in _pairs(settings, parts):
        if not differ(settings[pair.one], settings[pair.other]):
            joined = [group for group in groups if pair.one in group or pair.other in group]
            groups = [group for group in groups if group not in joined]
            groups.append(list(dict.fromkeys([*(at for group in joined for at in group), pair.one, pair.other])))
    order = {part: number for number, part in enumerate(parts)}
    return [sorted(group, key=lambda at: (_number_of(settings[at], order), at)) for group in groups]


def _number_of(setting: Setting, order: dict[LanguagePart, int]) -> int:
    part = part_of(tuple(order), setting.place)
    return order[part] if part is not None else len(order)


def _may_go(dropped: Setting, kept: Setting) -> bool:
    codes = {finding.code for finding in dropped.findings if holds(finding.code)}
    return kept.state != "released" or codes <= set(_OF_READING)


def _confirmed(setting: Setting, again: Setting, parts: Sequence[LanguagePart]) -> Setting:
    part = part_of(parts, again.place)
    language = part.language if part is not None else ""
    torque = again.torque.printed if again.torque else ""
    name = again.terminal.printed or again.place.text
    finding = Finding(
        code="said_again",
        message=f"page {again.place.page} says the same in another language ({language}): {name!r} {torque}",
        place=again.place,
        printed=again.place.text,
    )
    return replace(setting, findings=(*setting.findings, finding))


def _pairs(settings: Sequence[Setting], parts: Sequence[LanguagePart]) -> list[_Pair]:
    """Return the settings of two parts that stand for each other: by their order where it agrees, else by markings."""
    by_part: dict[LanguagePart, list[int]] = {}
    for at, setting in enumerate(settings):
        part = part_of(parts, setting.place) if parts else None
        if part is not None and setting.torque is not None:
            by_part.setdefault(part, []).append(at)
    groups = list(by_part.items())
    return [
        pair
        for number, (part, one) in enumerate(groups)
        for other_part, other in groups[number + 1 :]
        if part.language != other_part.language
        for pair in _between(settings, one, other)
    ]


def _between(settings: Sequence[Setting], one: Sequence[int], other: Sequence[int]) -> Iterator[_Pair]:
    if _run_alike(settings, one, other):
        yield from (_Pair(one=a, other=b) for a, b in zip(one, other, strict=True))
        return
    for a in one:
        meant = [b for b in other if _says_same(settings[a], settings[b])]
        if len(meant) == 1:
            yield _Pair(one=a, other=meant[0])


def _run_alike(settings: Sequence[Setting], one: Sequence[int], other: Sequence[int]) -> bool:
    """Tell whether two parts give settings for the same conductors in the same order, most with the same torque."""
    if len(one) != len(other):
        return False
    pairs = [(settings[a], settings[b]) for a, b in zip(one, other, strict=True)]
    if not all(_fit(a, b) for a, b in pairs):
        return False
    agreed = sum(not differ(a, b) for a, b in pairs)
    return agreed >= _LEAST_ALIKE and 2 * agreed > len(pairs)


def _fit(one: Setting, other: Setting) -> bool:
    """Tell whether nothing printed keeps two settings of the same place in their parts apart."""
    marks = _marks_of(one), _marks_of(other)
    apart = all(marks) and marks[0] != marks[1]
    same = may_be_one_device(one.device, other.device) or are_of_one_type(one.device, other.device)
    return _same_size(one.conductor, other.conductor) and same and not apart


def _says_same(one: Setting, other: Setting) -> bool:
    """Tell whether two settings are for the same markings and conductor, or markings being none for the same roles."""
    marks = _marks_of(one), _marks_of(other)
    roles = one.terminal.roles, other.terminal.roles
    same = marks[0] == marks[1] if any(marks) else bool(roles[0]) and roles[0] == roles[1]
    return same and one.purpose == other.purpose and _fit(one, other) and figure_of(one) != (None, None, None)


def _marks_of(setting: Setting) -> frozenset[str]:
    return frozenset(_MARKING.findall(setting.terminal.printed))


def _same_size(one: Conductor, other: Conductor) -> bool:
    sizes = [(c.min_mm2, c.max_mm2, c.min_awg, c.max_awg) for c in (one, other)]
    kinds = [(c.material, c.ferrule) for c in (one, other)]
    alike = all(a == b or not a or not b for a, b in zip(*kinds, strict=True))
    return sizes[0] == sizes[1] and alike and _same_stranding(one.stranding, other.stranding)


def _same_stranding(one: Sequence[str], other: Sequence[str]) -> bool:
    """Tell whether two kinds may be one: what one language calls "stranded" another calls "souple", flexible."""
    return not one or not other or set(one) == set(other) or set(one) | set(other) <= _MANY_WIRES
