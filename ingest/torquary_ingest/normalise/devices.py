"""The device a setting belongs to: named by its row, by a line over its list, or as the product of the sheet.

The maker, a running line, a kind of document, an edition, running text and another thing's name never name one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from torquary_ingest.clauses.telling import device_in_lead
from torquary_ingest.document import Doubt, Entry, Reading, Section
from torquary_ingest.evidence.names import names_screws_of
from torquary_ingest.evidence.no_names import is_no_name
from torquary_ingest.evidence.screws import names_product_of_terminals
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.designations import find_types, names_part_of, print_types
from torquary_ingest.headings.grid import join_lines, text_of
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.normalise.ratings import rating_over
from torquary_ingest.scope import texts_of
from torquary_ingest.skeleton import Skeleton
from torquary_ingest.skeleton.headings import without_number
from torquary_ingest.skeleton.names import (
    BOARDS,
    Rank,
    find_name,
    is_prose,
    names_company,
    names_kind,
    names_part,
    rank_of,
    says_same,
    shows_type,
)
from torquary_schema.roles import spot_roles
from torquary_schema.values import Device
from torquary_schema.words import Kind, fold, spot

_TYPE_WORDS = 2
"""Words of a type at most: "STT 400"."""

_SHORT_TYPE = 3
"""Letters of a type at most that may be a marking: "PE1", "XT4"."""

_SIZE_LETTER = 2
"""Letters at most that name no device but its size: "B", "0S"."""

_SAME_PLACE = 2.0
"""Points by which titles of sheets in one file begin apart at most (own choice)."""

_VALUE = re.compile(r"\d\s*(?:°C|%|mm|g|kg)(?!\w)")
_LENGTH = re.compile(r"\d\s*[mc]m\b")


def name_device(reading: Reading, sheet: Skeleton) -> Device:
    """Return the device as its cells, the lines above or the sheet name it; printed "" if none does."""
    model, series = _without_all(text_in(reading, "model")), text_in(reading, "series")
    devices = (entry for entry in reading.entries if entry.field == "device" and is_a_name(text_of(entry.cell)))
    said = " / ".join(dict.fromkeys(map(_with_size_word, devices))) or _members_over(reading, sheet)
    own = " ".join((said, *(text for text in dict.fromkeys((model, series)) if text and text not in said))).strip()
    line = device_line(reading, sheet)
    if own and (_is_of_another(line, own, sheet) or not (names_kind(line) or find_types(line))):
        line = ""  # beside a type of its own a row needs no line that may name the maker
    families = texts_in(reading, "family", "device")
    lines = [find_name(text) for text in (*reversed(texts_of(reading.scope)), *sheet.head)]
    over = [text for text in lines if not names_part(text)] if line else lines
    labels = texts_in(reading, "terminal")
    bars = [text for text in labels if names_product_of_terminals(text)]  # "Earth bar EB9" names both
    printed = join_lines(part for part in dict.fromkeys((own, line)) if part)
    return Device(
        printed=printed,
        maker=text_in(reading, "maker") or sheet.maker or None,
        family=first_concept("family", [*families, *bars, line, *over, own, sheet.title, *labels]),
        series=series,
        model=model,
        rated_current=text_in(reading, "rated_current") or rating_over(reading.scope, printed),
    )


def _is_of_another(line: str, own: str, sheet: Skeleton) -> bool:
    """Tell whether a row names another type of a line's series, "QN-500" under "QN-275"; of another one may go with it.
    """
    named, told = ({one for one in sheet.members if fold(one) in find_types(text)} for text in (line, own))
    series = {one.rstrip("0123456789") for one in named | told}
    return len(named) == len(series) == 1 and bool(told) and named.isdisjoint(told)


def _without_all(model: str | None) -> str | None:
    """Return the type in a row, None for "all": its row is of whatever device stands over it."""
    words = (match for match in spot("statement", model or "") if match.concept == "all")
    return None if any(match.printed == model for match in words) else model


def _members_over(reading: Reading, sheet: Skeleton) -> str:
    """Return the devices of the sheet that the nearest section over a sentence names; "" if it names none or all."""
    own = (*sheet.head, *sheet.running)
    over = [one.text for one in reading.scope if one.kind == "section" and one.text not in own]
    named = ([member for member in sheet.members if fold(member) in find_types(text)] for text in over)
    found = next(filter(None, named), [])
    return " / ".join(found) if len(found) < len(sheet.members) and reading.place.table is None else ""


def _with_size_word(entry: Entry) -> str:
    """Return the device in a cell, the letter of its size behind the word over it: "Frame B" under "Frame size"."""
    text = text_of(entry.cell)
    if len(text) > _SIZE_LETTER or not spot("heading", entry.heading):
        return text
    words = entry.heading.split()
    known = (" ".join(words[:count]) for count in range(1, len(words) + 1))
    word = next((one for one in known if any(m.end - m.start == len(one) for m in spot("heading", one))), "")
    return f"{word} {text}".strip()


def is_a_name(text: str) -> bool:
    """Tell whether a text under "Device" may name one: no value, rating or sentence ("-10 to 55 °C", "Indoor only")."""
    sense = make_sense(text)
    length = sense.figure and _LENGTH.search(text) is not None
    return not (length or sense.figure or is_prose(text) or is_no_name(text) or _VALUE.search(text))


def device_line(reading: Reading, sheet: Skeleton) -> str:
    """Return the nearest line over the row that names a device, else the sheet's product; "" for none.

    A line at the head of the sheet yields to the product, which was found among them, unless it names kind and type.
    """
    lead = reading.scope[0] if reading.scope else None
    if lead is not None and lead.kind == "list_heading" and (named := next(device_in_lead(lead.text), "")):
        return named
    lines = (*_devices_over(reading), *texts_of(reading.scope))
    names = [name for name in (_device_in(line, sheet) for line in lines) if name]
    told = _told_over(names, reading, sheet) or _device_of_section(reading, sheet)
    told = told or _type_over(reading, sheet.product) or sheet.product
    return told or next((name for name in names if find_types(name)), next(iter(names), ""))


def _told_over(names: Sequence[str], reading: Reading, sheet: Skeleton) -> str:
    """Return the nearest name of kind and type, else of a type of the sheet's series, else of a kind; "" for none."""
    kind = next(_kinds(names, reading, sheet), "")
    member = "" if find_types(kind) else next((name for name in names if _is_member(name, sheet.product)), "")
    return member or kind or _one_of(names, sheet.product)


