"""What one printed text says as a heading: known words, units, limits, and what is left over."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from torquary_ingest.document import TaughtHeading
from torquary_ingest.headings.identifiers import with_capitals
from torquary_ingest.headings.tolerances import tolerance_spans
from torquary_ingest.lexis.figures import ends_in_figure
from torquary_schema.folding import script_of
from torquary_schema.torque_kinds import names_other_torque
from torquary_schema.units import UnitMatch, find_units
from torquary_schema.vocabulary import roles_of_markings
from torquary_schema.words import Kind, Match, fold, spot

# Words that only tie what is known to the rest of a heading: beside it, or at its ends, they are no part of a name.
_TIE = (
    r"(?:of|for|per|in|the|and|de|des|du|la|le|les|pour|der|die|das|für|je|von|del|della|dei|per|voor|van|unit|units)"
)
_GONE = "\x00"
"""Stands for what is known and taken out."""
_TIES = re.compile(
    rf"(?:(?<=^)|(?<={_GONE}))[\s,]*(?:{_TIE}(?!\w)\s*)+|(?:\s*(?<!\w){_TIE}|\s*[の的])+\s*(?=$|{_GONE})",
    re.IGNORECASE,
)
_EMPTY = re.compile(r"[(\[（［<]\s*[)\]）］>]")
_NUMBER = re.compile(r"\d")
_MARKING = re.compile(r"(?<!\w)[A-WYZ]\d(?![\d.,]*\d)")  # "R(L1), S(L2), T(L3)"
_HEADED = ("torque", "force", "area", "gauge")
_LIMITS = ("minimum", "maximum", "min", "max")
_PARTS = ("torque_part", "advised", "unit_system")
_FIGURE_BEHIND = re.compile(r"[\s.:]*\d")
_LETTERS = re.compile(r"[^\W\d_]{2,}|[^\W\d_](?=[^\W\d_])")
_PRICE_PER = re.compile(r"(?:[$£¥₠-⃏]|EUR|USD)\s*(?:/|per\b)", re.IGNORECASE)  # "€ / 100" heads prices
_OUTER = " \t\n.,:;()[]{}（）［］【】«»\"'*|/–—-_=→&+"

_SAID = frozenset({"torque", "conductor", "minimum", "maximum", "unit", "property", "value"})

# Kinds of words that name terminals and their parts.
_NAMES: tuple[Kind, ...] = ("role", "clamp", "purpose")
_QUALIFIERS: tuple[Kind, ...] = (*_NAMES, "stranding", "material", "ferrule")

# A connective that may stand in a cell of figures without making it a text.
_FIGURE_WORDS = {"range", "from", "max", "min", "or", "per", "approximately"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Sense:
    """A text taken as a heading.

    `fields` are heading concepts in printed order; `units` the units found; `rest` what neither is, as
    printed; `figure` tells that the text is nothing but numbers, signs and units; `taught` is what a layout
    profile says of it.
    """

    text: str
    fields: tuple[str, ...]
    units: tuple[UnitMatch, ...]
    minimum: bool
    maximum: bool
    false_friend: bool
    rest: str
    figure: bool
    taught: TaughtHeading | None = None

    def has(self, *fields: str) -> bool:
        """Tell whether any of the heading concepts is named."""
        return any(field in self.fields for field in fields)

    def unit(self, *kinds: str) -> str:
        """Return the printed units of these kinds once each, joined by a blank; "" if there is none."""
        return " ".join(dict.fromkeys(match.printed for match in self.units if match.kind in kinds))


def make_sense(text: str, taught: tuple[TaughtHeading, ...] = ()) -> Sense:
    """Return what the text says as a heading; a heading that a person explained means what they said."""
    sense = _make_sense(text)
    key = heading_key(text) if taught else ""
    if key and not sense.figure:
        for heading in taught:
            if heading_key(heading.printed) == key:
                return _as_taught(sense, heading, taught)
    return sense


def _as_taught(sense: Sense, heading: TaughtHeading, taught: tuple[TaughtHeading, ...]) -> Sense:
    """Add what a person said to what is printed; nothing printed is lost or changed by it."""
    if sense.fields and heading.field not in sense.fields:
        return sense
    return replace(
        sense,
        fields=(heading.field,),
        minimum=sense.minimum or heading.field.endswith("_min"),
        maximum=sense.maximum or heading.field.endswith("_max"),
        rest=_rest_of_taught(sense, heading, taught),
        taught=heading,
    )


def _rest_of_taught(sense: Sense, heading: TaughtHeading, taught: tuple[TaughtHeading, ...]) -> str:
    """Return the words of an explained heading that say more than what it heads.

    Of two headings that a person explained alike, the words tell which is which: all of them stay.
    """
    if any(other.field == heading.field and other.printed != heading.printed for other in taught):
        return sense.rest
    words = (match for kind in _QUALIFIERS for match in spot(kind, sense.text))
    spans = sorted({(match.start, match.end) for match in words if not _inside(match, sense.units)})
    named = [sense.text[start:end] for start, end in spans]
    return " ".join(dict.fromkeys([*named, *(w for w in sense.rest.split() if roles_of_markings(w.strip(_OUTER)))]))


@lru_cache(maxsize=20_000)
def heading_key(text: str) -> str:
    """Return the words of a heading by which it is known again: folded, without units and what ties them.

    "Mz. [N·m]" and "MZ in lb·in" are one heading. "" for a text that is nothing but units.
    """
    return fold(_left_over(text, [(unit.start, unit.end) for unit in find_units(text)]))


@lru_cache(maxsize=20_000)
def label_key(text: str) -> str:
    """Return a label folded, its limits kept: "width < 1.2 mm" and "width > 1.2 mm" are two cases."""
    return " ".join([fold(text), *(match.concept for match in spot("connective", text) if match.concept in _LIMITS)])


def names_part(text: str) -> bool:
    """Tell whether a text names a terminal, a part of one, or a kind of conductor; or numbers anything."""
    marked = roles_of_markings(text.strip(_OUTER))
    return bool(_NUMBER.search(text) or marked or any(spot(kind, text) for kind in _QUALIFIERS))


def heading_core(text: str) -> str:
    """Return the words of a heading by which it is known again, those for limits left out, folded."""
    limits = [m for m in spot("heading", text) if m.concept in ("minimum", "maximum")]
    limits += [m for m in spot("connective", text) if m.concept in ("min", "max")]
    return fold(_left_over(text, [*((u.start, u.end) for u in find_units(text)), *((m.start, m.end) for m in limits)]))


@lru_cache(maxsize=20_000)
def _make_sense(text: str) -> Sense:
    units = tuple(with_capitals(text, tuple(find_units(text))))
    words = [match for match in spot("heading", text) if not _inside(match, units) and not _in_a_name(match, text)]
    limits = [match for match in spot("connective", text) if match.concept in ("max", "min")]
    limits = [match for match in limits if not (_limits_a_figure(match, text) or _in_a_name_of_things(match, text))]
    words = [match for match in words if not (_only_ties(match, text, units) or _limits_a_figure(match, text))]
    words = [match for match in words if match.concept not in _LIMITS or not _in_a_name_of_things(match, text)]
    names = [match.concept for match in words]
    # "Power N·m" and "Control N·m", "Main circuit" and "Control circuit" are told apart by words that are
    # headings elsewhere: only what says "torque" or "conductor" itself is taken out.
    known = [_without_name(match, text) for match in words if match.concept.split("_")[0] in _SAID]
    fields = tuple(name for name in names if name not in ("minimum", "maximum"))
    # "Slot head 4.7 mm": a figure's own unit is part of what is said of the screw, no unit of the column's figures.
    headed = [unit for unit in units if unit.kind in _HEADED or not ends_in_figure(text[: unit.start])]
    # "Recommended" or "de aperto", left of a phrase that is cut or set over two columns, names no terminal.
    # "Metric" and "imperial" say again what the units say: both columns are of one screw.
    parts = [match for match in spot("connective", text) if match.concept in _PARTS]
    return Sense(
        text=text,
        fields=fields,
        units=units,
        minimum="minimum" in names or any(match.concept == "min" for match in limits),
        maximum="maximum" in names or any(match.concept == "max" for match in limits),
        false_friend=bool(spot("false_friend", text)) or names_other_torque(text),
        rest=_without_torque(
            _left_over(text, [*_spans((*known, *limits, *headed, *parts)), *_counted_by(text), *tolerance_spans(text)])
        ),
        figure=_is_figure(text, units),
    )


def _counted_by(text: str) -> Iterator[tuple[int, int]]:
    """Yield where a heading ends in what its values are counted by, which it does not name: "Wire range per lug"."""
    ends = {word.start: word.end for word in spot("tightened", text) if word.concept == "terminal"}
    for match in spot("connective", text):
        start = match.end + len(text[match.end :]) - len(text[match.end :].lstrip())
        if match.concept == "per" and ends.get(start) == len(text):
            yield match.start, len(text)


def _without_name(match: Match, text: str) -> Match:
    """Return a word for torque without the word for a terminal that it begins with, where that ends a name before it.

    In scripts without blanks "入力端子締付トルク" is the input terminal's torque: what is left is no half a word.
    """
    before = text[match.start - 1 : match.start]
    if not before or script_of(before) != "unspaced":
        return match
    ends = (name.end for name in spot("tightened", match.printed) if name.start == 0 and name.concept == "terminal")
    return replace(match, start=match.start + next(ends, 0))


def _spans(found: Iterable[Match | UnitMatch]) -> Iterator[tuple[int, int]]:
    return ((one.start, one.end) for one in found)


def _inside(match: Match, units: tuple[UnitMatch, ...]) -> bool:
    """Tell whether a word is part of a unit's spelling ("lb-in" holds no preposition)."""
    return any(unit.start <= match.start and match.end <= unit.end for unit in units)


