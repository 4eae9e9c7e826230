"""What names a terminal, by rank: what is marked or called one in its row comes first, a general word last.

A thread, a rated current, a strength class, a drive, a standard, another property's value or a kind of document
never names one; a thread under a name of terminals is added to it. Nothing is taken for want of a better name.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import takewhile

from torquary_ingest.clauses.markers import is_item
from torquary_ingest.document import Entry, Reading
from torquary_ingest.evidence.introductions import names_applied_to, names_introduced
from torquary_ingest.evidence.no_names import is_no_name
from torquary_ingest.evidence.screws import names_product_of_terminals, names_terminal, names_terminal_screw
from torquary_ingest.figures.conductor_words import read_conductor_words
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.column_cells import cut_thread
from torquary_ingest.headings.grid import text_of
from torquary_ingest.headings.name_runs import name_runs, names_said
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.lexis.other_screws import other_screws
from torquary_ingest.lexis.threads import is_counted_thread, is_thread
from torquary_ingest.scope import Level, is_sentence
from torquary_ingest.skeleton.names import cut_numbering
from torquary_schema.roles import names_other_circuit, roles_of_label, says_terminal, spot_roles, tells_which
from torquary_schema.units import find_units
from torquary_schema.words import fold, spot

_KIT = re.compile(r"\bkits?\b", re.IGNORECASE)
_CONDUCTORS = frozenset({"neutral", "protective_earth", "earth", "pen", "equipotential"})
"""Roles of the poles and bars that are articles of their own."""

_EDGE = " -–—:"
_PARTS = re.compile(r"\s+[–—-]\s+|[:：]\s+")


def find_labels(reading: Reading) -> list[str]:
    """Return what names the terminal in its row, then what the headings say beyond known words; [] if nothing does."""
    parts = narrowing_parts(reading)
    rows = (entry for entry in reading.entries if entry.field == "terminal" and _with_heading(entry) in parts)
    headed = any(map(_is_headed, rows))
    # Beside a conductor's size a "slotted screw" is a terminal's.
    clamped = any(entry.field.startswith("conductor") for entry in reading.entries)
    named = any(_names_itself(text) or (clamped and make_sense(text).has("terminal")) for text in parts)
    return parts if headed or named else []


def narrowing_parts(reading: Reading) -> list[str]:
    """Return the texts of a row and its headings that may be parts of a name: "L1", "front", "S2".

    One that names a terminal proves the others to narrow it. Beside a type, numbers alone may count things.
    """
    typed = any(entry.field in ("model", "device", "series") for entry in reading.entries)
    cells = [entry for entry in reading.entries if entry.field == "terminal"]
    rows = [_with_heading(entry) for entry in cells if _may_be_part(entry, typed=typed)]
    more = [entry.heading.strip() for entry in reading.entries if entry.field == "qualifier"]
    return [*rows, *(text for text in more if _may_narrow(text, rows))]


def _may_narrow(text: str, rows: Sequence[str]) -> bool:
    """Tell whether what a heading says may be a part of a name: no device, general word, or kind of conductor."""
    kind = read_conductor_words(text).known and not says_terminal(text)
    general = not text or is_no_name(text) or is_general(text)
    return not (kind or general or _names_device(text) or _is_said(text, rows))


def _with_heading(entry: Entry) -> str:
    """Return a terminal's cell, numbers alone behind the heading that tells their role: "Control terminals 1-6".

    So are threads with their count: "Fixing bolts 4 × M5".
    """
    text = text_of(entry.cell)
    if is_counted_thread(text):
        return f"{entry.heading.strip(_EDGE)} {text}".strip()
    alone = not any(map(str.isalpha, text)) and names_terminal(entry.heading) and bool(spot_roles(entry.heading))
    return f"{entry.heading.strip()} {text}" if alone else text


def _is_said(text: str, names: Sequence[str]) -> bool:
    """Tell whether a name begins with a text: "control" beside "control terminals 1-6"."""
    return any(fold(name).startswith(f"{fold(text)} ") for name in names)


def _may_be_part(entry: Entry, *, typed: bool) -> bool:
    """Tell whether a terminal's cell may be a part of a name; a thread under a heading for terminals is a marking."""
    text = text_of(entry.cell).strip()
    if is_thread(text):
        return names_terminal(entry.heading)
    return bool(text) and not is_no_name(text) and not (typed and entry.may_count)


def _is_headed(entry: Entry) -> bool:
    """Tell whether a column is headed by a word for terminals, by kits of lugs, or by nothing.

    So is one that a person explained so.
    """
    explained = entry.taught is not None and entry.taught.field == "terminal"
    known = make_sense(entry.heading).has("terminal") or heads_kits(entry.heading)
    return explained or known or not entry.heading.strip()


