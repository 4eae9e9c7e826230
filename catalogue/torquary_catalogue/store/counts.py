"""How many settings of a sheet are in force, and how."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Counts:
    """Settings of a sheet by what is in force: `released` as read, or accepted; `corrected` by a person."""

    released: int = 0
    corrected: int = 0
    held: int = 0
    rejected: int = 0