def _only_ties(match: Match, text: str, units: tuple[UnitMatch, ...]) -> bool:
    """Tell whether a word for a limit is no more than a preposition: "torque of (Dutch van) the terminals".

    "From" and "to" name limits at the end of a heading alone, a unit or bracket behind them at most.
    """
    if match.concept not in ("minimum", "maximum"):
        return False
    ties = (m for m in spot("connective", text) if m.concept in ("from", "range"))
    if not any(m.start == match.start and m.end == match.end for m in ties):
        return False
    behind = cut_out(text, [(0, match.end), *((unit.start, unit.end) for unit in units)])
    return any(letter.isalnum() for letter in behind)


def _limits_a_figure(match: Match, text: str) -> bool:
    """Tell whether a word or sign limits the figure right behind it: "slot width < 1.2 mm" is a case, no limit.

    The figures under such a heading are not limited by it.
    """
    if match.concept not in _LIMITS:
        return False
    return _FIGURE_BEHIND.match(text, match.end) is not None


def _in_a_name_of_things(match: Match, text: str) -> bool:
    """Tell whether a word for a limit is part of a device's name ("mini circuit breaker") or of terminals' place.

    "Upper terminals" are those at the top: nothing else in the heading has a highest value.
    """
    if any(one.start <= match.start and match.end <= one.end for one in spot("family", text)):
        return True
    headed = {other.concept for other in spot("heading", text)} - set(_LIMITS)
    cut = match.printed.lower().startswith(("max", "min"))
    return headed == {"terminal"} and not cut and not find_units(text)