def heads_kits(heading: str) -> bool:
    """Tell whether a heading is of kits: lugs of breakers come in kits, whose number names them."""
    return _KIT.search(heading) is not None


def _names_itself(text: str) -> bool:
    """Tell whether a text names a terminal, or another screw, whatever stands over it."""
    return bool(names_terminal(text) or names_terminal_screw(text) or spot_roles(text) or other_screws(text))


def _names_device(text: str) -> bool:
    return bool(spot("family", text)) and not (spot_roles(text) or names_terminal(text) or other_screws(text))


def is_general(text: str) -> bool:
    """Tell whether a text is nothing but a general word for terminals, and no role: beside a name it adds nothing."""
    stripped = len(text.strip())
    if not stripped or any(len(role.printed) > 1 for role in spot_roles(text)):
        return False
    heads = (m for m in spot("heading", text) if m.concept == "terminal")
    return any(match.end - match.start == stripped for match in (*heads, *spot("tightened", text)))


def names_over(reading: Reading, levels: Sequence[Level]) -> Iterator[str]:
    """Yield what may name the terminal where its row does not, by rank; a general word ("terminals") comes last."""
    yield from _accessories(reading)
    yield from _described(reading)
    for line in _names_in_lines(levels):
        yield kind_said(reading, line) or line
    yield from names_applied_to(levels)
    said = _names_in_headings(reading)
    yield from (text for text in said if not is_general(text))
    yield from _clamps(reading)
    yield from _products(levels)
    qualifiers = [entry.heading.strip() for entry in reading.entries if entry.field == "qualifier"]
    yield from filter(is_general, (*said, *qualifiers))
    yield from _general_in_sizes(reading)
    yield from names_introduced(levels)


def _general_in_sizes(reading: Reading) -> Iterator[str]:
    """Yield the general word for terminals in a heading of sizes: "Sección del borne (mm²)"."""
    for entry in reading.entries:
        if entry.field.startswith("conductor"):
            said = [match for match in spot("tightened", entry.heading) if match.concept == "terminal"]
            yield from (match.printed for match in said if not spot("clamp", match.printed))


def _accessories(reading: Reading) -> Iterator[str]:
    """Yield the names of accessories in a row that are a circuit's ("Auxiliary contact"): they name its terminals.

    The row gives the accessory's type, and the conductors that it takes.
    """
    fields = {entry.field.split("_")[0] for entry in reading.entries}
    if {"model", "conductor"} <= fields:
        names = (text_of(entry.cell) for entry in reading.entries if entry.field == "device")
        yield from filter(names_other_circuit, names)


def _described(reading: Reading) -> Iterator[str]:
    """Yield descriptions of articles that begin with a word for a terminal or its conductor: "Earth bar, 5-pole"."""
    for text in (text_of(entry.cell) for entry in reading.entries if entry.field == "device"):
        told = [match for match in spot("tightened", text) if match.concept == "terminal"]
        told += [role for role in spot_roles(text) if role.concept in _CONDUCTORS and len(role.printed) > 1]
        if any(match.start == 0 for match in told) and not (is_no_name(text) or _names_device(text)):
            yield text


def kind_said(reading: Reading, line: str) -> str:
    """Return what a row's description calls the terminal, where the line over it names several kinds and this is one.

    "12-way neutral bar" under "Neutral and earth bars"; "" if nothing does.
    """
    over = set(roles_of_label(line))
    texts = (text_of(entry.cell) for entry in reading.entries if entry.field == "device")
    kinds = ((text, set(roles_of_label(text))) for text in texts if not is_no_name(text))
    return next((text for text, own in kinds if own and own < over), "")


def _names_in_lines(levels: Sequence[Level]) -> Iterator[str]:
    """Yield what the lines over a row name: of a sentence its names, else the line.

    Behind a bullet stands another item of the list: what heads the list is not known then.
    """
    said = (text for level in levels if level.kind == "over" for text in level.texts)
    over = (cut_numbering(text) for text in takewhile(lambda text: not is_item(text), said))
    for line in (_without_torque(text) for text in over if not states_torque(text)):
        if is_sentence(line):
            if _names_terminals(line):
                yield names_said(line)
        elif names_screws_of(line) and not (is_no_name(line) or _opens_small(line) or _heads_data(line)):
            yield _part_of_terminals(line)


