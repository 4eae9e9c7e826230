"""The terminal a reading is for: its printed name, role, clamp, thread and drives."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.document import Reading
from torquary_ingest.evidence.introductions import names_applied_to
from torquary_ingest.evidence.names import (
    find_labels,
    heads_kits,
    is_general,
    kind_said,
    names_over,
    names_screws_of,
    narrowing_parts,
    thread_of,
)
from torquary_ingest.evidence.no_names import is_no_name
from torquary_ingest.evidence.screws import PRODUCTS, names_product_of_terminals
from torquary_ingest.figures import read_drive
from torquary_ingest.figures.conductor_words import read_conductor_words
from torquary_ingest.headings.designations import find_types
from torquary_ingest.headings.sections import SIZE_NAME
from torquary_ingest.normalise.devices import first_concept, text_in, texts_in
from torquary_ingest.scope import Level, is_sentence
from torquary_ingest.skeleton.names import names_kind
from torquary_schema.roles import join_roles, roles_of_label, says_terminal, speaks_of_all, spot_roles, tells_which
from torquary_schema.values import Device, Drive, Terminal
from torquary_schema.vocabulary import SIDES, roles_of_markings, vocabulary
from torquary_schema.words import fold

"""Letters of the name of a device's size at most: "S00", "0", "2"."""

_SIDED = frozenset({"main", "line", "neutral", "dc_positive", "dc_negative", "dc_midpoint"})
"""Conductors that a device switches, and that have a terminal on each of its sides: an earth has none."""


def name_terminal(reading: Reading, levels: Sequence[Level], device: Device) -> tuple[Terminal, bool]:
    """Return the terminal, and whether its printed name is proved to be one.

    Where nothing names it, what is printed in the place of a name stands there for a person to judge; the reading
    is held then.
    """
    doubted = any(doubt.code == "terminal_missing" for doubt in reading.doubts)
    proved = [] if doubted else list(dict.fromkeys(_labels(reading, levels, device)))
    if _is_device_alone(proved, device):
        proved = []
    terminal = Terminal(
        printed=" / ".join(proved) or _unproved(reading),
        roles=_roles_of(reading, levels, " / ".join(proved)) if proved else (),
        clamp=first_concept("clamp", texts_in(reading, "clamp", "terminal")),
        thread=thread_of(reading),
        drive=_drives(reading),
    )
    return terminal, bool(proved)


def _is_device_alone(labels: Sequence[str], device: Device) -> bool:
    """Tell whether all that names a terminal is its device, which is no terminal or bar of them itself."""
    names = [fold(label) for label in labels]
    return names == [fold(device.printed)] and device.family not in PRODUCTS and not says_terminal(device.printed)


def _unproved(reading: Reading) -> str:
    """Return what tells a row from others in print though it names no terminal: its label, type, or thread; or "".

    A sentence may name several devices in passing.
    """
    types = ("model", "device", "series") if reading.place.table is not None else ()
    for fields in (("terminal",), types, ("thread",), ("rated_current",)):
        if texts := [text for text in texts_in(reading, *fields) if text]:
            return " / ".join(dict.fromkeys(texts))
    return ""


def _labels(reading: Reading, levels: Sequence[Level], device: Device) -> list[str]:
    """Return the parts of the name: the row's own, else a line's or heading's with the thread that tells rows apart."""
    own = [text for text in find_labels(reading) if not _ends_device(text, reading)]
    over = next(names_over(reading, levels), "")
    if own and all(map(_is_bare_name, own)) and over and not (names_kind(over) or is_general(over)):
        return [over, *own]
    if own:
        return [_property_over(own, levels) or own[0], *own[1:]]
    return _labels_over(reading, levels, over, _product(reading, device))


def _labels_over(reading: Reading, levels: Sequence[Level], over: str, product: str) -> list[str]:
    """Return the parts of the name of a row without one: its type, or what stands over it; with what narrows it."""
    thread = filter(None, [thread_of(reading)])
    narrowing = [text for text in narrowing_parts(reading) if not _ends_device(text, reading)]
    if product and not _names_side(over):
        parts = [text for text in narrowing if _heads_sizes(text, reading)]
        said = dict.fromkeys((product, *parts, *texts_in(reading, "purpose"), *_kind_of_bar(reading)))
        return [*said, *thread]
    if over in names_applied_to(levels):
        return [over, *narrowing]  # another screw's thread may stand beside: the lug's own bolt
    return [over, *narrowing, *thread] if over else []


