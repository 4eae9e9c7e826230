"""Torques in texts that were not read as settings: one that names a released terminal and differs holds it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import islice

from torquary_ingest.checks.contradiction import ROUNDED, markings_of, may_be_one_device, role_words_of, unmarked_name
from torquary_ingest.checks.sizes import figure_of
from torquary_ingest.unit_registry import newton_metres
from torquary_schema.roles import may_share_terminal
from torquary_schema.units import find_units
from torquary_schema.values import Finding, Place, Setting
from torquary_schema.words import fold

_SPEAKING = ("figure_not_placed", "note_attached", "note_changes_value")
_LABEL_WORDS = 2
"""Words of a name at least that names the same terminal wherever it is printed (own choice)."""
_FIGURE = re.compile(r"(\d+(?:[.,]\d+)?)\s*[\])]?\s*$")


def check_elsewhere(settings: Sequence[Setting], findings: Sequence[Finding]) -> Iterator[tuple[int, Finding]]:
    """Hold each released setting whose terminal a text that was not read names beside another torque."""
    spoken = ((finding, line) for finding in findings if finding.code in _SPEAKING for line in _lines_of(finding))
    told = ((finding, line, figures) for finding, line in spoken if (figures := _figures_in(line)))
    texts = [(finding, line, figures) for finding, line, figures in told if not _was_read(line, figures, settings)]
    for at, setting in enumerate(settings):
        if setting.state != "released" or setting.purpose != "electrical_terminal":
            continue
        own = [figure for figure in figure_of(setting) if figure is not None]
        for finding, line, figures in texts:
            if _names(line, setting) and not any(_near(one, two) for one in own for two in figures):
                yield at, _elsewhere(setting, finding.place, line)
                break


def check_sentences(settings: Sequence[Setting]) -> Iterator[tuple[int, Finding]]:
    """Hold each released setting whose whole name a held sentence has beside another torque.

    What the sentence was read for may be another terminal than the one that it names.
    """
    held = [setting for setting in settings if setting.state == "held" and setting.place.table is None]
    texts = [(setting, setting.place.text, _figures_in(setting.place.text)) for setting in held]
    released = ((at, setting) for at, setting in enumerate(settings) if setting.state == "released")
    for at, setting in released:
        against = (other for other, text, figures in texts if _speaks_against(setting, other, text, figures))
        yield from ((at, _elsewhere(setting, other.place, other.place.text)) for other in islice(against, 1))


def _speaks_against(setting: Setting, other: Setting, text: str, figures: Sequence[Decimal]) -> bool:
    meant = _has_name(text, setting.terminal.printed) and may_be_one_device(setting.device, other.device)
    own = [figure for figure in figure_of(setting) if figure is not None]
    return meant and bool(figures) and not any(_near(one, two) for one in own for two in figures)


def _has_name(text: str, label: str) -> bool:
    """Tell whether a text has a name of several words whole, or without its markings and with no other ones."""
    names = (rf"{re.escape(fold(label))}(?!\w)", rf"{re.escape(unmarked_name(label))}(?!\w)(?!\W*\w*\d)")
    long = (name for name in names if name.count("\\ ") >= _LABEL_WORDS - 1)
    return any(re.search(rf"(?<!\w){name}", fold(text)) for name in long)


def _was_read(line: str, figures: Sequence[Decimal], settings: Sequence[Setting]) -> bool:
    """Tell whether all torques of a line were read as settings: as such they are compared."""
    text = " ".join(line.split())
    own = [one for setting in settings if text in " ".join(setting.place.text.split()) for one in figure_of(setting)]
    return all(any(_near(figure, one) for one in own if one is not None) for figure in figures)


def _lines_of(finding: Finding) -> list[str]:
    """Return the lines of what was found: each speaks for itself."""
    return finding.printed.split("\n")


def _figures_in(text: str) -> tuple[Decimal, ...]:
    """Return the torques in N·m that a text prints with their units."""
    found = []
    for unit in find_units(text):
        figure = _FIGURE.search(text[: unit.start])
        if unit.kind == "torque" and unit.certain and figure is not None:
            found.append(newton_metres(Decimal(figure[1].replace(",", ".")), unit.name))
    return tuple(found)


def _names(text: str, setting: Setting) -> bool:
    marks = markings_of(setting.terminal.printed) & markings_of(text)
    if any(not mark.isdecimal() for mark in marks):
        return True
    named, roles = role_words_of(text), setting.terminal.roles
    told = bool(named and roles) and not markings_of(setting.terminal.printed)
    return told and may_share_terminal(roles, named)


def _near(one: Decimal, other: Decimal) -> bool:
    return abs(one - other) <= ROUNDED * max(one, other)


def _elsewhere(setting: Setting, place: Place | None, text: str) -> Finding:
    page = place.page if place else None
    return Finding(
        code="contradicted",
        message=f"page {page or '?'} says {text!r}, another torque for what may be the same terminal; "
        "find out which holds",
        place=setting.place,
        printed=setting.place.text,
    )
