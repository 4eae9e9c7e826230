"""What a figure is for: the thing that its part names, or the last one introduced before it in the item."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from torquary_ingest.clauses.markers import MARKER
from torquary_ingest.clauses.parts import Part, cut_parts, gather
from torquary_ingest.clauses.thing import Element, Thing
from torquary_ingest.clauses.tokens import NAME_LETTERS, Token
from torquary_schema.roles import spot_roles
from torquary_schema.words import spot

_HEADING_WORDS = 6
"""Words of a heading at most that is a name as it stands."""
_ABOUT_CONDUCTORS = (
    "connect",
    "strip",
    "conductor",
    "connection",
    "size",
    "kind",
    "time",
    "tool",
    "drive",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """What a figure is for: `things` that tell it from others, else a `general` word for terminals.

    `again` tells that the general word is for what was named last ("the same terminals").
    `fault` says in one line why that is not certain, "" if it is; `things` are what may be meant then.
    """

    things: tuple[tuple[int, Thing], ...] = ()
    general: tuple[int, Thing] | None = None
    again: bool = False
    fault: str = ""


def name_in_heading(heading: str) -> Thing | None:
    """Return the one thing that a heading names beyond a general word: its terminals, connections or conductor.

    Its text is the whole heading, where that is short and says nothing to do ("Battery and motor connections").
    """
    text = MARKER.sub("", heading).strip(" :")
    parts = cut_parts(text)
    kinds = ("terminal", "connection", "conductor", "role", "other", "mixed", "unknown")
    things = [thing for part in parts for thing in part.things(*kinds) if not thing.generic]
    if (
        spot("family", text)
        or len(things) != 1
        or things[0].kind not in ("terminal", "connection", "conductor")
    ):
        return None
    short = len(text.split()) <= _HEADING_WORDS and not gather(
        parts, "connect", "fix", "tighten", "torque"
    )
    return replace(things[0], text=text) if short else things[0]


Placed = tuple[int, Part]
"""A part with the offset of its sentence in the item."""


def name_figure(own: Placed, before: Sequence[Placed], behind: Sequence[Placed]) -> Named:
    """Return what a figure is for; `before` are the parts of the item before its own, the nearest last."""
    found = _named_in(own)
    if found is not None:
        return _unsure(own) if found.things and _speaks_first_of_unread(own[1]) else found
    general = _general_in(own)
    if general is None and _speaks_of_unknown(own[1]):
        return _unsure(own)
    return _named_around(general, own, before, behind)


def _named_around(
    general: tuple[int, Thing] | None, own: Placed, before: Sequence[Placed], behind: Sequence[Placed]
) -> Named:
    """Return what the parts around a figure's name, where its own has a general word or nothing."""
    if general is not None and general[1].kind == "terminal":
        before = [placed for placed in before if not _speaks_of_others(placed[1])]
    back = _last_introduced(before, own)
    if back.things or (back.fault and general is None):
        return back
    return _named_again(before, own) or _named_behind(behind) or Named(general=general or back.general)


def _named_again(before: Sequence[Placed], own: Placed) -> Named | None:
    again = next(filter(None, map(_again_in, (own, *reversed(before)))), None)
    return Named(general=again, again=True) if again is not None else None


def _named_behind(behind: Sequence[Placed]) -> Named | None:
    return next(filter(None, map(_named_in, behind)), None)


def _speaks_of_others(part: Part) -> bool:
    return bool(part.things("other", "mixed") or part.of("fix"))


def _named_in(placed: Placed) -> Named | None:
    """Return what a part names; None where it names nothing, or a general word alone."""
    offset, part = placed
    terminals = _with_brackets(part)
    if part.things("other", "mixed"):
        return _other_in(placed)
    if len(terminals) > 1 and not _lead_to(terminals):
        return Named(fault=f"{_quoted(terminals)} stand beside the figure; say which it is for")
    if terminals:
        return Named(things=tuple((offset, thing) for thing in terminals))
    connections = [thing for thing in part.things("connection") if not thing.generic]
    named = connections[0] if len(connections) == 1 else _role_in(part)
    return Named(things=((offset, named),)) if named is not None else None


def _with_brackets(part: Part) -> list[Thing]:
    """Return the terminals that a part tells apart; one in brackets right behind a name completes it.

    "Block X4 (terminals 1 to 6)", "shunt release MX-2 (terminals C1, C2)".
    """
    found: list[Thing] = []
    elements = part.elements
    for thing in part.things("terminal"):
        at = elements.index(thing)
        before = elements[at - 2] if at > 1 and elements[at - 1].kind == "open" else None
        closed = at + 1 < len(elements) and elements[at + 1].kind == "close"
        if thing.generic:
            continue
        if closed and isinstance(before, Thing) and (before in found or before.kind == "role"):
            found = [one for one in found if one is not before]
            found.append(_completed(before, elements[at - 1], thing, elements[at + 1]))
        else:
            found.append(thing)
    return found


def _completed(name: Thing, opened: Element, terminals: Thing, closed: Element) -> Thing:
    """Return a name with the terminals told in brackets behind it, which are the last one's of a list."""
    told = f"{' ' * (opened.start > name.end)}{opened.text}{terminals.text}{closed.text}"
    apart = name.apart
    if apart:
        start, _, last = apart[-1]
        apart = (*apart[:-1], (start, closed.end, last + told))
    return replace(name, kind="terminal", text=name.text + told, end=closed.end, apart=apart)


