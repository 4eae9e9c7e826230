"""What is a mention of a torque in one printed text: a figure with a unit of torque, or beside a word for one.

The unit may be certain, doubtful ("nm"), or only shaped like one ("N/m", "N\ufffdm", "Nm²" with a note's mark).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from torquary_ingest.headings.sense import make_sense
from torquary_ingest.lexis.figures import NO_NAME, ends_in_figure
from torquary_schema.torque_kinds import names_machine, names_other_torque, tightening_words
from torquary_schema.units import UnitMatch, find_units
from torquary_schema.words import Kind, Match, spot

_SHAPED = re.compile(
    r"(?<![^\W\d_])(?:[kcdm]|da)?[nN](?:[ .]|[ ]?[^\w\s,;:()\[\]%+=\"'][ ]?)?[mM]\.?(?![A-Za-zÀ-ÖØ-öø-ÿ])"
    r"(?P<mark>[¹²³⁰⁴-⁹]{1,2}|\d\)|[*†‡]{1,3})?(?![\w²³])"
    r"|(?<![^\W\d_])(?:lbf?s?|oz)\.?[ ]?/[ ]?(?:in|ft)\.?(?!\w)|(?<![^\W\d_])(?:in|ft)[ ]?/[ ]?lbf?s?\.?(?!\w)",
)
_NUMBER = r"\d+(?:[.,]\d+)*"
_FIGURE_BEFORE = re.compile(rf"(?:{NO_NAME}{_NUMBER}|[½¼¾⅛⅜⅝⅞])\s*%?\s*[\[(\])]?\s*$")
_FREE = re.compile(rf"(?<![\w.,/]){_NUMBER}(?![\w%°²³])(?!\s*[%°])")
_SHORT_WAY = re.compile(r"[\s:=.…·()\[\]~≈≤<–—-]*(?:(?:[^\W\d]{1,9}\.?|M\d{1,2})[\s:=)]+)?[\s:=.…()\[\]~≈≤<–—-]*\Z")
"""What may stand between a word for a torque and its figure: signs, and one short word ("Torque max. 2.5")."""
_NUMBERED = re.compile(r"(?:\d+\.)*\d+[.)]?\s+(?=[^\W\d])")
_LEADERS = re.compile(r"(?:[.…]\s?){4,}\s*\d+\s*\Z")
_WAVELENGTHS = "wavelength"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """A torque that a text states: its figure and unit as printed, and where the unit stands in the text."""

    printed: str
    end: int


@lru_cache(maxsize=20_000)
def stated_torques(text: str, before: str = "") -> tuple[Stated, ...]:
    """Return each torque of a text whose figure stands right before its unit, on the line `before` at its worst."""
    ahead = f"{before} " if before else ""
    whole = ahead + text
    found = []
    for start, end in _units(whole):
        figure = _FIGURE_BEFORE.search(whole[:start])
        if figure is not None and end > len(ahead):
            found.append(Stated(printed=whole[figure.start() : end], end=end - len(ahead)))
    return tuple(found)


def _units(text: str) -> Iterator[tuple[int, int]]:
    """Yield where units of torque stand, and what is shaped like one; a wavelength's nanometres are none."""
    known = find_units(text)
    waves = any(match.concept == _WAVELENGTHS for match in spot("false_friend", text))
    for unit in known:
        if unit.kind == "torque" and (unit.certain or not waves):
            yield unit.start, unit.end
    if waves:
        return
    others = [unit for unit in known if unit.kind != "force"]
    for match in _SHAPED.finditer(text):
        if not any(unit.start < match.end() and match.start() < unit.end for unit in others):
            yield match.span()


@lru_cache(maxsize=20_000)
def heads_by_unit(text: str) -> bool:
    """Tell whether a text prints a unit of torque without a figure of its own, as a heading does."""
    return bool(_bare_units(text))