def _kinds(names: Sequence[str], reading: Reading, sheet: Skeleton) -> Iterator[str]:
    """Yield the names that hold a word for a kind of device and count beside the sheet's product.

    A type right over a list is nearer than the series that the head of the sheet names.
    """
    nearer = bool(names) and names[0] != sheet.product and bool(find_types(names[0]))
    for name in names:
        if _names_kind_of(name, reading, sheet) and not (nearer and name != names[0] and _heads(name, sheet)):
            yield name


def _heads(name: str, sheet: Skeleton) -> bool:
    return any(name in line for line in sheet.head)


def _is_member(name: str, product: str) -> bool:
    """Tell whether a name is a type alone, of the series that the sheet is about: "STT 400" of "Transformers STT"."""
    types = find_types(name)
    whole = len(types) == 1 and len(name.split()) <= _TYPE_WORDS and not names_kind(name)
    series = (word for word in product.split() if shows_type(word))
    return whole and any(name.startswith(word) and name[len(word) :].strip(" -/")[:1].isdigit() for word in series)


def _one_of(names: Sequence[str], product: str) -> str:
    """Return the one of several types of a product that the nearest line names, "" if it names none, or all of them."""
    own = find_types(names[0]) if names and names[0] != product else frozenset()
    return names[0] if own and own < find_types(product) else ""


def _names_kind_of(name: str, reading: Reading, sheet: Skeleton) -> bool:
    """Tell whether a name over a row is of its device: with its kind, a section's as `_device_of_section` says."""
    if not names_kind(name) or (find_types(sheet.product) and names_part(name)):
        return False
    sections = {_device_in(one.text, sheet) for one in reading.scope if one.kind == "section"}
    return name not in sections or _names_product(name, sheet)


def _type_over(reading: Reading, product: str) -> str:
    """Return the nearest section's heading that is a type and nothing else, or ends in a part's; "" if none is."""
    sections = (one.text.strip() for one in reading.scope if one.kind == "section")
    return next((text for text in sections if _is_type(text) or names_part_of(text, product)), "")


def _is_type(text: str) -> bool:
    """Tell whether a heading is a type and nothing else: what is under it is of that device."""
    return {fold(text.strip())} == find_types(text)


def _devices_over(reading: Reading) -> list[str]:
    """Return the headings over a row's column that name a device."""
    return [entry.heading for entry in reading.entries if entry.field == "qualifier" and is_device(entry.heading)]