def _other_in(placed: Placed) -> Named:
    """Return what a part names beside a cover, gland or the like; with a terminal beside it nothing tells which."""
    offset, part = placed
    others = part.things("other", "mixed")
    if part.things("terminal", "mixed"):
        names = _quoted(part.things("other", "mixed", "terminal"))
        return Named(fault=f"{names} stand beside the figure; say which of them is tightened")
    screws = [thing for thing in part.things("screw", "unknown") if thing.screwed]
    return Named(things=tuple((offset, thing) for thing in (*others[:1], *screws)))


def _quoted(things: Sequence[Thing]) -> str:
    return " and ".join(repr(thing.text) for thing in things)


def _role_in(part: Part) -> Thing | None:
    """Return the one role that a part names by itself: "Line 2.5 N·m"; not of a kind unknown: "largest load".

    What is connected ("connect the busbars with M8 screws") has its screw named with it.
    """
    roles = part.things("role")
    done = part.of("fix", "strip") or (part.of("connect") and not part.things("screw"))
    alone = len(roles) == 1 and not roles[0].unread and not part.things("unknown", "conductor")
    return roles[0] if alone and not done else None


def _lead_to(terminals: Sequence[Thing]) -> bool:
    """Tell whether markings are led to their terminals: "L1, L2 and N to terminal block X1"."""
    return len(terminals) == 2 and any(thing.marked for thing in terminals)


def _general_in(placed: Placed) -> tuple[int, Thing] | None:
    offset, part = placed
    general = [thing for thing in part.things("terminal") if thing.generic]
    general += [thing for thing in part.things("connection")]
    return (offset, general[0]) if general else None


def _again_in(placed: Placed) -> tuple[int, Thing] | None:
    """Return the general word of a part that stands for what was named last: "the same terminals"."""
    offset, part = placed
    pairs = pairwise(part.elements)
    said = (thing for word, thing in pairs if word.kind == "same" and isinstance(thing, Thing) and thing.generic)
    return next(((offset, thing) for thing in said), None)


def _last_introduced(before: Sequence[Placed], own: Placed) -> Named:
    """Return the last thing introduced; a conductor that its role names stands for its terminal where none is named.

    One that goes to something unread ("to each battery") does not.
    A part that speaks of something unread comes between: its screw may be meant.
    """
    conductor = _conductor_in(own)
    general: tuple[int, Thing] | None = None
    for placed in reversed(before):
        _, part = placed
        if part.of("fix") and not part.things("terminal", "conductor"):
            return Named(
                fault="what is fixed before the figure may be what is tightened; say which screw it is for"
            )
        found = None if _is_in_passing(part) else _named_in(placed)
        if found is not None:
            return _unsure(placed) if found.things and _speaks_first_of_unread(part) else found
        conductor = conductor or _conductor_in(placed)
        general = general or _general_in(placed)
        if _speaks_of_unknown(part):
            if conductor is None and general is None:
                return _unsure(placed)
            break
    return Named(things=(conductor,) if conductor else (), general=general)


def _is_in_passing(part: Part) -> bool:
    """Tell whether a part names nothing but a role ("the mains supply"), or a code that is connected to nothing.

    A general word behind one that may be a verb names nothing either: "Pull terminal block out".
    """
    things = [thing for thing in part.things("terminal", "other", "mixed") if not thing.opened]
    if not things and part.things("screw"):
        return False
    coded = all(thing.marked and len(thing.members) == 1 for thing in things)
    return not things or (coded and not part.of("connect"))


def _conductor_in(placed: Placed) -> tuple[int, Thing] | None:
    offset, part = placed
    named = [thing for thing in part.things("conductor") if not thing.generic]
    named = [thing for thing in named if spot_roles(thing.text) or not thing.unread]
    return (offset, named[0]) if len(named) == 1 and not _unread(part) else None


def _speaks_of_unknown(part: Part) -> bool:
    """Tell whether a part speaks of a thing that no vocabulary knows, and of no conductor or terminal."""
    if part.of(*_ABOUT_CONDUCTORS) or part.things("terminal", "conductor", "connection"):
        return False
    return bool(_unread(part)) or bool(part.things("unknown"))


def _speaks_first_of_unread(part: Part) -> bool:
    """Tell whether the first thing that a part speaks of is unread: "tighten the knob next to terminal X5".

    The first word of all may be a verb.
    """
    unread = _unread(part)
    for one in part.elements[1:] if part.elements[0] in unread else part.elements:
        if isinstance(one, Thing):
            return one.kind == "unknown"
        if one in unread:
            return True
    return False


def _unread(part: Part) -> list[Token]:
    return [token for token in part.of("word") if len(token.text) >= NAME_LETTERS]


def _unsure(placed: Placed) -> Named:
    """Return what a part speaks of that no vocabulary knows: it may be what is tightened."""
    offset, part = placed
    things = part.things("unknown", "screw")
    words = [*(token.text for token in _unread(part)), *(thing.text for thing in things)]
    fault = f"{' '.join(words)!r} was not understood and may be what is tightened; say which screw the figure is for"
    return Named(things=tuple((offset, thing) for thing in things), fault=fault)
