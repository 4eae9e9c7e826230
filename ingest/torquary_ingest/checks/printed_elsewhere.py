"""Torques in texts that were not read as settings: one that names a released terminal and differs holds it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from decimal import Decimal

from torquary_ingest.checks.contradiction import ROUNDED, markings_of, role_words_of
from torquary_ingest.checks.sizes import figure_of
from torquary_ingest.unit_registry import newton_metres
from torquary_schema.roles import may_share_terminal
from torquary_schema.units import find_units
from torquary_schema.values import Finding, Setting

_SPEAKING = ("figure_not_placed", "note_attached", "note_changes_value")
_FIGURE = re.compile(r"(\d+(?:[.,]\d+)?)\s*[\])]?\s*$")


def check_elsewhere(settings: Sequence[Setting], findings: Sequence[Finding]) -> Iterator[tuple[int, Finding]]:
    """Hold each released setting whose terminal a text that was not read names beside another torque."""
    spoken = ((finding, line) for finding in findings if finding.code in _SPEAKING for line in _lines_of(finding))
    texts = [(finding, line, figures) for finding, line in spoken if (figures := _figures_in(line))]
    for at, setting in enumerate(settings):
        if setting.state != "released" or setting.purpose != "electrical_terminal":
            continue
        own = [figure for figure in figure_of(setting) if figure is not None]
        for finding, line, figures in texts:
            if _names(line, setting) and not any(_near(one, two) for one in own for two in figures):
                yield at, _elsewhere(setting, finding, line)
                break


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


def _elsewhere(setting: Setting, finding: Finding, text: str) -> Finding:
    page = finding.place.page if finding.place else None
    return Finding(
        code="contradicted",
        message=f"page {page or '?'} says {text!r}, another torque for what may be the same terminal; "
        "find out which holds",
        place=setting.place,
        printed=setting.place.text,
    )
