"""The clauses of one item beside each other: a limit beside its figure, kinds that a second clause leaves out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from torquary_ingest.clauses.clause import Clause, Stretch
from torquary_ingest.document import Doubt
from torquary_ingest.figures.conductor_words import ConductorWords, read_conductor_words

_SEVERAL = Doubt(
    code="condition_unread",
    message="several figures stand together and nothing says when each applies",
)


def inherit_kinds(clauses: Sequence[Clause]) -> list[Clause]:
    """Return the clauses; a second one that tells the ferrule otherwise has the conductor of the first.

    "Fine-stranded with ferrule 1.0 N·m, without 1.2 N·m" leaves the conductor out the second time.
    """
    found = list(clauses)
    for at, (first, second) in enumerate(pairwise(clauses), start=1):
        words = _words(found[at - 1]), _words(second)
        contrast = (
            None not in (words[0].ferrule, words[1].ferrule)
            and words[0].ferrule != words[1].ferrule
        )
        if (
            first.names == second.names
            and contrast
            and not (words[1].stranding or words[1].material)
        ):
            more = [kind for kind in found[at - 1].kinds if _tells_conductor(kind)]
            sizes = second.sizes or found[at - 1].sizes
            found[at] = replace(second, kinds=(*second.kinds, *more), sizes=sizes)
    return found


def _words(clause: Clause) -> ConductorWords:
    return read_conductor_words(" ".join(kind.text for kind in clause.kinds))


def _tells_conductor(kind: Stretch) -> bool:
    words = read_conductor_words(kind.text)
    return bool(words.stranding or words.material)


def join_bounds(clauses: Sequence[Clause]) -> list[Clause]:
    """Return the clauses; a figure and one not to exceed it by, for the same thing, are one clause."""
    found: list[Clause] = []
    for clause in clauses:
        last = found[-1] if found else None
        same = last is not None and _is_of_one_thing(last, clause)
        bare = not (clause.sizes or clause.kinds or clause.threads or clause.doubts)
        open_side = (
            last is not None
            and last.side != "torque_max"
            and not last.bound
            and clause.side == "torque_max"
        )
        if last is not None and same and bare and open_side:
            named = clause if clause.names else last
            drives = (*last.drives, *clause.drives)
            last = replace(
                last, end=clause.end, names=named.names, general=named.general, drives=drives
            )
            found[-1] = replace(last, bound=clause.figures)
        else:
            found.append(clause)
    return found


def _is_of_one_thing(last: Clause, clause: Clause) -> bool:
    """Tell whether two clauses are of one thing; "minimum 1.2 N·m, maximum 1.5 N·m for the …" names it once."""
    once = last.side == "torque_min" and not (last.names or last.general or last.doubts)
    return once or (last.names, last.general) == (clause.names, clause.general)


def doubt_alike(clauses: Sequence[Clause]) -> list[Clause]:
    """Return the clauses, those doubted that are for the same thing and conductor and give another torque."""

    def key(clause: Clause) -> tuple[object, ...]:
        said = (clause.sizes, clause.kinds, clause.threads, clause.devices)
        names = clause.names or ((clause.general,) if clause.general else ())
        return (
            tuple(one.text for one in names),
            *(tuple(one.text for one in group) for group in said),
        )

    figures: dict[tuple[object, ...], set[tuple[str, ...]]] = {}
    for clause in clauses:
        figures.setdefault(key(clause), set()).add(
            (clause.side, *(figure.text for figure in clause.figures))
        )
    return [
        replace(clause, doubts=(*clause.doubts, _SEVERAL))
        if len(figures[key(clause)]) > 1
        else clause
        for clause in clauses
    ]
