"""The types that cables are ordered by: which cable is laid there, not which kind of conductor a terminal takes."""

from __future__ import annotations

import re

_CABLE_TYPE = re.compile(
    r"\b(?:H0[357][A-Z0-9]{1,6}-[URKFDEHY]\w?|N(?:YY|YM)(?:-[JO])?|LiYC?Y|tri-rated)(?![\w-])", re.IGNORECASE
)
"""HD 361 S3 (harmonised types: "H07V-K"), DIN VDE 0250, 0276-603 and 0812, BS 6231; all from memory."""


def without_cable_types(text: str) -> str:
    """Return a text without the types of cables in it."""
    return _CABLE_TYPE.sub(" ", text)
