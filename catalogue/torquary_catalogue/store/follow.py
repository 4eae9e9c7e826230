"""What follows for other sheets when something changed about one: editions, carried decisions, disagreements."""

from __future__ import annotations

from collections.abc import Collection

from torquary_catalogue.store.carried import carry_from_earlier
from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.disagreements import note_disagreements
from torquary_catalogue.store.identity import put_identity
from torquary_catalogue.store.record import read_made
from torquary_catalogue.store.standing import Judged, judge, put_standing, put_state


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


def _read_related(catalogue: Catalogue, digest: str) -> list[str]:
    """Return the sheets that a decision names together with this one."""
    made = (*read_made(catalogue, sheet=digest), *read_made(catalogue, other=digest))
    return [one for each in made for one in (each.sheet, each.other) if one is not None and one != digest]
