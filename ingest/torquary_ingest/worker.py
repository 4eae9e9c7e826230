"""Runs a task on each file in a process of its own, with a time and a memory limit, several at once.

A hostile file can exhaust memory, never end, or bring a native library down; here it costs that file only.
Workers are forked from a small server that has imported the readers once (POSIX) or started anew (Windows).
"""

from __future__ import annotations

import multiprocessing
import os
import queue
import sys
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection, wait
from multiprocessing.context import BaseContext
from multiprocessing.process import BaseProcess
from pathlib import Path
from types import ModuleType
from typing import Generic, TypeVar

from torquary_ingest.errors import SheetRefused
from torquary_ingest.limits import SECONDS, Limits, is_out_of_time, limit_this_process
from torquary_ingest.registry import BUILT_IN, OPENERS, describe_error
from torquary_ingest.worker_line import MoreTime, connect
from torquary_schema.file_kinds import MAY_BE_DELIMITED, PDF, PICTURES, WEB_PAGES, WORKBOOKS, has_ending

Answer = TypeVar("Answer")

# Each worker asks every opener whether the file is its own; what reads a kind of file is imported for that kind.
TO_OPEN = (*(point.module for point in BUILT_IN if point.group == OPENERS), "torquary_ingest.opening")
"""What the server imports for one task that opens a sheet and finds its tables; it imports the rest itself."""

TO_READ = (*(point.module for point in BUILT_IN), "torquary_ingest.warm")
"""What it imports for tasks that read figures; `torquary_ingest.warm` comes last, for it closes the imports."""

_hiding = threading.Lock()
"""Threads that start workers hide the caller's script in turn."""

_MOST_AHEAD = 64
"""Answers that may wait until they are asked for: reading goes on while what was read is written."""

_LOOK = 0.2
"""Seconds after which it is looked whether answers are still wanted."""

_FEW = 3
"""Sheets for which a rehearsal takes longer than it saves."""

_OF_KIND = (
    (PDF, ("torquary_ingest.openers.pdf.warm", "torquary_ingest.witness.warm")),
    (MAY_BE_DELIMITED, ("torquary_ingest.openers.delimited.reading",)),
    (WORKBOOKS, ("torquary_ingest.openers.workbook.reading",)),
    (WEB_PAGES, ("torquary_ingest.openers.web_page.reading",)),
    (PICTURES, ("torquary_ingest.openers.picture.reading",)),
)
"""What reads each kind of file, for tasks that read figures."""


@dataclass(slots=True, kw_only=True)
class _Running:
    """One worker under way: which file, and the moment (monotonic clock) at which it is stopped.

    `granted` tells that it was given more time.
    """

    number: int
    process: BaseProcess
    deadline: float
    granted: bool = False


@dataclass(frozen=True, slots=True)
class _Fault:
    """What stopped the thread that starts the workers."""

    error: BaseException


class _Apart(Generic[Answer]):
    """The files of one call: those that wait, those under way, and the answers so far by number."""

    def __init__(
        self,
        task: Callable[[Path], Answer],
        paths: Sequence[Path],
        limits: Limits,
        jobs: int,
        context: BaseContext,
    ) -> None:
        self.task = task
        self.paths = paths
        self.limits = limits
        self.jobs = jobs
        self.context = context
        self.started = 0
        self.running: dict[Connection, _Running] = {}
        self.answers: dict[int, Answer | SheetRefused] = {}
        self.ready: queue.Queue[Answer | SheetRefused | _Fault] = queue.Queue(_MOST_AHEAD)
        self.called_off = threading.Event()

    def answer_all(self) -> None:
        """Put the answers into `ready`, in order, until they are called off. Runs in a thread of its own."""
        try:
            for number in range(len(self.paths)):
                while number not in self.answers and not self.called_off.is_set():
                    self.fill()
                    self.collect()
                self.fill()
                self._hand_over(self.answers.pop(number, None))
        except BaseException as error:
            self._hand_over(_Fault(error))
        finally:
            self.stop()

    def take(self) -> Answer | SheetRefused:
        """Return the next answer when it is there; a wait without end could not be interrupted on Windows."""
        while True:
            with suppress(queue.Empty):
                answer = self.ready.get(timeout=_LOOK)
                if isinstance(answer, _Fault):
                    raise answer.error
                return answer

    def _hand_over(self, answer: Answer | SheetRefused | _Fault | None) -> None:
        while answer is not None and not self.called_off.is_set():
            with suppress(queue.Full):
                self.ready.put(answer, timeout=_LOOK)
                return

    def fill(self) -> None:
        """Start workers until `jobs` are under way or no file waits."""
        while len(self.running) < self.jobs and self.started < len(self.paths) and not self.called_off.is_set():
            ours, theirs = self.context.Pipe(duplex=False)
            path = self.paths[self.started]
            arguments = (theirs, self.task, path, self.limits)
            with _without_main():
                process = self.context.Process(target=_work, args=arguments, daemon=True)  # type: ignore[attr-defined]
                process.start()
            theirs.close()
            deadline = time.monotonic() + self.limits.clock_seconds
            self.running[ours] = _Running(number=self.started, process=process, deadline=deadline)
            self.started += 1

    def collect(self) -> None:
        """Wait a moment for the next answer, end or deadline among the workers under way."""
        for ready in wait(list(self.running), timeout=_LOOK):
            assert isinstance(ready, Connection)
            self._finish(ready)
        now = time.monotonic()
        for late in [one for one, job in self.running.items() if job.deadline <= now]:
            granted = self.running[late].granted
            self._close(late, _too_slow(None if granted else self.limits.clock_seconds))

    def stop(self) -> None:
        """End every worker under way."""
        for connection in list(self.running):
            self._close(connection, SheetRefused("sheet_crashed", "the reading was called off"))

    def _finish(self, connection: Connection) -> None:
        answer: Answer | SheetRefused
        try:
            answer = connection.recv()
        except (EOFError, OSError):
            process = self.running[connection].process
            process.join(5)
            message = f"this file brought the reader down ({_end(process)}): read it by eye, and report it"
            late = is_out_of_time(process.exitcode)
            answer = _too_slow(self.limits.seconds) if late else SheetRefused("sheet_crashed", message)
        if isinstance(answer, MoreTime):
            self._grant(connection, answer.seconds)
            return
        self._close(connection, answer)

    def _grant(self, connection: Connection, seconds: float) -> None:
        """Give a worker the time that it asks for, once: a file cannot keep it for ever."""
        job = self.running[connection]
        if self.limits.seconds >= SECONDS and not job.granted:
            job.deadline, job.granted = max(job.deadline, time.monotonic() + seconds), True

    def _close(self, connection: Connection, answer: Answer | SheetRefused) -> None:
        job = self.running.pop(connection)
        connection.close()
        job.process.kill()
        job.process.join()
        job.process.close()
        self.answers[job.number] = answer


