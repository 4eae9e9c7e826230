"""The device a setting belongs to: named by its row, by a line over its list, or by the head of the sheet.

The maker, a kind of document, an edition, running text and another thing's name never name one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from torquary_ingest.document import Doubt, Reading
from torquary_ingest.evidence.levels import SheetHead
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.designations import find_types
from torquary_ingest.headings.grid import join_lines, text_of
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.normalise.device_lines import (
    BOARDS,
    designates,
    is_length,
    is_prose,
    is_step,
    names_family,
    names_part,
    whole_title,
)
from torquary_schema.roles import spot_roles
from torquary_schema.values import Device
from torquary_schema.words import Kind, spot

_TYPE_LIKE = re.compile(r"\d|(?<!\w)[A-Z]{2,6}(?!\w)")
"""A figure or a word of capitals: what is left of a title without the words for documents is a type or series then."""

_SEPARATOR = re.compile(r"\s[–—·|•-]\s|[,;|·]")
_RUNNING = frozenset({"edition", "page", "company"})


def name_device(reading: Reading, head: SheetHead) -> Device:
    """Return the device as its cells, the lines above or the head of the sheet name it; printed "" if none does."""
    model, series = text_in(reading, "model"), text_in(reading, "series")
    said = text_in(reading, "device") or ""
    own = " ".join(text for text in dict.fromkeys(("" if is_length(said) else said, model, series)) if text)
    line = device_line(reading, head)
    if own and not names_family(line) and not find_types(line):
        line = ""  # beside a type of its own a row needs no line that may name the maker
    families = texts_in(reading, "family", "device")
    labels = texts_in(reading, "terminal")  # "Earth bar EB9" names the device and its terminals alike
    return Device(
        printed=join_lines(part for part in dict.fromkeys((own, line)) if part),
        maker=text_in(reading, "maker"),
        family=first_concept("family", [*families, line, *reading.context, own, head.title, *head.lines, *labels]),
        series=series,
        model=model,
        rated_current=text_in(reading, "rated_current"),
    )


def device_line(reading: Reading, head: SheetHead) -> str:
    """Return the nearest line that names a device: over the row, in the sheet's head, or its title; "" for none."""
    over = [entry.heading for entry in reading.entries if entry.field == "qualifier" and is_device(entry.heading)]
    lines = [line.strip() for line in (*over, *reversed(reading.context), *head.lines)]
    named = [line for line in lines if names_family(line) and may_name(line)]
    if find_types(head.title or next(iter(head.lines), "")):
        named = [line for line in named if not names_part(line)]
    if named:
        return whole_title(named[0], head.title)
    if names_product(head.title):
        return head.title
    typed = (line for line in lines if may_name(line) and (find_types(line) or designates(line)))
    return next(typed, "")


def may_name(line: str) -> bool:
    """Tell whether a line may name a device: no running text, step, torque, edition or page."""
    if is_step(line) or is_prose(line) or states_torque(line):
        return False
    concepts = {match.concept for match in spot("document_word", line)}
    return not concepts & _RUNNING and not ("datasheet" in concepts and not spot("family", line))


def names_product(title: str) -> bool:
    """Tell whether a title names a product: by a kind of device, a type or a series.

    A maker does not, nor does a kind of document with its number ("Data sheet 12").
    """
    if not title or states_torque(title) or any(m.concept == "company" for m in spot("document_word", title)):
        return False
    bare = _without_documents(title)
    series = any(match.concept in ("series", "model") for match in spot("heading", bare))
    return bool(spot("family", bare)) or bool(_TYPE_LIKE.search(bare)) or series


def _without_documents(title: str) -> str:
    """Return a title without words for documents and what stands behind them, up to the next separator."""
    parts = []
    for part in _SEPARATOR.split(title):
        words = [match.start for match in spot("document_word", part)]
        parts.append(part[: min(words)] if words else part)
    return " ".join(parts)


def prints_no_product(reading: Reading, head: SheetHead) -> bool:
    """Tell whether a sheet prints no line that could name its product: it goes by its own name then."""
    lines = [head.title, *head.lines, *reading.context]
    return not any(_may_be_product(line) for line in lines if line.strip())


def _may_be_product(line: str) -> bool:
    """Tell whether something is left of a line without the words for torques, terminals, conductors, documents."""
    sense = make_sense(line)
    if sense.has("torque", "terminal", "conductor") or spot("torque_kind", line) or spot("tightened", line):
        return bool(_TYPE_LIKE.search(sense.rest)) and not sense.units
    return not spot_roles(line) and not any(m.end - m.start == len(line.strip()) for m in spot("document_word", line))


def device_doubts(reading: Reading) -> Iterator[Doubt]:
    """Yield a doubt where a heading over the column and a line over the row name two devices."""
    over = next((e.heading for e in reading.entries if e.field == "qualifier" and is_device(e.heading)), "")
    line = reading.context[-1] if reading.context else ""
    if not over or not names_family(line) or states_torque(line):
        return
    types = [find_types(text) for text in (over, line)]
    if all(types) and not types[0] & types[1]:
        message = f"{over!r} stands over the column and {line.strip()!r} over the row; look which device the row is for"
        yield Doubt(code="readings_differ", message=message)


def is_device(text: str) -> bool:
    """Tell whether a heading over a column names a device and no terminal."""
    return names_family(text) and not spot_roles(text) and not make_sense(text).has("terminal")


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
