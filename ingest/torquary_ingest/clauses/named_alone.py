"""What a name on its own is of: a cell, a heading, a line."""

from __future__ import annotations

from functools import lru_cache

from torquary_ingest.clauses.nouns import find_things
from torquary_ingest.clauses.thing import Thing
from torquary_ingest.clauses.tokens import read_tokens


@lru_cache(maxsize=2048)
def is_of_another(text: str) -> bool:
    """Tell whether what a text names is unread, or another screw, though words for terminals are parts of it.

    "Terminal hood", "clamping screw of the coupling".
    """
    things = _things_in(text)
    return bool(things) and all(
        thing.kind == "other" or (thing.kind == "unknown" and thing.unread) for thing in things
    )


def is_unread_screw(text: str) -> bool:
    """Tell whether what a text names is the screw of something that no vocabulary knows: "Wall plate screws"."""
    things = _things_in(text)
    return bool(things) and all(thing.kind == "unknown" and thing.unread and thing.screwed for thing in things)


def has_unread_screw(text: str) -> bool:
    """Tell whether a text names, beside others, screws of something that no vocabulary knows."""
    return any(thing.kind == "unknown" and thing.screwed for thing in _things_in(text))


def _things_in(text: str) -> list[Thing]:
    return [one for one in find_things(read_tokens(text), text) if isinstance(one, Thing)]
