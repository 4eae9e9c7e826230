"""Whether one sheet is an edition of another: by the same document number, or the same maker and title."""

from __future__ import annotations

from typing import Literal

from torquary_catalogue.store.editions import compare_editions
from torquary_catalogue.store.identity import Identity
from torquary_schema.words import fold

Kinship = Literal["later", "earlier", "unclear", "none"]

_TELLING = 6
"""Letters and figures of a document number that is surely no other maker's (common practice)."""


def relate(this: Identity, other: Identity) -> Kinship:
    """Tell whether `this` is a later or an earlier edition of the other, which of them is unclear, or that it is none.

    Of editions of one document the order must be sure; of sheets that are only alike it is unclear.
    """
    if _contradict(this.maker, other.maker):
        return "none"
    shown = _same_number(this, other) or _same_title(this, other)
    if not shown and not _alike(this, other):
        return "none"
    order = compare_editions((this.edition, this.edition_date), (other.edition, other.edition_date))
    return order if shown else "unclear"


def _contradict(one: str, other: str) -> bool:
    return bool(fold(one) and fold(other)) and fold(one) != fold(other)


def _same(one: str, other: str) -> bool:
    return bool(fold(one)) and fold(one) == fold(other)


def _same_number(this: Identity, other: Identity) -> bool:
    """Tell whether the document numbers are one; a short one, only beside the same maker or title."""
    if not _same(this.document_number, other.document_number):
        return False
    long = sum(sign.isalnum() for sign in this.document_number) >= _TELLING
    return long or _same(this.maker, other.maker) or _same(this.title, other.title)


def _same_title(this: Identity, other: Identity) -> bool:
    """Tell whether title and maker are one and the title says what it is about.

    It names a type (a figure in it), or both name the same product or a device in common. Where no maker is read,
    the file names must be the same too, and another line of the head, such as the maker's unread name, may speak
    for the title.
    """
    numbers = (this.document_number, other.document_number)
    if not _same(this.title, other.title) or _contradict(*numbers) or _contradict(this.product, other.product):
        return False
    speaks = any(sign.isdigit() for sign in this.title)
    if _same(this.maker, other.maker):
        return speaks or _same(this.product, other.product) or bool(this.devices & other.devices)
    shared = {fold(line) for line in this.head} & {fold(line) for line in other.head}
    return this.file == other.file and (speaks or bool(shared - {fold(this.title)}))


def _alike(this: Identity, other: Identity) -> bool:
    """Tell whether they may be editions of one document, although that is not shown."""
    titled = _same(this.title, other.title) and bool(this.devices & other.devices)
    return titled or _same(this.document_number, other.document_number)
