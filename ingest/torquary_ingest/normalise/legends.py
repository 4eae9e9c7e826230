"""Legends: the abbreviations that a sheet explains for kinds of conductors ("re = solid, rm = stranded")."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace

from torquary_ingest.document import Document, Entry, Table
from torquary_ingest.document.lines import set_lines
from torquary_ingest.figures.conductor_words import read_conductor_words

Legends = dict[str, str]

_EXPLAINED = re.compile(r"(?<![\w=])(?P<short>[^\W\d_]{1,4})\s*[=:：＝]\s*(?P<meaning>[^=:：＝,;.、。]+)")
"""An abbreviation of up to four letters and what it stands for, up to the end of its clause."""
_APART = re.compile(r"\s*[/,;+&]\s*")
_SERIES = re.compile(rf"(?<!\w)[^\W\d_]{{1,4}}(?:{_APART.pattern}[^\W\d_]{{1,4}})*(?!\w)")
"""Abbreviations in a row within a heading."""
_FIELDS = ("conductor", "stranding", "material", "ferrule")


def collect_legends(document: Document, tables: Iterable[Table]) -> Legends:
    """Return what abbreviations stand for that lines of the document explain; one explained in two ways is left out."""
    lines = [line.text for page in document.pages for line in set_lines(page)]
    lines += [line for table in tables for line in (*table.caption, *table.below)]
    lines += [line for page in document.passed for line in page.lines]
    meant: dict[str, set[str]] = {}
    for short, meaning in (pair for line in lines for pair in _explained_in(line)):
        meant.setdefault(short, set()).add(meaning)
    return {short: meanings.pop() for short, meanings in meant.items() if len(meanings) == 1}


def _explained_in(line: str) -> Iterator[tuple[str, str]]:
    for match in _EXPLAINED.finditer(line):
        meaning = match["meaning"].strip()
        if read_conductor_words(meaning).known and not any(map(str.isdigit, meaning)):
            yield match["short"], meaning


def explain(entries: Iterable[Entry], legends: Legends) -> tuple[Entry, ...]:
    """Return the entries of a row with the abbreviations of its kinds of conductors spelt out.

    A cell of nothing else says the kinds ("re/rm"); a heading says them beside its unit ("EK/FK mm²").
    """
    if not legends:
        return tuple(entries)
    return tuple(_explained(entry, legends) if entry.field.startswith(_FIELDS) else entry for entry in entries)


def _explained(entry: Entry, legends: Legends) -> Entry:
    parts = _APART.split(entry.cell.text.strip())
    if all(part in legends for part in parts):
        return replace(entry, field="stranding", cell=replace(entry.cell, text=_spelt_out(parts, legends)))
    heading = _SERIES.sub(lambda series: _spelt_out(_APART.split(series[0]), legends) or series[0], entry.heading)
    return entry if heading == entry.heading else replace(entry, heading=heading)


def _spelt_out(parts: Iterable[str], legends: Legends) -> str:
    """Return what several abbreviations stand for; "" unless all of them are explained."""
    return ", ".join(meanings) if all(meanings := [legends.get(part, "") for part in parts]) else ""
