"""The conductor of a row as a value to choose by: one size has one name, however its cells print it."""

from __future__ import annotations

import re
from collections.abc import Iterable

from torquary_catalogue.find.row import Row
from torquary_schema.units import find_units

_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")
_RANGE = re.compile(r"\d+(?:[.,]\d+)?\s*(?:[-–—…]|\.{2,3})\s*\d+(?:[.,]\d+)?")

_GAUGES = re.compile(r"awg|kcmil|mcm|#", re.IGNORECASE)


def name_conductor(row: Row) -> str:
    """Return the conductor as printed; a size or range in mm² and nothing else as its numbers with the unit."""
    printed = row.conductor_printed
    bare = _without_unit(printed)
    if row.system != "mm2" or row.min_mm2 is None or row.max_mm2 is None:
        return printed
    if row.min_mm2 == row.max_mm2 and _NUMBER.fullmatch(bare):
        return f"{row.min_mm2:f} mm²"
    if row.min_mm2 < row.max_mm2 and _RANGE.fullmatch(bare):
        return f"{row.min_mm2:f}–{row.max_mm2:f} mm²"
    return printed


def say_once(heading: str, texts: Iterable[str]) -> list[str]:
    """Return texts of a column, each once; a size with mm² and without is one, unless the heading is for gauges."""
    said: dict[str, str] = {}
    for text in texts:
        bare = _without_unit(text)
        one = bare if (_NUMBER.fullmatch(bare) or _RANGE.fullmatch(bare)) and not _GAUGES.search(heading) else text
        said[one] = max(said.get(one, ""), text, key=len)
    return list(said.values())


def _without_unit(text: str) -> str:
    """Return a text without the mm² that it ends in, however that is spelt."""
    text = text.strip()
    ends = (unit.start for unit in find_units(text) if unit.kind == "area" and unit.end == len(text))
    return text[: next(ends, None)].rstrip()
