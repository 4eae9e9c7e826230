"""The devices that a sheet tells apart: the types in its product's name, those of its series, sizes by a letter."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache

from torquary_ingest.headings.designations import NO_TYPES, print_types
from torquary_ingest.skeleton.names import OF_TERMINALS
from torquary_schema.words import all_spellings, spot

_SERIES = re.compile(r"(?<![\w-])[A-Z]{2,4}(?![\w-])")
"""A series as a product's name gives it: capitals alone."""

_UNIT = r"\s?(?:[mk]?[AVW]|[mk]?Hz|[cm]?m|°C|%)(?!\w)"
"""What makes a number behind capitals a rating, no type: "RCD 30 mA"."""

_NUMBERS_BEHIND = re.compile(r"\b[A-Z]{2,4} \d{1,4}(?:, ?\d{1,4}\b(?!,\d)| ?[-–—…] ?\d| ?/ ?\d)")
"""A type and the numbers of others behind it: "AV 17, 22 and 45", "AV 17–45"."""

_NUMBERED = re.compile(r"(?P<letters>[A-Z]{2,4}[- ]?)(?P<number>\d{2,4})")
"""A type that is letters and a number alone."""

_LEAST_SIZES = 2
"""Sizes of one word at least that a sheet tells apart by letters: one alone tells nothing apart."""


def find_members(product: str, texts: Iterable[str]) -> tuple[str, ...]:
    """Return the devices of a sheet as printed, each once; `texts` are all of its text.

    A type right behind the word for a kind of device is one ("contactor QC18"): parts of a combination are named so.
    """
    sizes: dict[str, dict[str, None]] = {}
    series = _series_in(product) or _sisters_of(product)
    types: dict[str, None] = {}
    for text in texts:
        types |= dict.fromkeys(_types_in(text, series) if series is not None else ())
        types |= dict.fromkeys(_behind_kinds(text))
        for found in _sizes().finditer(text):
            sizes.setdefault(found["word"].lower(), {})[" ".join(found[0].split())] = None
    told = (size for named in sizes.values() if len(named) >= _LEAST_SIZES for size in named)
    return tuple(dict.fromkeys((*print_types(product), *types, *told)))


def _types_in(text: str, series: re.Pattern[str]) -> Iterator[str]:
    """Yield the types of a series, but for those of parts that are no devices: "End bracket RK-EB"."""
    parts = [match.end for match in spot("purpose", text) if match.concept != "electrical_terminal"]
    for found in series.finditer(text):
        if len(text[: found.start()].rstrip()) not in parts:
            yield found[0]


def _behind_kinds(text: str) -> Iterator[str]:
    """Yield the types behind words for kinds of device, those of terminal blocks aside: "XT1" marks terminals."""
    for kind in spot("family", text):
        behind = text[kind.end :].lstrip()
        typed = next(iter(print_types(behind)), "")
        if typed and behind.startswith(typed) and kind.concept not in OF_TERMINALS:
            yield typed


def _series_in(product: str) -> re.Pattern[str] | None:
    """Return the shape of the types of the one series that a product is named by: "RK-40/2", "RK-CV" of "Relays RK".

    Several types of one series are a series with blanks: "AV 17, 22 and 45".
    """
    names = {name for name in _SERIES.findall(product) if name not in NO_TYPES}
    typed = print_types(product)
    spaced = {kind.split()[0] for kind in typed if " " in kind}
    if len(names | spaced) != 1 or (typed and not _NUMBERS_BEHIND.search(product)):
        return None
    name = next(iter(names | spaced))
    hyphened = r"-(?:[A-Z\d]+/)*[A-Z\d]+(?![\w-])"
    numbered = rf" \d{{1,4}}[A-Z]{{0,2}}(?!\w|[.,]\d|{_UNIT})"
    return re.compile(rf"(?<![\w-]){name}(?:{numbered if typed else f'{numbered}|{hyphened}'})")


def _sisters_of(product: str) -> re.Pattern[str] | None:
    """Return the shape of the types beside a product's one type, with as many figures: "BQ-27" and "BQ-50"."""
    typed = [found for one in print_types(product) if (found := _NUMBERED.fullmatch(one))]
    if len(typed) != 1 or len(print_types(product)) > 1:
        return None
    return re.compile(rf"(?<![\w-]){typed[0]['letters']}\d{{{len(typed[0]['number'])}}}(?![\w-]|[.,]\d|{_UNIT})")


@cache
def _sizes() -> re.Pattern[str]:
    words = set(all_spellings("instruction", "variant"))
    known = "|".join(sorted((re.escape(word) for word in words if word[-1:].isalpha()), key=len, reverse=True))
    return re.compile(rf"(?<!\w)(?P<word>(?i:{known}))\s+[A-Z](?![\w.])")
