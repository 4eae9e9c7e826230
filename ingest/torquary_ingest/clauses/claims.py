"""Which parts of a sentence speak for which of its figures, and what they say of the conductor, screw and tool."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from torquary_ingest.clauses.parts import Part
from torquary_ingest.clauses.tokens import Token

_CLAIMS = ("size", "kind", "thread", "drive", "tool")


@dataclass(frozen=True, slots=True, kw_only=True)
class Spoken:
    """A part with a figure, and the parts that speak for it: before, behind, and `lead`, which speaks for all.

    `unclear` tells that a part may speak for the figure before or behind it.
    """

    part: Part
    before: tuple[Part, ...] = ()
    behind: tuple[Part, ...] = ()
    lead: tuple[Part, ...] = ()
    unclear: bool = False

    @property
    def own(self) -> tuple[Part, ...]:
        """The parts that speak for this figure alone, in printed order."""
        return (*self.before, self.part, *self.behind)

    def claims(self, kind: str) -> list[Token]:
        """Return the tokens of a kind that are said of this figure, or of all figures by a condition before them."""
        leading = [part for part in self.lead if part.of("condition")]
        return [token for part in (*leading, *self.own) for token in part.of(kind)]


def group_parts(parts: Sequence[Part]) -> tuple[Spoken, ...]:
    """Return the figures of a sentence, each with the parts that speak for it."""
    figured = [at for at, part in enumerate(parts) if part.figure is not None]
    if not figured:
        return ()
    spoken: list[Spoken] = []
    for number, at in enumerate(figured):
        first = figured[number - 1] + 1 if number else 0
        spoken.append(Spoken(part=parts[at], before=tuple(parts[first:at])))
    spoken[-1] = replace(spoken[-1], behind=tuple(parts[figured[-1] + 1 :]))
    return tuple(_share(spoken)) if len(spoken) > 1 else tuple(spoken)


def _share(spoken: list[Spoken]) -> list[Spoken]:
    """Give each part between two figures to the one it speaks for, and what leads them all to all of them."""
    for at in range(1, len(spoken)):
        back, kept, unclear = _part_between(spoken, at)
        spoken[at - 1] = replace(
            spoken[at - 1], behind=back, unclear=spoken[at - 1].unclear or unclear
        )
        spoken[at] = replace(spoken[at], before=kept, unclear=unclear)
    lead = spoken[0].before
    return [spoken[0], *(replace(one, lead=lead) for one in spoken[1:])]


def _part_between(
    spoken: Sequence[Spoken], at: int
) -> tuple[tuple[Part, ...], tuple[Part, ...], bool]:
    """Return what stands between two figures: what speaks for the first, for the second, and whether that is unclear.

    A stop is stronger than a comma; a part that names a thing or says what to do opens the second. Bare claims
    ("M5 screws") stand as those of the other figures do.
    """
    between = list(spoken[at].before)
    back: list[Part] = []
    closed = spoken[at - 1].part.strong
    while between and not closed and not _opens(between[0]):
        closed = between[0].strong
        back.append(between.pop(0))
    if not back or closed or between:
        return tuple(back), tuple(between), False
    kinds = _claimed_in(back)
    leads = bool(kinds & _claimed_in(spoken[0].before))
    trails = bool(kinds & _claimed_in(spoken[-1].behind))
    if leads and not trails:
        return (), tuple(back), False
    return tuple(back), (), bool(kinds) and not trails


def _claimed_in(parts: Sequence[Part]) -> set[str]:
    return {token.kind for part in parts for token in part.of(*_CLAIMS)}


def _opens(part: Part) -> bool:
    """Tell whether a part begins to speak of another thing: it names one, or says what to do with it."""
    return bool(
        part.things("terminal", "role", "conductor", "other", "unknown", "mixed")
        or part.of("connect", "fix")
    )