def _device_of_section(reading: Reading, sheet: Skeleton) -> str:
    """Return the device that the nearest heading over a reading names by kind and type, "" if none does.

    It may stand on a page before. Where the sheet is about one product, a kind alone ("Installing the contactor") is
    what the product is used with.
    """
    place = reading.place
    if place.page is None:
        return ""
    over = sheet.sections_over(place.page, place.box.top if place.box is not None else 0.0)
    named = ((section, find_name(section.heading)) for section in reversed(over))
    told = (name for section, name in named if _names_kind(name, sheet) or _is_next_title(section, name, sheet))
    name = next(told, "")
    return sheet.product if name and says_same(name, sheet.product) else name


def _names_kind(name: str, sheet: Skeleton) -> bool:
    return _names_product(name, sheet) and names_kind(name) and not names_part(name)


def _is_next_title(section: Section, name: str, sheet: Skeleton) -> bool:
    """Tell whether a heading with a type stands on a later page as the title of the sheet does: another one follows."""
    titles = (one for one in sheet.sections if sheet.product and one.heading == sheet.title)
    title = next(titles, None)
    boxes = (title.place.box, section.place.box) if title is not None else (None, None)
    if title is None or boxes[0] is None or boxes[1] is None or section.place.page == title.place.page:
        return False
    alike = section.level == title.level and abs(boxes[0].x0 - boxes[1].x0) <= _SAME_PLACE
    return alike and bool(find_types(name)) and bool(find_types(sheet.product))


def _names_product(name: str, sheet: Skeleton) -> bool:
    """Tell whether a heading's name is a device's: beside the sheet's product a kind alone is what it is used with."""
    return rank_of(name) >= (Rank.WHOLE if sheet.product else Rank.TOLD)


def _device_in(line: str, sheet: Skeleton) -> str:
    """Return what a line over a row names; the product for a part of its name, "" for what names no device."""
    concepts = {match.concept for match in spot("document_word", line)}
    if line in sheet.running or names_company(line) or _is_of_screws(line):
        return ""
    name = find_name(without_number(line, (section.heading for section in sheet.sections)))
    if not name:
        return ""
    if _is_one_of_product(name, sheet.product):
        return name
    if f" {fold(name)} " in f" {fold(sheet.product)} ":
        return sheet.product
    if sheet.product and line in sheet.head and ("datasheet" in concepts or rank_of(name) < Rank.WHOLE):
        return ""
    return name if rank_of(name) >= Rank.FIGURE or shows_type(name) else ""


def _is_one_of_product(name: str, product: str) -> bool:
    """Tell whether a name is one of several types of a product, or a type of its series."""
    return bool(_one_of([name], product)) or _is_member(name, product)


def _is_of_screws(line: str) -> bool:
    """Tell whether a line names what is tightened; behind a type it says what the device is: "OT 4 earth terminal"."""
    typed = any(line.startswith(one) and len(one) > _SHORT_TYPE for one in print_types(line))
    return names_screws_of(line) and not (typed or names_product_of_terminals(line))


def device_doubts(reading: Reading) -> Iterator[Doubt]:
    """Yield a doubt where a heading over the column and a line over the row name two devices."""
    over = next(iter(_devices_over(reading)), "")
    line = reading.scope[0].text if reading.scope else ""
    if not over or not names_kind(line) or states_torque(line):
        return
    types = [find_types(text) for text in (over, line)]
    if all(types) and not types[0] & types[1]:
        message = f"{over!r} stands over the column and {line.strip()!r} over the row; look which device the row is for"
        yield Doubt(code="readings_differ", message=message)


def is_device(text: str) -> bool:
    """Tell whether a heading over a column names a device and no terminal."""
    return names_kind(text) and not spot_roles(text) and not make_sense(text).has("terminal")


def texts_in(reading: Reading, *fields: str) -> list[str]:
    """Return the printed texts of a reading's cells in these fields."""
    return [text_of(entry.cell) for entry in reading.entries if entry.field in fields]


def text_in(reading: Reading, field: str) -> str | None:
    """Return the printed texts of one field, each once; None if there is none."""
    return " / ".join(dict.fromkeys(texts_in(reading, field))) or None


def first_concept(kind: Kind, texts: Sequence[str]) -> str | None:
    """Return the one concept that the first telling text names; None when it names several."""
    boards: dict[str, None] = {}
    for text in texts:
        found = dict.fromkeys(match.concept for match in spot(kind, text))
        if kind == "family":
            boards |= {concept: None for concept in found if concept in BOARDS}
            found = {concept: None for concept in found if concept not in BOARDS}
        if found:
            return next(iter(found)) if len(found) == 1 else None
    return next(iter(boards)) if len(boards) == 1 else None
