"""A thing that a sentence speaks of."""

from __future__ import annotations

from dataclasses import dataclass

from torquary_ingest.clauses.heads import ThingKind
from torquary_ingest.clauses.tokens import Token


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """What a sentence names. `generic` tells that the words tell no terminal from another ("terminal screws").

    `opened` that an unread word tells them apart which opens the sentence and may be a verb; `marked` that they are
    markings alone ("L1, L2 and N"), `screwed` that a screw is named, `unread` are words that no vocabulary knows.
    `members` are the texts of a list ("line and load terminals"), `apart` its names with their offsets where each has
    markings of its own ("the mains terminals L1, L2 and the motor terminals U, V"); `start` and `end` are offsets in
    the sentence.
    """

    kind: ThingKind
    start: int
    end: int
    text: str
    generic: bool
    opened: bool
    marked: bool
    screwed: bool
    members: tuple[str, ...]
    apart: tuple[tuple[int, int, str], ...]
    unread: tuple[str, ...]


Element = Token | Thing
