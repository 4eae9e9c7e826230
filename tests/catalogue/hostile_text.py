"""Texts that steer a terminal or do not show, and what must not be left of them in an output."""

from __future__ import annotations

import unicodedata

from hypothesis import strategies as st

STEERING = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})
"""General categories (Unicode Standard, 4.5): control, format, surrogate, line and paragraph separators."""

# Default_Ignorable_Code_Point beyond category Cf: DerivedCoreProperties.txt (from memory).
IGNORABLE = frozenset(
    map(
        chr,
        (
            0x034F, 0x115F, 0x1160, 0x17B4, 0x17B5, *range(0x180B, 0x1810), 0x2065, 0x3164, *range(0xFE00, 0xFE10),
            0xFFA0, *range(0xFFF0, 0xFFF9), *range(0xE0000, 0xE1000),
        ),
    )
)  # fmt: skip

ODD = (
    "\x00", "\x07", "\x08", "\r", "\x1b[2J", "\x1b]0;x\x07", "\x7f", "\x85", "\x9b31m", "\xad", "\u061c", "\u200b",
    "\u200d", "\u200e", "\u2028", "\u202e", "\u2060", "\u2066", "\ufe0f", "\ufeff", "\U000e0041",
)  # fmt: skip
"""One of each sort: C0, CSI and OSC sequences, DEL, C1, soft hyphen, bidirectional and zero-width marks."""


def steers(letter: str) -> bool:
    return unicodedata.category(letter) in STEERING or letter in IGNORABLE


def left_in(output: str) -> set[str]:
    """Return what would steer or not show in a printed output, its line breaks aside."""
    return {f"U+{ord(letter):04X}" for letter in output if letter != "\n" and steers(letter)}


def hostile(*, without: str = "") -> st.SearchStrategy[str]:
    """Return texts with at least one such character among ordinary ones."""
    odd = st.sampled_from([text for text in ODD if not set(text) & set(without)])
    plain = st.text("Lx 25,.<[", max_size=4)
    part = st.tuples(plain, odd, plain).map("".join)
    return st.lists(part, min_size=1, max_size=9).map("".join)
