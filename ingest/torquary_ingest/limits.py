"""What one sheet may take of the machine, and how its own process is held to it."""

from __future__ import annotations

import math
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

SECONDS = 50.0
"""Processor time that one sheet may take; thousands of pages without figures take a tenth of it."""

SECONDS_AGAIN = 600.0
"""Processor time of a sheet that was not read whole in the time before."""

MEMORY_BYTES = 2 * 1024**3
"""Memory that one sheet may take beyond what the readers themselves need."""

_GRACE = 5
"""Seconds of processor time beyond a part's own in which it may still be stopped with care: what runs in a library
is not interrupted."""

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


class OutOfTime(BaseException):
    """The time of a part of the work is over. No `Exception`: what minds faults of a file must not take it for one."""


@dataclass(slots=True)
class _Time:
    """Processor time of this process in seconds: what it was given for its sheet, and when it is over."""

    given: float = math.inf
    end: float = math.inf


_time = _Time()


def given_seconds() -> float:
    """Return the processor time in seconds that this process was given for its sheet; infinite outside a worker."""
    return _time.given


def is_out_of_time(exit_code: int | None) -> bool:
    """Tell whether a process ended because its processor time was over."""
    import signal

    return exit_code is not None and exit_code == -getattr(signal, "SIGXCPU", math.inf)


def limit_this_process(limits: Limits) -> None:
    """Cap the own memory and processor time where the system can; elsewhere the clock alone guards."""
    _time.given = _time.end = limits.seconds
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
    import os

    _time.end = time.process_time() + seconds * (os.cpu_count() or 1)
    _kill_at(_time.end)


@contextmanager
def stop_after(share: float, *, at_least: bool = False) -> Iterator[None]:
    """Raise `OutOfTime` inside once the work there has taken this share of the process's time.

    It is the share of the time left; with `at_least` all that is left, but no less than this share of what was given.
    Outside a worker, where nothing limits the time, and where a system has no clock for it, nothing is raised.
    """
    if math.isinf(given_seconds()) or not _can_limit():
        yield
        return
    import signal

    now = time.process_time()
    left = max(0.0, _time.end - now)
    seconds = max(left, share * given_seconds()) if at_least else share * left
    _kill_at(max(_time.end, now + seconds) + _GRACE)
    before = signal.signal(signal.SIGPROF, _raise_out_of_time)
    try:
        # Again and again, for what is raised within a destructor is lost.
        signal.setitimer(signal.ITIMER_PROF, max(seconds, 0.001), 0.2)
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def _raise_out_of_time(number: int, frame: object) -> None:
    raise OutOfTime


def _kill_at(seconds: float) -> None:
    """Let the system end this process once it has used the processors for so long."""
    if _can_limit():
        import resource

        _cap(resource.RLIMIT_CPU, math.ceil(seconds))


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