def _part_of_terminals(line: str) -> str:
    """Return the part of a line that names terminals behind a kind of device: "Contactors – line and load terminals".

    The line itself where it has no such parts.
    """
    parts = [part.strip() for part in _PARTS.split(line) if part.strip()]
    named = [part for part in parts if names_terminal(part) and not spot("family", part)]
    kinds = [part for part in parts if _names_device(part)]
    return named[0] if len(named) == 1 and kinds and len(parts) == len(kinds) + 1 else line


def _heads_data(line: str) -> bool:
    """Tell whether a line is over data of a device or is data: "Coil characteristics", "Input max. 6 kWp"."""
    data = make_sense(line).has("property") or _limits(line)
    return data and not says_terminal(line)


def _limits(line: str) -> bool:
    """Tell whether a line gives the limit of something that is no conductor's size."""
    ends = [match.end for match in spot("connective", line) if match.concept in ("max", "min")]
    sized = any(unit.kind in ("area", "gauge") for unit in find_units(line))
    return any(any(map(str.isdigit, line[end:])) for end in ends) and not sized


def _opens_small(line: str) -> bool:
    """Tell whether a line begins with a small word: "à cage, haut et bas" goes on with what stands before it."""
    small = (match for match in spot("instruction", line) if match.concept == "small")
    return any(match.start == 0 and len(match.printed) < len(line) for match in small)


def _names_in_headings(reading: Reading) -> list[str]:
    """Return what the headings of torques say of terminals, and of threads: one for terminals is their marking.

    Beside a label of its own a row's thread is no marking, and a heading is a part of the name only where it tells
    which terminals: "of the terminal" adds nothing.
    """
    torques = list(filter(None, (_named_in(one.heading) for one in reading.entries if one.field.startswith("torque"))))
    if any(entry.field == "terminal" for entry in reading.entries):
        return list(filter(tells_which, torques))
    threads = (entry.heading for entry in reading.entries if entry.field == "thread")
    return [*torques, *(text.strip() for text in threads if names_terminal(text))]


def _clamps(reading: Reading) -> Iterator[str]:
    """Yield what a kind of clamp names, or the property that it is of: "Bornes" of "Bornes | à cage"."""
    for entry in (entry for entry in reading.entries if entry.field == "clamp"):
        text = text_of(entry.cell)
        if is_general(entry.heading) and not says_terminal(text):
            yield entry.heading.strip()
        elif names_terminal(text):
            yield text


def _products(levels: Sequence[Level]) -> Iterator[str]:
    """Yield the lines of the sheet's head that name a product that is terminals, and their role."""
    head = (text for level in levels if level.kind == "sheet" for text in level.texts)
    yield from (line for line in head if names_product_of_terminals(line) and spot_roles(line) and not is_no_name(line))


def _without_torque(line: str) -> str:
    """Return what a line says beside a torque or size that it heads: "Bar terminals, torque in lb·ft"."""
    sense = make_sense(line)
    return sense.rest if sense.units and sense.has("torque", "conductor") else line


def _names_terminals(line: str) -> bool:
    """Tell whether a sentence speaks of a terminal: of another screw it may speak in passing.

    One that names in several places speaks of several things: "the wire of the input ... to the ground bar".
    """
    return names_terminal(line) and not other_screws(line) and len(name_runs(line)) == 1


def names_screws_of(line: str) -> bool:
    """Tell whether a line names terminals, or other screws, and is not the name of a device alone."""
    said = [match for match in spot("tightened", line) if match.concept == "terminal"]
    named = bool(spot_roles(line)) and not _names_device(line)
    joined = names_product_of_terminals(line) or names_terminal(line)  # "Relay contact 13, 14"
    if said or other_screws(line) or (named and joined):
        return True
    return not spot("family", line) and (named or names_terminal(line))


def _named_in(heading: str) -> str:
    """Return what a torque's heading says of terminals, beside the torque or in it: "Anzugsdrehmoment der Klemmen"."""
    rest = make_sense(heading).rest
    if rest and _names_itself(rest) and not is_no_name(rest):
        return rest
    words = [match for match in spot("tightened", heading) if match.concept == "terminal"]
    # A role is looked for in what is left: Korean "upper limit" begins with the sign for a phase.
    roles = [role for role in spot_roles(heading) if role.printed in rest]
    return " ".join(match.printed for match in sorted((*words, *roles), key=lambda match: match.start))


def thread_of(reading: Reading) -> str | None:
    """Return the thread as printed, in its own column or in the place of a name, without the drive of its screw."""
    texts = [cut_thread(text_of(entry.cell)) for entry in reading.entries if entry.field == "thread"]
    cells = [text_of(entry.cell) for entry in reading.entries if entry.field == "terminal"]
    texts += [text for text in cells if is_thread(text)]
    return " / ".join(dict.fromkeys(texts)) or None

