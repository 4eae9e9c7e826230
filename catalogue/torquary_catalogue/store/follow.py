"""What follows for other sheets when something changed about one: editions, carried decisions, disagreements."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from contextlib import contextmanager

from torquary_catalogue.store.batch import Batch
from torquary_catalogue.store.carried import carry_from_earlier
from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.decisions import settle_new
from torquary_catalogue.store.disagreements import note_disagreements
from torquary_catalogue.store.identity import put_identity
from torquary_catalogue.store.record import read_made
from torquary_catalogue.store.sheet_words import note_words_of
from torquary_catalogue.store.standing import Judged, judge, judge_new, put_standing, put_state


def follow(catalogue: Catalogue, digest: str, beside: Collection[str] = ()) -> Judged:
    """Put in force what a change of a sheet's reading, identity, standing or decisions brings about, for all sheets.

    `beside` are further sheets that changed with it.
    """
    put_identity(catalogue, digest)
    put_state(catalogue, digest)
    judged = judge(catalogue, digest)
    gone = put_standing(catalogue, digest)
    near = [digest, *beside, *_read_related(catalogue, digest)]
    left = [finding for one in dict.fromkeys(near) for finding in carry_from_earlier(catalogue, one)]
    note_disagreements(catalogue, near)
    return Judged(judged.replaced, (*judged.findings, *gone, *left))


def follow_new(catalogue: Catalogue, digest: str) -> Judged:
    """Do as `follow` for a sheet that is new and in no decision: most of it has nothing to do there."""
    judged = judge_new(catalogue, digest)
    if not judged.plain:
        return follow(catalogue, digest)
    gone = settle_new(catalogue, digest)
    note_disagreements(catalogue, [digest])
    return Judged(findings=(*judged.findings, *gone))


@contextmanager
def together(catalogue: Catalogue) -> Iterator[None]:
    """Write several sheets inside: their words, and where they disagree with others, are noted once, at the end."""
    batch = catalogue.batch = Batch()
    try:
        yield
    finally:
        catalogue.batch = None
    with catalogue.transaction():
        _note(catalogue, batch)


@contextmanager
def at_once(catalogue: Catalogue) -> Iterator[None]:
    """Do all that is done inside, or nothing of it, and note once what is noted of the sheets that it changes."""
    with catalogue.transaction():
        if catalogue.batch is not None:
            yield
            return
        batch = catalogue.batch = Batch()
        try:
            yield
        finally:
            catalogue.batch = None
        _note(catalogue, batch)


def _note(catalogue: Catalogue, batch: Batch) -> None:
    note_words_of(catalogue, [*batch.sheets])
    note_disagreements(catalogue, batch.sheets)


def _read_related(catalogue: Catalogue, digest: str) -> list[str]:
    """Return the sheets that a decision names together with this one."""
    made = (*read_made(catalogue, sheet=digest), *read_made(catalogue, other=digest))
    return [one for each in made for one in (each.sheet, each.other) if one is not None and one != digest]
