"""What one sheet may take of the machine, and how its own process is held to it."""

from __future__ import annotations

import math
import sys
from dataclasses import dataclass

SECONDS = 50.0
"""Processor time that one sheet may take; thousands of pages without figures take a tenth of it."""

MEMORY_BYTES = 2 * 1024**3
"""Memory that one sheet may take beyond what the readers themselves need."""

_PATIENCE = 4
"""How much longer the clock may run: a busy machine must not make a sheet unreadable, a stuck one must end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What one sheet may take: processor time in seconds, memory in bytes."""

    seconds: float = SECONDS
    memory_bytes: int = MEMORY_BYTES

    @property
    def clock_seconds(self) -> float:
        """Seconds by the clock after which the sheet is stopped, whatever it did in them."""
        return self.seconds * _PATIENCE if _can_limit() else self.seconds


def is_out_of_time(exit_code: int | None) -> bool:
    """Tell whether a process ended because its processor time was over."""
    import signal

    return exit_code is not None and exit_code == -getattr(signal, "SIGXCPU", math.inf)


def limit_this_process(limits: Limits) -> None:
    """Cap the own memory and processor time where the system can; elsewhere the clock alone guards."""
    if not _can_limit():
        return
    import resource

    _cap(resource.RLIMIT_CPU, math.ceil(limits.seconds))
    # Address space also counts what is merely mapped (libraries, a recogniser's models), hence twice.
    if sys.platform == "linux":
        _cap(resource.RLIMIT_DATA, limits.memory_bytes)
        _cap(resource.RLIMIT_AS, limits.memory_bytes * 2)
    else:
        _cap(resource.RLIMIT_AS, limits.memory_bytes)


def allow_more_time(seconds: float) -> None:
    """Let this process use the processors for so many seconds more; the clock of the one that started it still runs."""
    if not _can_limit():
        return
    import os
    import resource

    usage = resource.getrusage(resource.RUSAGE_SELF)
    _cap(resource.RLIMIT_CPU, math.ceil(usage.ru_utime + usage.ru_stime + seconds * (os.cpu_count() or 1)))


def _can_limit() -> bool:
    return sys.platform != "win32"


def _cap(which: int, wished: int) -> None:
    import resource

    _, hard = resource.getrlimit(which)
    limit = wished if hard == resource.RLIM_INFINITY else min(wished, hard)
    try:
        resource.setrlimit(which, (limit, hard))
    except (ValueError, OSError):
        return
