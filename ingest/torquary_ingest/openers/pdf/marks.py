"""The order of letters written from right to left."""

from __future__ import annotations

import re


def order_letters(text: str) -> str:
    """Turn letters that stand from right to left on paper into reading order; figures keep their own."""
    tokens = re.findall(r"[0-9]+(?:[.,:/][0-9]+)*|[A-Za-z]+|.", text)
    mirror = str.maketrans("()[]{}<>", ")(][}{><")
    return "".join(
        token if token[0].isalnum() and token.isascii() else token.translate(mirror) for token in tokens[::-1]
    )
