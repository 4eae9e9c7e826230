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


def goes_on_range(before: str, line: str) -> bool:
    """Tell whether a dash at the head of a line is no bullet but parts the ends of a range: "0.5" over "– 1.5 mm²"."""
    return before.rstrip()[-1:].isdigit() and re.match(r"\s*[–—-]\s*\d", line) is not None


def is_item(text: str) -> bool:
    """Tell whether a bullet opens a text: it is an item of a list, and heads nothing."""
    return re.match(rf"\s*{BULLET}\s+\S", text) is not None


def is_bullet(text: str) -> bool:
    """Tell whether a word is nothing but a bullet, whatever its font calls it."""
    return re.fullmatch(BULLET, text) is not None
