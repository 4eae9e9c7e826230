"""A sentence cut where another thing is said: at commas, stops and "and", each part with at most one figure."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from torquary_ingest.clauses.nouns import find_things
from torquary_ingest.clauses.thing import Element, Thing
from torquary_ingest.clauses.tokens import Token, read_tokens

_CUTS = frozenset({"comma", "stop", "dash", "line"})
_JOINTS = frozenset({"and", "or"})
_VERBS = frozenset({"tighten", "connect", "fix", "strip"})
_SILENT = frozenset({"small", "of", "colon", "open", "close", "sign"})
_RATING = re.compile(r"\d+(?:[.,]\d+)?\s*(?:k?V|m?A)(?:\s*(?:AC|DC|~|=))?")
_OF_TORQUE = (
    "figure",
    "device",
    "torque",
    "tighten",
    "size",
    "kind",
    "thread",
    "drive",
    "tool",
    "condition",
    "variant",
    "never",
    "exceed",
)
_STRONG = frozenset({"stop", "line"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A stretch of a sentence that says one thing. `strong` tells that a stop, not a comma or "and", ends it."""

    elements: tuple[Element, ...]
    strong: bool = False

    def of(self, *kinds: str) -> list[Token]:
        """Return the tokens of these kinds."""
        return [one for one in self.elements if isinstance(one, Token) and one.kind in kinds]

    def things(self, *kinds: str) -> list[Thing]:
        """Return the things named, of these kinds or of all."""
        return [
            one
            for one in self.elements
            if isinstance(one, Thing) and (not kinds or one.kind in kinds)
        ]

    @property
    def figure(self) -> Token | None:
        """The figure of a torque that the part gives, or the words for the one named last; None if it gives none."""
        return next(iter([*self.of("figure"), *self.of("same_torque")]), None)

    @property
    def start(self) -> int:
        """Offset of the first element in the sentence."""
        return self.elements[0].start

    @property
    def end(self) -> int:
        """Offset behind the last element."""
        return self.elements[-1].end


def cut_parts(sentence: str, members: tuple[str, ...] = ()) -> tuple[Part, ...]:
    """Return the parts of a sentence in order; what stands in brackets is never cut. `members` are known devices."""
    return tuple(_with_bounds_behind(_cut(find_things(read_tokens(sentence, members), sentence))))


def _with_bounds_behind(parts: Iterable[Part]) -> Iterator[Part]:
    """Yield the parts; a word for a bound that stands alone behind a figure's comma is of it: "0.2 N·m, no more"."""
    before: Part | None = None
    for part in parts:
        bound = all(one.kind in ("max", "min") for one in part.elements)
        if before is not None and bound and before.figure is before.elements[-1] and not before.strong:
            part = replace(part, elements=(*before.elements, *part.elements))
        elif before is not None:
            yield before
        before = part
    if before is not None:
        yield before


def _cut(elements: Sequence[Element]) -> Iterator[Part]:
    current: list[Element] = []
    depth = 0
    for at, element in enumerate(elements):
        kind = element.kind
        depth = max(0, depth + (kind == "open") - (kind == "close"))
        if depth == 0 and _ends_part(current, kind, elements[at + 1 :]):
            if current:
                yield Part(elements=tuple(current), strong=kind in _STRONG)
            current = []
        elif _begins_another_figure(current, element):
            yield Part(elements=tuple(current))
            current = [element]
        else:
            current.append(element)
    if current:
        yield Part(elements=tuple(current), strong=True)


def _ends_part(current: Sequence[Element], kind: str, following: Sequence[Element]) -> bool:
    """Tell whether a sign or joining word ends a part: "and" does behind a figure or verb, or before a verb."""
    if kind in _CUTS:
        return True
    if kind not in _JOINTS:
        return False
    said = [one for one in current if one.kind not in _SILENT]
    after = next((one for one in following if one.kind not in _SILENT), None)
    before_verb = after is not None and after.kind in _VERBS
    return (
        any(one.kind == "figure" for one in said)
        or before_verb
        or (len(said) > 1 and said[-1].kind in _VERBS)
    )


def _begins_another_figure(current: Sequence[Element], element: Element) -> bool:
    return element.kind == "figure" and any(one.kind == "figure" for one in current)


def without_others(parts: Sequence[Part]) -> tuple[Part, ...]:
    """Return the parts without those between two stops that say nothing of torque, device, conductor or screw."""
    kept = (part for run in part_at_stops(parts) if any(map(_is_of_torque, run)) for part in run)
    return tuple(_without_ratings(part) for part in kept if not _is_labelled(part))


def _is_labelled(part: Part) -> bool:
    """Tell whether a part is a quantity of its own under its name: "Pitch: 5.08 mm"."""
    kinds = [one.kind for one in part.elements]
    return "quantity" in kinds[2:] and "colon" in kinds[1:3] and not _is_of_torque(part)


def _without_ratings(part: Part) -> Part:
    """Return a part without the voltages and currents that a terminal is rated for: "300 V 20 A 2.5 mm²"."""
    if part.figure is not None or not part.of("size"):
        return part
    kept = tuple(one for one in part.elements if not (one.kind == "quantity" and _RATING.fullmatch(one.text.strip())))
    return replace(part, elements=kept)


def part_at_stops(parts: Sequence[Part]) -> list[list[Part]]:
    """Return the parts in runs, each up to a stop or semicolon."""
    runs: list[list[Part]] = [[]]
    for part in parts:
        runs[-1].append(part)
        if part.strong:
            runs.append([])
    return [run for run in runs if run]


def _is_of_torque(part: Part) -> bool:
    return bool(part.of(*_OF_TORQUE) or part.things("terminal", "other", "mixed", "conductor"))


def gather(parts: Iterable[Part], *kinds: str) -> list[Token]:
    """Return the tokens of these kinds in several parts."""
    return [token for part in parts for token in part.of(*kinds)]
