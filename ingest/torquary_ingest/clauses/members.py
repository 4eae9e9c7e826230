"""The devices that a figure is for, where its item tells several apart."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.clauses.claims import Spoken
from torquary_ingest.clauses.naming import Placed
from torquary_ingest.clauses.parts import Part, gather
from torquary_ingest.clauses.tokens import Token


def devices_of(
    spoken: Spoken, parts: Sequence[Part], offset: int, before: Sequence[Placed]
) -> list[tuple[int, Token]]:
    """Return the devices that a figure's own parts name, else those named last before them in its item.

    Each is given with the offset of its sentence; `offset` is that of the figure's, whose parts are `parts`.
    """
    own = [*_listed_before(spoken.part, parts), *spoken.part.of("device")]
    own = own or gather(spoken.own, "device")
    if own:
        return [(offset, token) for token in own]
    first = spoken.own[0].start
    earlier = [*before, *((offset, part) for part in parts if part.end <= first)]
    named = ([(at, token) for token in part.of("device")] for at, part in reversed(earlier))
    return next(filter(None, named), [])


def _listed_before(own: Part, parts: Sequence[Part]) -> list[Token]:
    """Return the devices that a list names before the one in a figure's own part: "MB3-250, MB3-400 and MB3-630"."""
    found: list[Token] = []
    for part in reversed(parts[: parts.index(own)] if own.of("device") else ()):
        if part.strong or len(part.elements) != len(part.of("device")):
            break
        found = [*part.of("device"), *found]
    return found