def _in_a_name(match: Match, text: str) -> bool:
    """Tell whether a word for torque is part of the name of a terminal or of its screw.

    "aperto" heads torques in Portuguese, and is Italian for the open contact of "contatto normalmente aperto".
    """
    if not match.concept.startswith("torque"):
        return False
    names = (name for kind in _NAMES for name in spot(kind, text))
    return any(n.start <= match.start and match.end <= n.end and len(n.printed) > len(match.printed) for n in names)


def cut_out(text: str, spans: list[tuple[int, int]]) -> str:
    """Return the text with the given spans blanked, blanks folded."""
    kept = list(text)
    for start, end in spans:
        kept[start:end] = " " * (end - start)
    return " ".join("".join(kept).split())


def _left_over(text: str, spans: list[tuple[int, int]]) -> str:
    kept = list(" ".join(text.split()) if not spans else text)
    for start, end in spans:
        kept[start:end] = [_GONE, *" " * (end - start - 1)]
    rest = _TIES.sub(" ", re.sub(rf"\s*{_GONE}[\s{_GONE}]*", _GONE, "".join(kept))).replace(_GONE, " ")
    rest = _EMPTY.sub(" ", rest)
    words = " ".join(word for word in rest.split() if word.strip(_OUTER))
    bare = words.strip(_OUTER)
    closed = bare + ")"  # "Incoming (bolt M8)" keeps its bracket
    return closed if bare.count("(") > bare.count(")") and closed in words else bare


def _without_torque(rest: str) -> str:
    """Return what is left over unless it is a word for torque that stands there again.

    "Torque (rec.) torque (rec.)" is a heading and a line beneath it: the longest phrase in it is "rec. torque".
    """
    again = any(match.concept == "torque" and match.printed == rest for match in spot("heading", rest))
    return "" if again else rest


def _is_figure(text: str, units: tuple[UnitMatch, ...]) -> bool:
    """Tell whether the text is numbers with signs, units and range words only."""
    if not _NUMBER.search(text) or _PRICE_PER.search(text):
        return False
    spans = [(unit.start, unit.end) for unit in units]
    spans += [(m.start, m.end) for m in spot("connective", text) if m.concept in _FIGURE_WORDS]
    bare = cut_out(text, spans)
    named = _LETTERS.search(bare) or re.match(r"^[^\W\d]\d", bare) or _MARKING.search(bare)
    return bool(_NUMBER.search(bare)) and not named
