"""The torques that the items of a document tell, those among them that are told as "the same torque"."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from torquary_ingest.clauses.clause import Clause
from torquary_ingest.clauses.conditions import cases_in
from torquary_ingest.clauses.items import Item
from torquary_ingest.clauses.markers import MARKER
from torquary_ingest.clauses.naming import name_in_heading
from torquary_ingest.clauses.reading import read_clauses
from torquary_ingest.clauses.thing import Thing
from torquary_ingest.document import Doubt
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.designations import find_types
from torquary_schema.roles import roles_of_label
from torquary_schema.values import ScopeText
from torquary_schema.words import spot

_VARIANT_WORDS = 2
"""Words at most behind "according to" that name what devices differ in: "the size"."""


_LEAD_WORDS = 4
"""Words of a device's name before a colon at most, its type among them (own choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """A clause, the item that it stands in, and the item that prints its figure, which may be an earlier one.

    `over` is what a heading names, where the item itself names nothing; `general` a word of the item that goes with it.
    """

    item: Item
    clause: Clause
    source: Item
    over: str = ""
    general: bool = False

    @property
    def scope(self) -> tuple[ScopeText, ...]:
        """The headings over the item, nearest first, those of connections aside: they name no device."""
        return tuple(one for one in self.item.over if not _is_of_connections(one.text))

    @property
    def page(self) -> int:
        """The page that prints the figure."""
        return self.source.page_of(self.clause.figures[0].start)


def tell_torques(items: Iterable[Item], members: tuple[str, ...] = ()) -> Iterator[Told]:
    """Yield the clauses of the items that give a torque; "the same torque" is the last one told on the same page.

    `members` are the devices that the sheet tells apart.
    """
    before: list[Told] = []
    for item in items:
        here: list[Told] = []
        known = (*members, *device_in_lead(item.text))
        told_in = read_clauses(item.text, known, valued=item.valued) if _speaks_of_torque(item.text) else ()
        for clause in told_in:
            told = (
                Told(item=item, clause=clause, source=item)
                if clause.figures
                else _again(item, clause, here or before)
            )
            if told is not None:
                here += _for_same(told, before) if clause.again else [told]
        yield from map(_under_headings, here)
        before = here or before


def device_in_lead(text: str) -> Iterator[str]:
    """Yield the device that an item begins with before a colon: "Relay card RC-1: terminals 0.2 to 1.5 mm²; 0.3 N·m".

    A label that names what is tightened is no device: "Dry contacts CN5:", "Terminals X1:".
    """
    lead, colon, _ = MARKER.sub("", text, count=1).partition(":")
    words = lead.split()
    named = bool(colon) and 1 < len(words) <= _LEAD_WORDS and bool(find_types(words[-1]))
    if named and name_in_heading(lead) is None and not roles_of_label(lead):
        yield " ".join(words)


def _under_headings(told: Told) -> Told:
    """Return a clause with what the headings over its item say of it."""
    over = _named_over(told.item, told.clause) if not told.over else None
    names = () if over is not None else told.clause.names
    clause = _under_lead(told.item, replace(told.clause, names=names))
    if over is None:
        return replace(told, clause=clause)
    return replace(told, clause=clause, over=over.text, general=over.kind == "connection")


def _for_same(told: Told, before: Sequence[Told]) -> list[Told]:
    """Return a clause for "the same terminals" once for each terminal of the item before.

    It is in doubt where that names none, or is itself in doubt about what it is for.
    """
    names = list(dict.fromkeys(one.over or " / ".join(name.text for name in one.clause.names) for one in before))
    doubted = any(doubt.code == "terminal_missing" for one in before for doubt in one.clause.doubts)
    if names and all(names) and not doubted and before[-1].page == told.page:
        return [replace(told, over=name) for name in names]
    said = told.clause.general.text if told.clause.general else ""
    message = f"{said!r} are those named before; look at the sheet which they are"
    doubt = Doubt(code="terminal_missing", message=message)
    return [replace(told, clause=replace(told.clause, doubts=(*told.clause.doubts, doubt)))]


def _speaks_of_torque(text: str) -> bool:
    return states_torque(text) or any(
        match.concept == "same_torque" for match in spot("instruction", text)
    )


def _is_of_connections(heading: str) -> bool:
    thing = name_in_heading(heading)
    return thing is not None and thing.kind == "connection"


def _named_over(item: Item, clause: Clause) -> Thing | None:
    """Return what the nearest heading that names a thing names, where the clause itself does not.

    The name of a property goes before what its value names: "Earth screw M6 | ring lug 6 mm², torque 5 N·m".
    """
    named = name_in_heading(item.over[0].text) if item.valued and item.over else None
    if named is not None:
        return named
    doubted = any(doubt.code == "terminal_missing" for doubt in clause.doubts)
    headings = [one.text for one in item.over] if not clause.names and not doubted else []
    return next(filter(None, map(name_in_heading, headings)), None)


def _under_lead(item: Item, clause: Clause) -> Clause:
    """Return a clause, doubted where the line that leads its list limits it: "For size 4 models:".

    Where the lead says "according to the size", the device that the item itself names is what it means.
    """
    over = item.over[0].text if item.over else ""
    lead = over if over.rstrip().endswith((":", "：")) else ""
    if (clause.devices and _leaves_to_items(lead)) or any(device_in_lead(lead)):
        return clause
    unread = cases_in(lead) if lead else []
    if not unread:
        return clause
    message = (
        f"{lead.strip()!r} stands over it and was not understood; decide when the figure holds"
    )
    return replace(clause, doubts=(*clause.doubts, Doubt(code="condition_unread", message=message)))


def _leaves_to_items(lead: str) -> bool:
    """Tell whether a lead ends in "according to the size": its items say for which size each is."""
    ties = [match for match in spot("connective", lead) if match.concept in ("see", "per")]
    behind = lead[ties[-1].end :].strip(" :：") if ties else ""
    variants = [match for match in spot("instruction", behind) if match.concept == "variant"]
    return bool(variants) and variants[-1].end == len(behind) and len(behind.split()) <= _VARIANT_WORDS


def _again(item: Item, clause: Clause, before: list[Told]) -> Told | None:
    """Return a clause with the figure told last; a doubt where several were told together, None for another page."""
    last = before[-1] if before else None
    if last is None or last.page != item.lines[0].page:
        return None
    figures = {tuple(figure.text for figure in told.clause.figures) for told in before}
    message = (
        f"{clause.quantity!r} may mean any of several torques told before it; look at the sheet"
    )
    doubts = (Doubt(code="condition_unread", message=message),) if len(figures) > 1 else ()
    given = replace(
        clause,
        figures=last.clause.figures,
        side=last.clause.side,
        bound=last.clause.bound,
        doubts=(*clause.doubts, *last.clause.doubts, *doubts),
    )
    return Told(item=item, clause=given, source=last.source)
