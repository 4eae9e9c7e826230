"""What sentences over a table call the terminals that its figures are for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from torquary_ingest.evidence.screws import names_terminal
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.name_runs import name_runs, names_said
from torquary_ingest.lexis.other_screws import other_screws
from torquary_ingest.scope import Level, split_sentences
from torquary_schema.roles import spot_roles
from torquary_schema.words import spot

_APPLYING = frozenset({"figures", "apply"})


def names_applied_to(levels: Sequence[Level]) -> Iterator[str]:
    """Yield the terminals that a sentence says the figures are for: "Torque values apply to the wire binding screw"."""
    for clause in _clauses_over(levels):
        said = {match.concept for match in spot("statement", clause)}
        main = _before_exception(clause)
        if said >= _APPLYING and names_terminal(main) and not other_screws(main):
            yield names_said(main)


def names_introduced(levels: Sequence[Level]) -> Iterator[str]:
    """Yield what sentences begin with, where it names terminals in general: "Screw terminals for ring lugs"."""
    for clause in _clauses_over(levels):
        start, end = next(iter(name_runs(clause)), (1, 1))
        begins = start == 0 or any(m.start == 0 and m.end >= start for m in spot("clamp", clause))
        if begins and _names_any(clause[:end]) and not states_torque(clause):
            yield clause[:end]


def _names_any(text: str) -> bool:
    """Tell whether a text names terminals and not which: no role, no marking, and they are screwed."""
    screwless = any(match.concept == "screwless" for match in spot("clamp", text))
    return names_terminal(text) and not (screwless or spot_roles(text) or any(map(str.isdigit, text)))


def _clauses_over(levels: Sequence[Level]) -> Iterator[str]:
    lines = (text for level in levels if level.kind in ("over", "sheet") for text in level.texts)
    parted = (split_sentences(line) for line in lines)
    yield from (clause.strip() for clauses in parted if len(clauses) > 1 for clause in clauses)


def _before_exception(clause: str) -> str:
    """Return a clause without what it says that it is not for: "…, not to the mounting bolt"."""
    denied = (match.start for match in spot("statement", clause) if match.concept == "not")
    return clause[: next(denied, len(clause))].rstrip(" ,;(–-")
