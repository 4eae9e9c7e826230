"""What waits until several sheets are written: what is noted of all of them together takes as long as of one."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(slots=True)
class Batch:
    """`sheets` are the digests whose words, and whose disagreements with others, are noted at the end.

    `kin` tells by which file names, titles and document numbers (folded) sheets are known; None until it is asked for.
    `told` is what sheets are known by that were written together and are judged next.
    """

    sheets: dict[str, None] = field(default_factory=dict)
    kin: dict[tuple[str, str], set[str]] | None = None
    told: dict[str, set[tuple[str, str]]] = field(default_factory=dict)
