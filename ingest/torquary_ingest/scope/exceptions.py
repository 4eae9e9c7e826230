"""What a statement does not hold for: terminals and types that it excepts, and those of which its text says its own."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from torquary_ingest.figures.conductor_words import read_conductor_words
from torquary_ingest.headings.designations import find_types
from torquary_ingest.headings.sense import cut_out
from torquary_ingest.scope.unread import known_words, spans_of, unread_of
from torquary_schema.roles import spot_roles
from torquary_schema.words import fold, spot


@dataclass(frozen=True, slots=True, kw_only=True)
class Spared:
    """What a text's statement is not for: the roles of terminals and the types of devices, folded.

    `all`: something is excepted, and nothing tells what.
    """

    roles: frozenset[str] = frozenset()
    types: frozenset[str] = frozenset()
    all: bool = False


def part_exception(clause: str) -> tuple[str | None, frozenset[str]]:
    """Return a clause without its exception, and the roles excepted; None for the clause if it excepts other things."""
    found = next((match for match in spot("connective", clause) if match.concept == "except"), None)
    if found is None:
        return clause, frozenset()
    main, excepted = clause[: found.start], clause[found.end :]
    if not main.strip():
        return None, frozenset()
    roles = spot_roles(excepted)
    rest = cut_out(excepted, [*spans_of(roles), *spans_of(known_words(excepted))])
    if not roles or any(map(str.isalnum, rest)) or read_conductor_words(excepted).known:
        return None, frozenset()
    return main, frozenset(match.concept for match in roles)


def excepted_by(clauses: Iterable[str]) -> Spared:
    """Return what sentences except that begin with a word for it: "Exception: QN 80, aluminium too"."""
    found = [clause for clause in clauses if _opens_exception(clause)]
    told = [(frozenset(role.concept for role in spot_roles(clause)), find_types(clause)) for clause in found]
    return Spared(
        roles=frozenset(role for roles, _ in told for role in roles),
        types=frozenset(one for _, types in told for one in types),
        all=any(not roles and not types for roles, types in told),
    )


def _opens_exception(clause: str) -> bool:
    return any(match.concept == "except" and match.start == 0 for match in spot("connective", clause.lstrip()))


def named_alone(clause: str) -> tuple[str, frozenset[str], frozenset[str]]:
    """Return what a clause says of terminals that it names before a colon, their names folded, and their roles.

    "Main lugs and neutral lug: copper or aluminium" is for these alone. Names are empty where it names none.
    """
    name, colon, said = clause.partition(":")
    roles = spot_roles(name) if colon and said.strip() else ()
    whole = not spot_roles(said) and not unread_of(cut_out(name, [*spans_of(roles)]))
    if not roles or not whole:
        return clause, frozenset(), frozenset()
    return said, frozenset(fold(role.printed) for role in roles), frozenset(role.concept for role in roles)


def roles_left_open(clauses: Sequence[str]) -> frozenset[str]:
    """Return the roles that the last clause names before a colon: what is said of them stands elsewhere."""
    last = clauses[-1] if len(clauses) > 1 else ""
    return frozenset(role.concept for role in spot_roles(last)) if last.rstrip().endswith(":") else frozenset()
