"""Printed spellings of units and what they mean.

The spellings are in `units.json`, with what each unit is worth. Nothing here parses a number;
`find_units` says where in a text a unit stands. Case decides between m (milli) and M (mega) and between
N and n, so the newton spellings are compared as printed; pound, ounce and kilogram spellings in any case.
A spelling that can mean more than one thing is found too, with `certain` False.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from typing import Any, Literal

from torquary_schema.glyphs import fold_glyphs

UnitKind = Literal["torque", "area", "gauge", "length", "current", "force"]

_GAP = "[ \u2009\n]*"
_END = r"(?![0-9A-Za-z_\u00c0-\u00d6\u00d8-\u00f6\u00f8-\u024f\u0370-\u052f²³¹])"  # Han, kana may follow
_START = r"(?<![A-Za-zÀ-ÖØ-öø-ÿА-яµ])"
_PREPOSITION = re.compile(r"in\s", re.IGNORECASE)
_CJK = re.compile(r"[\u3040-\u30ff\u3400-\u9fff\uac00-\ud7ff]")


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitMatch:
    """A unit found in a text; `start` and `end` are offsets in the text as given.

    `name` is canonical ("newton_metre", "mm2", "awg"), or "" where the spelling does not say which unit is
    meant (a bare "lbs", "nm"). `certain` is False for every spelling that a person has to confirm.
    """

    name: str
    kind: UnitKind
    start: int
    end: int
    printed: str
    certain: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rule:
    name: str
    kind: UnitKind
    certain: bool
    pattern: re.Pattern[str]
    behind_number: bool = False


@cache
def unit_tables() -> dict[str, Any]:
    """Return the content of `units.json`."""
    loaded: dict[str, Any] = json.loads(Path(__file__).with_name("units.json").read_text("utf-8"))
    return loaded


def _spelling(word: str) -> str:
    """Return a pattern for a literal spelling: blanks may vary, an abbreviation may carry a full stop."""
    pattern = re.escape(word).replace("\\ ", _GAP)
    return pattern + (r"(?:\.(?!\.))?" if len(word) <= 4 and word.isalpha() else "")


def _end_of(word: str) -> str:
    return "" if _CJK.match(word[-1]) or not word[-1].isalnum() else _END


def _product(first: list[str], second: list[str], *, stops: bool) -> str:
    joiners = re.escape(unit_tables()["joiners"])
    spell = _spelling if stops else re.escape
    left = "|".join(spell(w) for w in sorted(first, key=len, reverse=True))
    right = "|".join(spell(w) + _end_of(w) for w in sorted(second, key=len, reverse=True))
    return f"(?:{left}){_GAP}(?:[{joiners}]{_GAP})?(?:{right})"


def _torque_rules() -> Iterator[_Rule]:
    groups: dict[str, list[str]] = unit_tables()["groups"]
    for name, entry in unit_tables()["torque"].items():
        strict = [_product(groups[a], groups[b], stops=False) for a, b in entry.get("products", ())]
        strict += [_product([a], [b], stops=False) for a, b in entry.get("exact_products", ())]
        strict += [re.escape(word) + _END for word in entry.get("exact", ())]
        loose = [_product(groups[a], groups[b], stops=True) for a, b in entry.get("loose", ())]
        loose += [_spelling(word) + _end_of(word) for word in entry.get("words", ())]
        if strict:
            yield _Rule(name=name, kind="torque", certain=True, pattern=_compile(strict))
        if loose:
            yield _Rule(name=name, kind="torque", certain=True, pattern=_compile(loose, re.IGNORECASE))


def _other_rules() -> Iterator[_Rule]:
    square = rf"(?:mm|мм)\.?(?:{_GAP}²|\^2|\*\*2|2(?![.,]\d)|{_GAP}2(?![.,/⁄]?\d|{_GAP}[x×*]))(?:{_END}|(?=AWG))"
    yield _Rule(name="mm2", kind="area", certain=True, pattern=_compile([square], re.IGNORECASE))
    for name, entry in unit_tables()["other"].items():
        for key in ("words", "behind_number"):
            words = sorted(entry.get(key, ()), key=len, reverse=True)
            if words:
                flags = re.IGNORECASE if key == "words" else 0
                pattern = _compile([re.escape(w).replace("\\ ", _GAP) + _end_of(w) for w in words], flags)
                yield _Rule(
                    name=name,
                    kind=entry["kind"],
                    certain=True,
                    pattern=pattern,
                    behind_number=key == "behind_number",
                )


def _doubtful_rules() -> Iterator[_Rule]:
    gap = "[ ·.•・⋅∙*-]?"
    for kind, entries in unit_tables()["doubtful"].items():
        for entry in entries:
            pattern = _compile([f"(?:{entry['pattern'].replace('{gap}', gap)}){_END}"])
            yield _Rule(name=entry["name"], kind=kind, certain=False, pattern=pattern)


def _compile(alternatives: list[str], flags: int = 0) -> re.Pattern[str]:
    return re.compile(_START + "(?:" + "|".join(alternatives) + ")", flags)


@cache
def _rules() -> tuple[_Rule, ...]:
    return (*_torque_rules(), *_other_rules(), *_doubtful_rules())


def _stands_behind_number(text: str, start: int, end: int) -> bool:
    before = text[:start].rstrip(" \u2009\n[(")
    alone = not text[:start].strip(" \u2009\n[(") and not text[end:].strip(" \u2009\n])")
    return alone or (bool(before) and (before[-1].isdecimal() or before[-1] in "½¼¾"))


_Candidate = tuple[int, int, int, _Rule]


def _case_is_plain(name: str, printed: str) -> bool:
    """Tell whether the case of a kilogram spelling leaves no other prefix open ("kgf·Mm", "kgf·M")."""
    if not name.startswith(("kilogram", "gram")):
        return True
    return printed == printed.upper() or printed[1:] == printed[1:].lower()


def _candidates(text: str) -> Iterator[_Candidate]:
    for order, rule in enumerate(_rules()):
        match = rule.pattern.search(text)
        while match:
            if not rule.behind_number or _stands_behind_number(text, match.start(), match.end()):
                yield match.start(), match.end(), order, rule
            match = rule.pattern.search(text, match.start() + 1)


def _without_preposition(text: str, found: list[_Candidate]) -> list[_Candidate]:
    """Drop "in lb" out of "torque in lb·ft": there the word leads to a unit that begins behind it."""
    return [
        one
        for one in found
        if not (
            _PREPOSITION.match(text, one[0])
            and any(one[0] < other[0] < one[1] < other[1] and other[3].kind == "torque" for other in found)
        )
    ]


@lru_cache(maxsize=8192)
def find_units(text: str) -> tuple[UnitMatch, ...]:
    """Return the units in the text from left to right, the longest spelling at each place.

    Offsets are those of the text as given, full-width and square signs included ("ｍｍ２", "m㎡").
    """
    folded = fold_glyphs(text)
    found: list[UnitMatch] = []
    reached = 0
    candidates = _without_preposition(folded.text, list(_candidates(folded.text)))
    ranked = sorted(candidates, key=lambda c: (c[0], -c[1], c[2]))
    for start, end, _, rule in ranked:
        if start < reached:
            continue
        reached = end
        begin, stop = folded.origins[start], folded.origins[end - 1] + 1
        found.append(
            UnitMatch(
                name=rule.name,
                kind=rule.kind,
                start=begin,
                end=stop,
                printed=text[begin:stop],
                certain=rule.certain and _case_is_plain(rule.name, text[begin:stop]),
            )
        )
    return tuple(found)
