"""What names a terminal, by rank: what is marked or called one in its row comes first, a general word last.

A thread, a rated current, a strength class, a drive, a standard, another property's value or a kind of document
never names one; a thread under a name of terminals is added to it. Nothing is taken for want of a better name.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from torquary_ingest.document import Entry, Reading
from torquary_ingest.evidence.levels import Level
from torquary_ingest.evidence.screws import (
    is_sentence,
    names_product_of_terminals,
    names_terminal,
    other_screws,
)
from torquary_ingest.figures import read_drive
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.column_cells import cut_thread
from torquary_ingest.headings.grid import text_of
from torquary_ingest.headings.name_runs import names_said
from torquary_ingest.headings.sense import cut_out, make_sense
from torquary_schema.roles import spot_roles
from torquary_schema.units import find_units
from torquary_schema.words import spot

_THREAD = re.compile(r"(?:M\s?\d{1,2}(?:[.,]\d)?|UNC|UNF|#\d+-\d+|\d+/\d+-\d+)(?![\w])(?:\s*[x×]\s*\d+)?", re.I)
_STRENGTH_CLASS = re.compile(r"\d{1,2}\.\d|A[24]-\d{2}")
_CURRENT = re.compile(r"\d+(?:[.,]\d+)?\s*(?:[-–…/]\s*\d+\s*)?(?:m|k)?A(?:\s*(?:AC|DC))?")
_STANDARD = re.compile(r"(?:IEC|EN|DIN|ISO|UL|VDE|BS|NEC|CSA)[\s-]?(?:EN\s)?\d.*", re.I)
_CONTACTS = re.compile(r"\d+\s*[x×]?\s*(?:NO|NC|CO|C/O)(?!\w)")  # "1 NO + 1 NC" counts contacts
_NAME_WORDS = 12
"""Words of a name of a terminal at most, in each of the languages it is printed in."""


def find_labels(reading: Reading) -> list[str]:
    """Return what names the terminal in its row, then what the headings say beyond known words; [] if nothing does."""
    typed = any(entry.field in ("model", "device", "series") for entry in reading.entries)
    rows = [text for entry in reading.entries if entry.field == "terminal" and (text := _name_in(entry, typed=typed))]
    more = [text for entry in reading.entries if entry.field == "qualifier" and (text := entry.heading.strip())]
    more = [text for text in more if not (is_no_name(text) or _names_device(text) or (rows and is_general(text)))]
    # A name proved by one part may be narrowed by others: "L1 / front", "Supply / X1".
    return [*rows, *more] if rows or any(map(_names_itself, more)) else []


def _name_in(entry: Entry, *, typed: bool) -> str:
    """Return the text of a terminal's cell if it names a terminal, else ""; beside a type a bare number counts."""
    text = text_of(entry.cell)
    if not text or is_no_name(text) or (typed and text.strip().isdecimal()):
        return ""
    said = _names_itself(text)
    headed = make_sense(entry.heading).has("terminal") or not entry.heading.strip()
    return text if said or headed else ""


def _names_itself(text: str) -> bool:
    """Tell whether a text names a terminal, or another screw, whatever stands over it."""
    return bool(names_terminal(text) or spot_roles(text) or other_screws(text))


def is_no_name(text: str) -> bool:
    """Tell whether a text can be no terminal's name: a thread, current, class, drive, standard, size, sentence."""
    bare = text.strip(" ()[].,:;")
    shapes = (_THREAD, _STRENGTH_CLASS, _CURRENT, _STANDARD)
    if any(shape.fullmatch(bare) for shape in shapes) or _CONTACTS.match(bare):
        return True
    if states_torque(text) or _is_value(text) or _is_document(bare):
        return True
    if len(text.split()) > _NAME_WORDS * max(1, text.count(" / ") + 1):
        return True
    return _is_drive(text)


def _is_drive(text: str) -> bool:
    """Tell whether a text is nothing but a drive with its size; "Battery +/-" is a name."""
    words = [(match.start, match.end) for match in spot("drive", text) if len(match.printed) > 1]
    rest = cut_out(text, [*words, *((unit.start, unit.end) for unit in find_units(text))])
    return bool(words) and bool(read_drive(text)) and not any(map(str.isalpha, rest))


def _is_value(text: str) -> bool:
    """Tell whether a text is a quantity with its unit, or the corner of a list ("Value", "Unit")."""
    sense = make_sense(text)
    if sense.figure and sense.units:
        return True
    heads = bool(sense.fields) and not sense.rest and not sense.has("terminal")
    return heads and set(sense.fields) <= {"value", "unit", "property", "torque", "conductor", "thread", "model"}


def _is_document(text: str) -> bool:
    found = spot("document_word", text)
    return any(match.end - match.start == len(text) for match in found)


def _names_device(text: str) -> bool:
    return bool(spot("family", text)) and not spot_roles(text) and not names_terminal(text)


def is_general(text: str) -> bool:
    """Tell whether a text is nothing but a general word for terminals: beside a name it adds nothing."""
    stripped = len(text.strip())
    heads = (m for m in spot("heading", text) if m.concept == "terminal")
    return any(match.end - match.start == stripped for match in (*heads, *spot("tightened", text)))


def names_over(reading: Reading, levels: Sequence[Level]) -> Iterator[str]:
    """Yield what may name the terminal where its row does not, nearest first: lines, then the torque's heading."""
    lines = [text for level in levels if level.kind == "line" for text in level.texts]
    for line in lines:
        if not is_no_name(line) and names_screws_of(line):
            yield names_said(line) if is_sentence(line) else line
    head = (text for level in levels if level.kind == "sheet" for text in level.texts)
    bars = [line for line in head if names_product_of_terminals(line) and spot_roles(line) and not is_no_name(line)]
    for entry in reading.entries:
        if entry.field.startswith("torque") and (said := _named_in(entry.heading)):
            yield said
    for entry in reading.entries:
        if entry.field == "clamp" and names_terminal(text_of(entry.cell)):
            yield text_of(entry.cell)
    yield from bars


def names_screws_of(line: str) -> bool:
    """Tell whether a line names terminals, or other screws, and is not the name of a device alone."""
    if find_units(line) and make_sense(line).has("torque", "conductor"):
        return False
    said = [match for match in spot("tightened", line) if match.concept == "terminal"]
    named = bool(spot_roles(line)) and not _names_device(line)
    if said or other_screws(line) or (named and names_product_of_terminals(line)):
        return True
    return not spot("family", line) and (named or names_terminal(line))


def _named_in(heading: str) -> str:
    """Return the words of a torque's heading that name terminals: "Anzugsdrehmoment der Klemmen"."""
    found = [match for match in spot("tightened", heading) if match.concept == "terminal"]
    found += [*spot_roles(heading), *other_screws(heading)]
    kept: list[str] = []
    for match in sorted(found, key=lambda match: match.start):
        if not any(match.printed in other for other in kept):
            kept.append(match.printed)
    return " ".join(kept)


def thread_of(reading: Reading) -> str | None:
    """Return the thread as printed, without the drive of its screw where the cell gives both."""
    texts = [cut_thread(text_of(entry.cell)) for entry in reading.entries if entry.field == "thread"]
    return " / ".join(dict.fromkeys(texts)) or None

