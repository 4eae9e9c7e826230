"""The fewest values that meet all bands: every band holds at least one of them.

Bands on a line have an exact answer without a search: take the leftmost right end, drop all bands
that hold it, and go on. No smaller set can do, for the bands whose right ends were taken have no
value in common by pairs.
"""

from __future__ import annotations

from collections.abc import Sequence

Span = tuple[int, int]
"""A band as the first and last index of the values in it."""


def stab_late(spans: Sequence[Span]) -> list[int]:
    """Return the fewest indices so that each span holds one, each as far right as it can."""
    chosen: list[int] = []
    for low, high in sorted(spans, key=lambda span: span[1]):
        if not chosen or chosen[-1] < low:
            chosen.append(high)
    return chosen


def stab_early(spans: Sequence[Span]) -> list[int]:
    """Return the fewest indices so that each span holds one, each as far left as it can."""
    return [-at for at in reversed(stab_late([(-high, -low) for low, high in spans]))]
