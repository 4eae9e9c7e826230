"""A lug named in a sentence: what a conductor ends in, where it is not itself what is tightened."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from torquary_ingest.clauses.naming import Named, Placed
from torquary_schema.roles import spot_roles
from torquary_schema.words import fold, spot


def doubt_lug(named: Named, own: Placed, before: Sequence[Placed]) -> Named:
    """Return what a figure is for, in doubt where it is a lug alone and its item names a terminal before.

    "The earth terminal is an M6 stud; fit a ring lug and tighten the nut to 5 N·m". A lug that is not itself what is
    tightened names nothing: "torque the lugs to 5 N·m" names them.
    """
    meant = [thing for _, thing in named.things or filter(None, (named.general,))]
    lugs = [thing for thing in meant if is_lug(thing.text)]
    if named.fault or not lugs or len(lugs) < len(meant):
        return named
    things = (thing.text for _, part in reversed(before) for thing in part.things("terminal", "role"))
    other = next((text for text in things if not is_lug(text)), "")
    if other:
        said = f"is what a conductor ends in, and {other!r} is named before it"
        message = f"{lugs[0].text!r} {said}; say which screw it is"
        return replace(named, fault=message)
    return named if any(lug in own[1].elements for lug in lugs) else Named()


def is_lug(text: str) -> bool:
    """Tell whether a text is or ends in the word for a lug and names no role: "main lugs" are terminals."""
    lugs = (match for match in spot("clamp", text) if match.concept == "lug")
    bare = fold(text) in _BARE
    return (bare or any(match.end == len(text.strip()) for match in lugs)) and not spot_roles(text)


_BARE = frozenset(("lug", "lugs"))
"""The bare word, which English has for terminals too."""