def _names_side(text: str) -> bool:
    """Tell whether a line over a list names a side of its device, and no device: "Inputs" of a distribution block."""
    sided = not SIDES.isdisjoint(role.concept for role in spot_roles(text))
    return sided and not (names_kind(text) or find_types(text))


def _heads_sizes(text: str, reading: Reading) -> bool:
    """Tell whether a part over a torque stands over its sizes too: "Large holes" of a bar, not a broken heading.

    A kind of conductor is no part of a bar.
    """
    if read_conductor_words(text).known:
        return False
    heads = (entry.heading for entry in reading.entries if entry.field.startswith(("conductor", "thread")))
    return any(fold(text) in fold(heading) for heading in heads)


def _property_over(own: Sequence[str], levels: Sequence[Level]) -> str:
    """Return the property's name over a value that names terminals in general: "Supply (X1)" over "screw terminal"."""
    over = next((level for level in levels if level.kind == "over"), None)
    if len(own) > 1 or tells_which(own[0]) or over is None:
        return ""
    names = (one.text for one in over.scope if one.kind == "list_heading")
    return next((name for name in names if tells_which(name) and not is_no_name(name)), "")


def _product(reading: Reading, device: Device) -> str:
    """Return the type of a row where its device is a terminal itself, or a bar of them: the type names the terminal."""
    fields = ("model", "device", "series", "terminal")
    kits = (entry.heading for entry in reading.entries if entry.field == "model" and heads_kits(entry.heading))
    if device.family not in PRODUCTS and not names_product_of_terminals(device.printed) and not any(kits):
        return ""
    said = (text_in(reading, field) for field in fields)
    texts = [text for text in said if text and not is_no_name(text) and not text.isdecimal()]
    lettered = (text for text in texts if any(map(str.isalpha, text)))  # an article's number names it as well
    return next(lettered, next(iter(texts), ""))


def _kind_of_bar(reading: Reading) -> list[str]:
    """Return the line between rows that a row stands under: it names the kind of bar that the row's type is of."""
    line = next((said.text for said in reading.scope if said.kind == "section_row"), "")
    return [kind_said(reading, line) or line] if line and not (is_no_name(line) or find_types(line)) else []


def _is_bare_name(text: str) -> bool:
    """Tell whether a label names a type or size of device ("VK9", "S1"): a line over it names the terminals."""
    if spot_roles(text) or roles_of_markings(text) or names_screws_of(text):
        return False
    return bool(find_types(text)) or (len(text) <= SIZE_NAME and text.isalnum())


def _ends_device(text: str, reading: Reading) -> bool:
    """Tell whether a type is the end of the device's name in a line that the columns cut: it names no terminal."""
    lines = [line.rstrip() for one in reading.scope if names_kind(line := one.text)]
    return bool(find_types(text)) and any(line.endswith(text.strip()) for line in lines)


def _roles_of(reading: Reading, levels: Sequence[Level], label: str) -> tuple[str, ...]:
    """Return the roles that the label names, with the side that the line over it tells, or those of the line alone."""
    own, over = roles_of_label(label), _roles_over(levels)
    if not own:
        return () if speaks_of_all(reading.place.text) else over
    sided = not SIDES.intersection(own) and _SIDED.issuperset(own)
    more = [role for role in over if (sided if role in SIDES else _says_more(role, own))]
    return join_roles(more, own) if more else own


def _says_more(role: str, own: Sequence[str]) -> bool:
    return any(wide in own for wide in vocabulary("role")[role].wider)


def _roles_over(levels: Sequence[Level]) -> tuple[str, ...]:
    """Return the roles of the one terminal that the nearest line above names, () for none or several."""
    line = next((text for level in levels if level.kind == "over" for text in level.texts), "")
    device = names_kind(line) and not says_terminal(line)  # "Power supply 24 V" is no supply terminal
    stated = is_sentence(line) and not line.rstrip().endswith(":")
    found = () if device or stated or is_no_name(line) else roles_of_label(line)
    sides = SIDES.intersection(found)
    return found if len(sides) <= 1 and len(found) - len(sides) <= 1 else ()


def _drives(reading: Reading) -> tuple[Drive, ...]:
    found: dict[Drive, None] = {}
    for entry in reading.entries:
        if entry.field in ("drive", "bit", "thread"):
            found |= dict.fromkeys(read_drive(entry.cell.text, heading=entry.heading))
    return tuple(found)
