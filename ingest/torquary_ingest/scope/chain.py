"""The chain of texts that speak for a figure: clause, row, headings, lines over it, the sheet; nearest first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from torquary_ingest.document import Entry, Reading
from torquary_ingest.headings.designations import find_types
from torquary_ingest.headings.grid import text_of
from torquary_ingest.scope.over import texts_of
from torquary_ingest.skeleton import Skeleton
from torquary_ingest.skeleton.names import cut_numbering
from torquary_schema.roles import spot_roles
from torquary_schema.values import ScopeKind, ScopeText
from torquary_schema.words import Kind, spot

LevelKind = Literal["row", "heading", "over", "sheet"]

_IN_ROW = ("terminal", "purpose", "clamp")
_ITEMS = ("device", "model", "series")
_HEADED = ("terminal", "thread")


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """Printed texts that stand equally near to a figure.

    "row": its clause or row with the torque's own headings, which say what is tightened; "heading": other headings;
    "over": a section row, caption, list heading, introduction or section; "sheet": the sheet's head.
    """

    kind: LevelKind
    scope: tuple[ScopeText, ...]

    @property
    def texts(self) -> tuple[str, ...]:
        """Return the printed texts."""
        return texts_of(self.scope)


def chain_of(reading: Reading, sheet: Skeleton) -> tuple[Level, ...]:
    """Return the levels of a reading, nearest first; blank texts are left out."""
    return tuple(level for level in _levels(reading, sheet) if level.scope)


def scope_of(chain: Iterable[Level]) -> tuple[ScopeText, ...]:
    """Return all texts of a chain, each once, nearest first."""
    return tuple({one.text: one for level in reversed(tuple(chain)) for one in reversed(level.scope)}.values())[::-1]


def _levels(reading: Reading, sheet: Skeleton) -> Iterator[Level]:
    page = reading.place.page
    cells = [text_of(entry.cell) for entry in reading.entries if entry.field in _IN_ROW or _names_screw(entry)]
    torques = [entry.heading for entry in reading.entries if entry.field.startswith("torque")]
    parts = [entry.heading for entry in reading.entries if entry.field == "qualifier"]
    # A text without a table is a sentence: what heads its torque is the clause that gives it.
    headed: ScopeKind = "heading" if reading.place.table else "clause"
    heads = [*_said("row", cells, page), *_said(headed, torques, page), *_said("heading", parts, page)]
    yield Level(kind="row", scope=tuple(heads))
    others = [entry.heading for entry in reading.entries if entry.field in _HEADED or _heads_sizes_of_part(entry)]
    yield Level(kind="heading", scope=_said("heading", others, page))
    own = _own(reading, sheet)
    yield from (Level(kind="over", scope=(one,)) for one in own)
    over = (one if one in own else replace(one, kind="sheet") for one in reading.scope)
    yield Level(kind="sheet", scope=(*over, *_said("sheet", (sheet.title, *sheet.head), sheet.page)))


def _heads_sizes_of_part(entry: Entry) -> bool:
    """Tell whether a size stands under a heading that says which terminals take it."""
    return entry.field.startswith("conductor") and bool(spot_roles(entry.heading))


def _names_screw(entry: Entry) -> bool:
    """Tell whether a cell under "Item" or the like names what a screw is for, and no device: "Cover screw"."""
    text = text_of(entry.cell)
    return entry.field in _ITEMS and bool(spot("purpose", text)) and not (spot("family", text) or find_types(text))


def _own(reading: Reading, sheet: Skeleton) -> list[ScopeText]:
    """Return the texts over a reading that are its own, nearest first.

    The head's lines stand over every table and speak last, for the whole; the line right over the reading is its own.
    """
    over = [one for one in reading.scope if one.text != sheet.title]
    names = [one.text for one in over if not one.text.endswith(".")]
    nearest = [line for line in names[:1] if _begins_with_a_known_word(line)]
    return [one for one in over if one.text not in sheet.head or one.text in nearest]


def _begins_with_a_known_word(line: str) -> bool:
    """Tell whether a line of the sheet's head begins with a word for terminals: "Quillhaven Terminals" is a maker."""
    kinds: tuple[Kind, ...] = ("role", "tightened", "clamp", "purpose", "heading", "torque_kind")
    title = cut_numbering(line)
    device, _, rest = title.partition(" – ")  # "Contactors – line and load terminals" is over its list too
    said = rest if rest and spot("family", device) else title
    return any(match.start <= 1 for kind in kinds for match in spot(kind, said))


def _said(kind: ScopeKind, texts: Sequence[str], page: int | None) -> tuple[ScopeText, ...]:
    told = dict.fromkeys(" ".join(text.split()) for text in texts)
    return tuple(ScopeText(kind=kind, text=text, page=page) for text in told if text)
