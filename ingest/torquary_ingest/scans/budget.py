"""How much of a file may be read as pictures."""

from __future__ import annotations

import time
from dataclasses import dataclass, field

from torquary_ingest.worker_line import ask_for_time

MOST_PICTURES = 40
"""Pictures of pages read in one file; each takes some six seconds of two processors."""

SECONDS = 240.0
"""Wall time after which no further line of a file's pictures is begun."""

SPARE = 40.0
"""Seconds that the rest of the sheet may take beside its pictures."""

MOST_PIXELS = 80_000_000
"""Pixels of a stored picture: beyond it decoding takes hundreds of megabytes."""


@dataclass(slots=True)
class Budget:
    """What is left for the pictures of one file. `ends` is a moment of the monotonic clock.

    A worker is given time for the pictures when the first of them is taken.
    """

    pictures: int = MOST_PICTURES
    asked: bool = False
    ends: float = field(default_factory=lambda: time.monotonic() + SECONDS)

    def is_spent(self) -> bool:
        """Tell whether the time is over."""
        return time.monotonic() >= self.ends

    def has_left(self) -> bool:
        """Tell whether a further picture may be read."""
        return self.pictures > 0 and not self.is_spent()

    def take(self) -> None:
        """Take one picture from what is left."""
        self.pictures -= 1
        if not self.asked:
            self.asked = True
            ask_for_time(SECONDS + SPARE)
