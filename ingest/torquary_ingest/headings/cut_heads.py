"""Headings over several columns that were cut between two: "Coil and | auxiliary terminals"."""

from __future__ import annotations

from itertools import pairwise

from torquary_ingest.document import Doubt
from torquary_ingest.headings.grid import Grid, distinct
from torquary_ingest.headings.sections import Section
from torquary_schema.words import spot


def find_cut_head(grid: Grid, section: Section) -> Doubt | None:
    """Return a doubt where a line of a heading ends in "and", and the heading beside it goes on in small letters."""
    for row in section.headings:
        for left, right in pairwise(distinct(grid.rows[row])):
            if right.text[:1].islower() and any(map(_ends_in_joint, left.text.split("\n"))):
                said = f"{' '.join(left.text.split())} | {' '.join(right.text.split())}"
                message = f"the heading {said!r} is cut between two columns; look which columns it heads"
                return Doubt(code="table_shifted", message=message)
    return None


def _ends_in_joint(line: str) -> bool:
    said = line.rstrip()
    return any(match.concept in ("and", "or") and match.end == len(said) for match in spot("connective", said))
