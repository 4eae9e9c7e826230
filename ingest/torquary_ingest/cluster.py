"""Reads sheets on the workers of an existing Dask cluster, each in a process of its own there, as `reader` does here.

A worker reads a file where it sees the same content under the same path; where it does not, the content is sent.
What a lost worker was at, the others read; a sheet that workers are lost with again and again is read here.
"""

from __future__ import annotations

import gc
import logging
import multiprocessing
import tempfile
import time
import warnings
from collections import deque
from collections.abc import Iterator, Sequence
from concurrent.futures import CancelledError
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from itertools import islice
from pathlib import Path
from typing import Any

import distributed

from torquary_ingest.errors import ClusterUnusable
from torquary_ingest.limits import SECONDS
from torquary_ingest.profiles import Profile
from torquary_ingest.reader import ReadSheet, read_pictured_sheets
from torquary_ingest.reader_version import READER_VERSION
from torquary_ingest.refusal import open_file, take_digest
from torquary_ingest.registry import EXTRACTORS, OPENERS, describe_error, find_plugins

_CONNECT = 30
"""Seconds to reach the scheduler, and a first worker."""
_LOOK = 5
"""Seconds after which a sheet that is waited for is a reason to look whether the cluster is still there."""
_WITHOUT_WORKERS = 60
"""Seconds that a cluster may be without any worker: one that restarts is waited for."""
_AHEAD, _LEAST_AHEAD = 4, 16
"""Sheets sent for each thread of the workers, and at least, so that none is idle while an early sheet takes long."""


@dataclass(frozen=True, slots=True)
class _Answer:
    """What a worker gives: the sheet, None where it does not see that content; and what it reads with."""

    sheet: ReadSheet | None
    readers: tuple[str, ...]


def read_on_cluster(
    address: str,
    paths: Sequence[str | Path],
    *,
    every_page: bool = False,
    password: str = "",
    unwitnessed: bool = False,
    profiles: tuple[Profile, ...] = (),
    seconds: float = SECONDS,
) -> Iterator[ReadSheet]:
    """Yield as `read_pictured_sheets` does, in path order, the sheets read by the cluster of a scheduler at `address`.

    Raises `ClusterUnusable`: it is not there, has no workers, reads by another version or other plug-ins, or is lost.
    """
    files = [Path(path) for path in paths]
    read = partial(
        read_pictured_sheets,
        every_page=every_page,
        password=password,
        unwitnessed=unwitnessed,
        profiles=profiles,
        seconds=seconds,
        jobs=1,
        among=_choose_kinds(files),
    )
    with _connect(address) as client:
        yield from _Cluster(address, client, read).read(files)


