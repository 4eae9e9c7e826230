"""What was read from a picture is a proposal: its findings say how sure it is, and nothing releases it."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from torquary_ingest.checks import add_findings
from torquary_ingest.document import Cell, Document, Doubt, Entry, Reading, Table, Word
from torquary_schema.values import Finding, Setting

CODE = "scanned_figure"

UNSURE = 0.9
"""Certainty below which the recogniser's doubt is said. On clean print it states 0.93 and more (measured)."""

_ENOUGH = 4
_SHARE = 0.75
"""A column has a pattern when so many cells, and such a share of them, are written alike."""

_FIGURE = re.compile(r"\d+(?:[.,]\d+)?")


def describe_proposals(readings: Sequence[Reading]) -> tuple[Reading, ...]:
    """Return the readings, those from pictures with one doubt each that says how sure it is and what disagrees."""
    odd = _find_odd(readings)
    return tuple(_describe(reading, odd) if _is_scanned(reading) else reading for reading in readings)


def hold_scanned(
    document: Document, tables: Sequence[Table], settings: tuple[Setting, ...]
) -> tuple[Setting, ...]:
    """Return the settings, each that stands on a scanned page or in a table with scanned words held.

    A figure of live text under a scanned heading is no better than that heading.
    """
    pages = {page.number for page in document.pages if page.seen is not None}
    mixed = {(table.page, table.number) for table in tables if any(_sure(cell) for cell in table.cells)}
    return tuple(
        _hold(setting)
        if setting.place.page in pages or (setting.place.page, setting.place.table) in mixed
        else setting
        for setting in settings
    )


def _hold(setting: Setting) -> Setting:
    if any(finding.code == CODE for finding in setting.findings):
        return setting
    message = "its page or table was read from a picture: compare it with the picture, then accept or correct it"
    return add_findings(setting, [Finding(code=CODE, message=message, place=setting.place, printed=setting.place.text)])


def _is_scanned(reading: Reading) -> bool:
    return any(doubt.code == CODE for entry in reading.entries for doubt in entry.cell.doubts)


def _describe(reading: Reading, odd: dict[Cell, str]) -> Reading:
    words = [word for entry in reading.entries for word in entry.cell.words if word.sure is not None]
    parts = ["read from a picture"]
    least = min(words, key=lambda word: word.sure or 0.0, default=None)
    if least is not None and least.sure is not None:
        unsure = "" if least.sure >= UNSURE else ", which is little"
        parts.append(f"least sure of “{least.text}” ({least.sure:.0%}{unsure})")
    parts += list(dict.fromkeys(_disagreements(words)))
    parts += list(dict.fromkeys(odd[entry.cell] for entry in reading.entries if entry.cell in odd))
    doubt = Doubt(code=CODE, message=f"{'; '.join(parts)}: compare with the picture, then accept or correct it")
    entries = tuple(replace(entry, cell=_without_doubt(entry.cell)) for entry in reading.entries)
    return replace(reading, entries=entries, doubts=(*reading.doubts, doubt))


def _disagreements(words: Sequence[Word]) -> Iterator[str]:
    for word in words:
        if word.also:
            yield f"“{word.text}” at full size, “{word.also}” at two thirds of it"


def _without_doubt(cell: Cell) -> Cell:
    return replace(cell, doubts=tuple(doubt for doubt in cell.doubts if doubt.code != CODE))


def _find_odd(readings: Sequence[Reading]) -> dict[Cell, str]:
    """Return the scanned torque cells that are not written as nearly all others of their column are."""
    columns: dict[tuple[int | None, int | None, int], dict[Cell, str]] = {}
    for reading in readings:
        for entry in reading.entries:
            if _is_torque(entry):
                key = (reading.place.page, reading.place.table, entry.cell.column)
                columns.setdefault(key, {})[entry.cell] = _form(entry.cell.text)
    odd: dict[Cell, str] = {}
    for forms in columns.values():
        usual, count = Counter(forms.values()).most_common(1)[0]
        if count < _ENOUGH or count < _SHARE * len(forms):
            continue
        for cell, form in forms.items():
            if form != usual:
                odd[cell] = f"“{cell.text.strip()}” is not written as the others of its column are"
    return odd


def _is_torque(entry: Entry) -> bool:
    return entry.field.startswith("torque") and _sure(entry.cell)


def _form(text: str) -> str:
    """Return how a figure is written: its decimal places, and what stands between figures."""
    return _FIGURE.sub(lambda found: "0" + re.sub(r"\d", "0", found[0].lstrip("0123456789")), "".join(text.split()))


def _sure(cell: Cell) -> bool:
    return any(word.sure is not None for word in cell.words)
