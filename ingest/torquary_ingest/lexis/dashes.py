"""Dashes that stand where a table has nothing to say."""

from __future__ import annotations

import re

_DASH = re.compile(r"[-‐‑‒–—―−]+")


def is_dash(text: str) -> bool:
    """Tell whether a text is a dash and nothing else."""
    return _DASH.fullmatch(text.strip()) is not None