def _bare_units(text: str) -> list[UnitMatch]:
    units = (unit for unit in find_units(text) if unit.kind == "torque" and unit.certain)
    return [unit for unit in units if not ends_in_figure(text[: unit.start])]


@lru_cache(maxsize=20_000)
def names_torque(text: str) -> bool:
    """Tell whether a text has a word for a torque."""
    return bool(make_sense(text).has("torque", "torque_min", "torque_max") or tightening_words(text))


@lru_cache(maxsize=20_000)
def figures_beside_words(text: str) -> tuple[str, ...]:
    """Return the figures without a unit of another kind that follow a word or unit of torque in the same text.

    "Anzugsmoment 2,5" and "N·m: 2.5" have one; a page number, a numbered step or a per cent is none.
    """
    if _LEADERS.search(text):
        return ()
    numbered = _NUMBERED.match(text)
    offset = numbered.end() if numbered else 0
    bare = _without_other_quantities(text)
    ends = [match.end for match in _torque_words(text)]
    ends += [unit.end for unit in _bare_units(text)]
    found = (
        figure[0]
        for figure in _FREE.finditer(bare, offset)
        if any(end <= figure.start() and _SHORT_WAY.match(bare[end : figure.start()]) for end in ends)
    )
    return tuple(dict.fromkeys(found))


@lru_cache(maxsize=20_000)
def unreadable_beside_words(text: str) -> tuple[str, ...]:
    """Return the words with a glyph of unknown meaning in a text that speaks of a torque: one may be its figure.

    The first word is none: a bullet often has such a glyph.
    """
    if "\ufffd" not in text or not names_torque(text):
        return ()
    return tuple(dict.fromkeys(word for word in text.split()[1:] if "\ufffd" in word))


def _torque_words(text: str) -> Iterator[Match]:
    yield from (match for match in spot("heading", text) if match.concept.startswith("torque"))
    yield from tightening_words(text)


def _without_other_quantities(text: str) -> str:
    """Blank every figure that has a unit of its own, and those that count pages, tables and editions."""
    spans = [_with_figure(text, unit) for unit in find_units(text) if unit.kind != "force"]
    for match in spot("document_word", text):
        behind = re.match(rf"\s*{_NUMBER}", text[match.end :])
        if behind:
            spans.append((match.start, match.end + behind.end()))
    return _blanked(text, spans)


def _with_figure(text: str, unit: UnitMatch) -> tuple[int, int]:
    figure = re.search(rf"(?:{_NUMBER}\s*(?:[-–—…]|\.\.\.?)\s*)?{_NUMBER}\s*$", text[: unit.start])
    return (figure.start() if figure else unit.start, unit.end)


def _blanked(text: str, spans: list[tuple[int, int]]) -> str:
    kept = list(text)
    for start, end in spans:
        kept[start:end] = "\x00" * (end - start)
    return "".join(kept)


@lru_cache(maxsize=20_000)
def is_bare_figure(text: str) -> bool:
    """Tell whether a text is a figure that may be a torque: no unit of another kind stands at it."""
    sense = make_sense(text)
    return sense.figure and not any(unit.kind not in ("torque", "force") for unit in sense.units) and "%" not in text


@lru_cache(maxsize=20_000)
def is_of_another_kind(text: str) -> bool:
    """Tell whether a text speaks of a torque that no screw is set to: a machine's, a tool's, a test's."""
    return names_other_torque(text) or (names_machine(text) and not tightening_words(text))


_SCREW_WORDS: tuple[Kind, ...] = ("role", "clamp", "purpose", "tightened")


@lru_cache(maxsize=20_000)
def speaks_of_screws(text: str) -> bool:
    """Tell whether a text speaks of tightening, of a terminal or screw, or of a conductor's size."""
    sizes = any(unit.kind in ("area", "gauge") for unit in find_units(text))
    words = (match for kind in _SCREW_WORDS for match in spot(kind, text))
    return sizes or bool(tightening_words(text)) or any(len(match.printed) > 1 for match in words)
