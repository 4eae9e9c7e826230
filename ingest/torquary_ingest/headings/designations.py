"""Type designations in a line: "QX 16", "LQX-63"; not the numbers of standards, ratings, gauges or sizes."""

from __future__ import annotations

import re
from collections.abc import Sequence

from torquary_ingest.headings.sense import make_sense
from torquary_schema.roles import says_terminal
from torquary_schema.words import fold

_UPPER = "A-ZΑ-ΡΣ-ΩА-ЯЁІЇЄҐ"
"""Capitals of Latin, Greek and Cyrillic, as types are printed."""

PART_TYPE = re.compile(rf"(?<![\w-])[{_UPPER}][{_UPPER}\d]*-[{_UPPER}\d]+(?![\w-])")
"""The type of a part or device that may have no figure: "KX-EB", "KX-2"."""

_PART_WORDS = 4
"""Words at most of a heading that names a part of the product (own choice)."""

_DESIGNATION = re.compile(rf"(?<!\w)([{_UPPER}]{{2,}}(?:-[{_UPPER}]+)*)[- ]?\d+(?:[.,]\d(?![\d.,]))?\w*(?:-\d\w*)*")
NO_TYPES = frozenset({
    "IEC", "EN", "DIN", "ISO", "UL", "NEC", "VDE", "BS", "AWG", "CSA", "AC", "DC", "IP", "ГОСТ", "МЭК", "ТУ", "ДСТУ",
    "RS", "RJ", "USB", "CAT",
})  # fmt: skip
"""Capitals before figures that are of standards, ratings and interfaces ("RS-485": TIA-485)."""

_BEFORE_NUMBERS = NO_TYPES - {"RS"}
_INTERFACE = re.compile(r"RS[- ]?(?:232|422|423|485)\w*")

_TYPE = re.compile(r"(?P<series>[^\W\d_]{2,}(?:-[^\W\d_]+)*)[- ]?\d[\w.-]*(?:/[\w.-]+)*")

_NAME_PART = 30
"""Letters that a part of a device's name behind the first column has at most: "magnetotermico LQX-63"."""

_SIZE = re.compile(r"\d[.,]\d|\d\s*(?:[-–—…~÷]|\.{2,3})\s*\d")


def find_types(text: str) -> frozenset[str]:
    """Return the designations in the text, folded; "3 pole", "24 V", "AC-22A" and "IEC 60947" are none."""
    return frozenset(map(fold, print_types(text)))


def print_types(text: str) -> tuple[str, ...]:
    """Return the designations in the text as printed, each once."""
    found = (one for one in _DESIGNATION.finditer(text) if _BEFORE_NUMBERS.isdisjoint(one[1].split("-")))
    return tuple(dict.fromkeys(one[0] for one in found if not _INTERFACE.fullmatch(one[0])))


def are_types_of_series(texts: Sequence[str]) -> bool:
    """Tell whether several texts are the types of one series, in any script: "KM3-65", "KM3-100" and "KM3-CT"."""
    found = [_TYPE.fullmatch(text.strip()) for text in texts]
    series = {one["series"] for one in found if one is not None}
    return None not in found and 1 < len(set(texts)) == len(texts) and len(series) == 1 and series.pop().isupper()


def are_named_by_types(texts: Sequence[str]) -> bool:
    """Tell whether several texts each begin with a type of their own: "PX-C1 controller", "PX-AI4 4 inputs"."""
    types = [next(iter(print_types(text)), "") for text in texts]
    begin = all(one and text.startswith(one) for one, text in zip(types, texts, strict=True))
    return begin and 1 < len(set(types)) == len(types)


def is_name_part(text: str) -> bool:
    """Tell whether a text may be what columns cut off the name of a device: its type, and nothing of a heading.

    A size ("1.5-10") is none: "alarm switch | 1.5-10" is a row with a blank.
    """
    sense = make_sense(text)
    typed = any(map(str.isdigit, text)) and not _SIZE.search(text)
    return typed and len(text) <= _NAME_PART and not (sense.fields or sense.units)


def names_part_of(heading: str, product: str) -> bool:
    """Tell whether a heading ends in the type of a part of a product's series: "Controller QX-K" beside "QX-40"."""
    part = PART_TYPE.search(heading)
    if part is None or part.end() != len(heading) or len(heading.split()) > _PART_WORDS or says_terminal(heading):
        return False
    return any(word.startswith(f"{part[0].partition('-')[0]}-") for word in product.split())
