"""What a remark of a row says of the conductors that its figure holds for."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.document import Doubt, Entry
from torquary_ingest.figures.conductor_words import read_conductor_words
from torquary_ingest.scope import agrees, fill_kinds, read_statement
from torquary_ingest.scope.unread import unread_of
from torquary_schema.values import Conductor
from torquary_schema.words import spot

_SHORT = 2
"""Unread words beside a kind of conductor up to which a remark is taken to limit it: "ferrule required"."""


def limit_by_remark(conductors: Sequence[Conductor], entry: Entry) -> tuple[list[Conductor], list[Doubt]]:
    """Return the conductors with what a row's remark says of their kind; a doubt where it was not understood."""
    text = entry.cell.text.strip()
    if not read_conductor_words(text).known:
        return list(conductors), []
    stated = read_statement(text, over=True)
    if stated is not None and all(agrees(stated, conductor) for conductor in conductors):
        return [fill_kinds(conductor, stated) for conductor in conductors or [Conductor()]], []
    limits = any(match.concept in ("only", "except") for match in spot("connective", text))
    if stated is not None or limits or len(unread_of(text).split()) <= _SHORT:
        message = f"the remark {text!r} limits the conductors and was not understood; look at the sheet"
        return list(conductors), [Doubt(code="condition_unread", message=message)]
    return list(conductors), []
