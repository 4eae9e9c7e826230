"""The line from a worker to the process that started it: what it may ask for while it reads."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from torquary_ingest.limits import allow_more_time

_senders: list[Callable[[object], None]] = []


@dataclass(frozen=True, slots=True)
class MoreTime:
    """A worker's wish to be stopped no sooner than so many seconds by the clock from now."""

    seconds: float


def connect(send: Callable[[object], None]) -> None:
    """Have wishes go through `send` from now on."""
    _senders[:] = [send]


def ask_for_time(seconds: float) -> None:
    """Ask for more time, for work that is known to be long and bounded; without a worker there is no limit."""
    for send in _senders:
        send(MoreTime(seconds))
        allow_more_time(seconds)
