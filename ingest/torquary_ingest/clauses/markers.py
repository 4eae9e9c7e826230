"""What opens a step or item: a bullet, the number of a step."""

from __future__ import annotations

import re

BULLET = r"[•●▪■◦‣∙·*►▶▸→➔✓☐○◆\uf0a7\uf0b7\uf0d8\ufffd–—-]"
MARKER = re.compile(
    rf"\s*(?:{BULLET}|(?:\d{{1,2}}\.)*\d{{1,2}}[.)]|\(?[a-zA-Z0-9][.)]|(?:\d{{1,2}}\.){{2,}}\d{{0,2}})\s+(?=\S)"
)
ALONE = re.compile(
    rf"\s*(?:{BULLET}|(?:\d{{1,2}}\.)*\d{{1,2}}[.)]|(?:\d{{1,2}}\.){{2,}}\d{{0,2}})\s*"
)
"""A marker that stands apart from its text."""


def is_bullet(text: str) -> bool:
    """Tell whether a word is nothing but a bullet, whatever its font calls it."""
    return re.fullmatch(BULLET, text) is not None
