"""A lug named in a sentence: what a conductor ends in, where the terminal itself was named before it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from torquary_ingest.clauses.naming import Named, Placed
from torquary_schema.roles import spot_roles
from torquary_schema.words import spot


def doubt_lug(named: Named, before: Sequence[Placed]) -> Named:
    """Return what a figure is for, in doubt where it is a lug alone and its item names a terminal before.

    "The earth terminal is an M6 stud; fit a ring lug and tighten the nut to 5 N·m."
    """
    lugs = [thing.text for _, thing in named.things if is_lug(thing.text)]
    if named.fault or not lugs or len(lugs) < len(named.things):
        return named
    things = (thing.text for _, part in reversed(before) for thing in part.things("terminal", "role"))
    other = next((text for text in things if not is_lug(text)), "")
    if not other:
        return named
    message = f"{lugs[0]!r} is what a conductor ends in, and {other!r} is named before it; say which screw it is"
    return replace(named, fault=message)


def is_lug(text: str) -> bool:
    """Tell whether a text ends in the word for a lug and names no role: "main lugs" are terminals."""
    lugs = (match for match in spot("clamp", text) if match.concept == "lug")
    return any(match.end == len(text.strip()) for match in lugs) and not spot_roles(text)
