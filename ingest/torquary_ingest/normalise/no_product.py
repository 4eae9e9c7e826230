"""Whether a sheet prints any line that could name its product: one that prints none goes by its own name."""

from __future__ import annotations

import re

from torquary_ingest.document import Reading
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.scope import texts_of
from torquary_ingest.skeleton import Skeleton
from torquary_ingest.skeleton.names import Rank, is_prose, rank_of
from torquary_schema.roles import spot_roles
from torquary_schema.words import spot

_MAY_BE_TYPE = re.compile(r"\d|(?<!\w)[A-Z]{2,6}(?!\w)")
"""A figure or a word of capitals beside words for torques: a type or series, or it may be one."""

_NOTE = re.compile(r"\W*\d{0,2}\W*\s*[a-zà-ÿ]")


def prints_no_product(reading: Reading, sheet: Skeleton, *, one_list: bool = False) -> bool:
    """Tell whether a sheet prints no line that could name its product: it goes by its own name then.

    `one_list`: the sheet has one table. A name over it that shows nothing of a product ("Lampiride") may be the
    maker's or the product's: either way the table is for what the sheet is about.
    """
    first = (section.heading for section in sheet.sections if section.place.page == sheet.page)
    heads = [sheet.title, *(sheet.head or first)]
    lines = [*heads, *texts_of(reading.scope)]
    bare = {line for line in heads if rank_of(line) is Rank.BARE} if one_list and reading.place.table else set()
    return not any(_may_be_product(line) for line in lines if line.strip() and line not in bare)


def _may_be_product(line: str) -> bool:
    """Tell whether something is left of a line without the words for torques, terminals, conductors, documents.

    A note, an edition or a sentence is no product.
    """
    bare = line.strip()
    documents = spot("document_word", bare)
    dated = any(match.concept in ("edition", "document_number", "page") for match in documents)
    if is_prose(bare) or _NOTE.match(bare) or dated:
        return False
    sense = make_sense(bare)
    if sense.has("torque", "terminal", "conductor") or spot("torque_kind", bare) or spot("tightened", bare):
        return bool(_MAY_BE_TYPE.search(sense.rest)) and not sense.units
    return not spot_roles(bare) and not any(match.end - match.start == len(bare) for match in documents)