def run_apart(
    task: Callable[[Path], Answer],
    paths: Sequence[Path],
    *,
    limits: Limits | None = None,
    jobs: int | None = None,
    readers: Sequence[str] = TO_READ,
    among: Sequence[Path] = (),
) -> Iterator[Answer | SheetRefused]:
    """Yield the task's answer for each path, in path order, each from a process of its own.

    A `SheetRefused` stands where the task raised it, crashed (`sheet_crashed`), took too long
    (`sheet_too_slow`) or too much memory (`sheet_too_large`). Reading goes on while the caller does something with an
    answer. `task` must be importable by name;
    `jobs` is how many run at once, by default the processors that this process may use; `readers` are the modules
    that the server of workers imports when it is started, for these files and those they are `among`.
    """
    context = _prepare((*paths, *among), readers)
    apart = _Apart(task, paths, limits or Limits(), max(1, jobs or _processors()), context)
    reading = threading.Thread(target=apart.answer_all, daemon=True)
    reading.start()
    try:
        for _ in paths:
            yield apart.take()
    finally:
        apart.called_off.set()
        reading.join()


def _prepare(paths: Sequence[Path], readers: Sequence[str]) -> BaseContext:
    """Return the way to start workers; where a server forks them, it imports the readers first."""
    if "forkserver" not in multiprocessing.get_all_start_methods():
        return multiprocessing.get_context("spawn")
    context = multiprocessing.get_context("forkserver")
    kinds = _OF_KIND if readers is TO_READ else ()
    of_kind = [
        module
        for endings, modules in kinds
        if any(has_ending(path.name, endings) for path in paths)
        for module in modules
    ]
    rehearsal = ["torquary_ingest.rehearsal"] if readers is TO_READ and len(paths) > _FEW else []
    context.set_forkserver_preload([*of_kind, *rehearsal, *readers])
    return context


def _processors() -> int:
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@contextmanager
def _without_main() -> Iterator[None]:
    """Start a worker without running the caller's own script again in it, as multiprocessing would."""
    with _hiding:
        real = sys.modules["__main__"]
        sys.modules["__main__"] = ModuleType("__main__")
        try:
            yield
        finally:
            sys.modules["__main__"] = real


def _too_slow(seconds: float | None) -> SheetRefused:
    told = "the time for its pictures" if seconds is None else f"{seconds:g} s"
    message = f"reading took longer than {told} and was stopped: split the file into smaller ones"
    return SheetRefused("sheet_too_slow", message)


def _end(process: BaseProcess) -> str:
    code = process.exitcode
    if code is None:
        return "it does not end"
    return f"signal {-code}" if code < 0 else f"exit status {code}"


def _work(connection: Connection, task: Callable[[Path], object], path: Path, limits: Limits) -> None:
    """Run in the worker: set the limits, do the task, send the answer or the refusal."""
    _be_quiet()
    limit_this_process(limits)
    connect(connection.send)
    answer: object
    try:
        answer = task(path)
    except SheetRefused as refused:
        answer = refused
    except MemoryError:
        message = f"reading needs more than {limits.memory_bytes / 1024**2:,.0f} MiB of memory: split the file"
        answer = SheetRefused("sheet_too_large", message)
    except Exception as error:
        message = f"the reader stopped on this file ({describe_error(error)}): read it by eye, and report it"
        answer = SheetRefused("sheet_crashed", message)
    connection.send(answer)
    connection.close()


def _be_quiet() -> None:
    """Leave the keyboard interrupt to the parent, and keep libraries' remarks off the person's screen."""
    import logging
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    logging.disable(logging.CRITICAL)
    with open(os.devnull, "wb") as nowhere:
        os.dup2(nowhere.fileno(), 1)
        os.dup2(nowhere.fileno(), 2)
