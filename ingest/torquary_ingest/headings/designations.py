"""Type designations in a line: "QX 16", "LQX-63"; not the numbers of standards, ratings or gauges."""

from __future__ import annotations

import re

from torquary_schema.words import fold

_DESIGNATION = re.compile(r"(?<!\w)([A-Z]{2,})[- ]?\d\w*")
_OTHERS = frozenset({"IEC", "EN", "DIN", "ISO", "UL", "NEC", "VDE", "BS", "AWG", "CSA", "AC", "DC", "IP"})


def find_types(text: str) -> frozenset[str]:
    """Return the designations in the text, folded; "3 pole", "24 V", "AC-22A" and "IEC 60947" are none."""
    return frozenset(fold(found[0]) for found in _DESIGNATION.finditer(text) if found[1] not in _OTHERS)