class _Cluster:
    """A cluster that reads: `read` gives the sheets of paths, here as there."""

    def __init__(self, address: str, client: Any, read: Any) -> None:
        self.address = address
        self.client = client
        self.reader = read
        self.readers = _tell_readers()
        self.workers_seen = time.monotonic()

    def read(self, files: Sequence[Path]) -> Iterator[ReadSheet]:
        """Yield each sheet in the order of the files; some are sent ahead."""
        waiting, sent = iter(files), deque[tuple[Path, Any]]()
        while True:
            ahead = max(_LEAST_AHEAD, _AHEAD * self._count_threads())
            sent.extend((path, self._send(path)) for path in islice(waiting, ahead - len(sent)))
            if not sent:
                return
            yield self._receive(*sent.popleft())

    def _send(self, path: Path, *, content: bytes | None = None) -> Any:
        digest = take_digest(path)
        with warnings.catch_warnings():
            # Dask warns of arguments of megabytes; a sheet is one.
            warnings.simplefilter("ignore")
            return self.client.submit(_read_there, path, digest, content, self.reader, pure=False)

    def _receive(self, path: Path, future: Any) -> ReadSheet:
        """Wait for a sheet; where the worker did not see its content, send that."""
        try:
            answer = self._wait(future)
            if answer.sheet is None:
                answer = self._wait(self._send(path, content=_read_content(path)))
        except distributed.KilledWorker:
            return self._read_here(path)
        if answer.readers != self.readers:
            raise ClusterUnusable(
                f"the cluster at {self.address} reads with {', '.join(answer.readers)}, and this torquary with "
                f"{', '.join(self.readers)}: install the same there"
            )
        return answer.sheet or self._read_here(path)

    def _read_here(self, path: Path) -> ReadSheet:
        sheet: ReadSheet
        [sheet] = self.reader([path])
        return sheet

    def _wait(self, future: Any) -> _Answer:
        while True:
            try:
                answer: _Answer = future.result(timeout=_LOOK)
                return answer
            except distributed.KilledWorker:
                raise
            except TimeoutError:
                self._look_after()
            except (CancelledError, OSError) as error:
                raise self._lost(describe_error(error)) from None
            except Exception as error:
                raise ClusterUnusable(
                    f"the cluster at {self.address} cannot read sheets ({describe_error(error)}): "
                    "install torquary in this version with its scheduler and workers"
                ) from None

    def _look_after(self) -> None:
        """Raise `ClusterUnusable` where no worker is left to wait for."""
        if self.client.status != "running":
            raise self._lost("its scheduler does not answer")
        if self._count_threads():
            self.workers_seen = time.monotonic()
        elif time.monotonic() - self.workers_seen > _WITHOUT_WORKERS:
            raise self._lost("it has no workers any more")

    def _count_threads(self) -> int:
        try:
            return sum(self.client.nthreads().values())
        except (CancelledError, OSError, TimeoutError) as error:
            raise self._lost(describe_error(error)) from None

    def _lost(self, why: str) -> ClusterUnusable:
        return ClusterUnusable(
            f"the cluster at {self.address} is lost ({why}): what was loaded stays, the next load goes on from there"
        )


@contextmanager
def _connect(address: str) -> Iterator[Any]:
    logging.getLogger("distributed").setLevel(logging.CRITICAL)
    with warnings.catch_warnings():
        # Of other versions of its own libraries; ours are compared with each answer.
        warnings.simplefilter("ignore")
        client = _call(address)
    try:
        client.wait_for_workers(1, timeout=_CONNECT)
        yield client
    except TimeoutError:
        raise ClusterUnusable(f"the cluster at {address} has no workers: start some with dask worker") from None
    finally:
        client.close(timeout=_CONNECT)


def _call(address: str) -> Any:
    """Return a client of the scheduler there. ClusterUnusable when none answers."""
    try:
        return distributed.Client(address, timeout=_CONNECT, set_as_default=False)
    except (OSError, TimeoutError, ValueError) as error:
        failure = describe_error(error)
    # The client half made takes a lock when it is collected: in the making of the next one, that waits for ever.
    gc.collect()
    raise ClusterUnusable(
        f"no Dask scheduler answers at {address} ({failure}): "
        "give its address as dask scheduler prints it, like tcp://HOST:8786"
    )


def _choose_kinds(files: Sequence[Path]) -> tuple[Path, ...]:
    """Return a few of the files, each kind among them: the workers make ready for them."""
    return tuple({*files[:4], *{path.suffix.lower(): path for path in files}.values()})


def _read_content(path: Path) -> bytes | None:
    try:
        with open_file(path) as file:
            return file.read()
    except OSError:
        return None


def _read_there(path: Path, digest: str, content: bytes | None, read: Any) -> _Answer:
    """Run by a worker of the cluster: read a sheet in a process of its own."""
    # Dask's workers are daemons, which may start no processes; ours end with them all the same.
    multiprocessing.current_process().daemon = False
    with tempfile.TemporaryDirectory() as folder:
        if content is not None:
            path = Path(folder, path.name)
            path.write_bytes(content)
        elif take_digest(path) != digest:
            return _Answer(None, _tell_readers())
        [sheet] = read([path])
    return _Answer(sheet, _tell_readers())


def _tell_readers() -> tuple[str, ...]:
    """Return what a sheet is read with: the reader's version, and the plug-ins of others."""
    others = (one for group in (OPENERS, EXTRACTORS) for one in find_plugins(group) if not one.built_in)
    return f"reader {READER_VERSION}", *(f"{one.name} ({one.origin})" for one in others)
