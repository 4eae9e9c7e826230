"""Sheets as they are read, by the processors of this machine or by a cluster, in batches to be written."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_ingest.errors import ClusterUnusable
from torquary_ingest.limits import SECONDS

if TYPE_CHECKING:
    from torquary_ingest.profiles import Profile
    from torquary_ingest.reader import ReadSheet

_REST = 4
"""Sheets that are read are written together, so that writing takes at most a fifth of the time: it takes as long as
copying the catalogue, which is nothing for a small one and seconds for a large one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class How:
    """How a sheet is to be read: `again` puts the reading in the place of the one before, `replace` the sheet.

    `seconds` is the processor time that it is given.
    """

    every_page: bool
    unwitnessed: bool
    again: bool
    replace: bool
    who: str
    seconds: float = SECONDS


def read_all(
    unread: Mapping[Path, How], password: str, profiles: tuple[Profile, ...], cluster: str
) -> Iterator[tuple[Path, ReadSheet]]:
    """Yield each sheet as it is read; those that are read in one way go together."""
    read = _choose_reader(cluster)
    for how in dict.fromkeys(unread.values()):
        paths = [path for path, wished in unread.items() if wished == how]
        sheets = read(
            paths,
            every_page=how.every_page,
            password=password,
            unwitnessed=how.unwitnessed,
            profiles=profiles,
            seconds=how.seconds,
        )
        yield from zip(paths, sheets, strict=True)


def _choose_reader(cluster: str) -> Callable[..., Iterator[ReadSheet]]:
    """Return what reads sheets: the processors of this machine, or a cluster."""
    if not cluster:
        from torquary_ingest.reader import read_pictured_sheets

        return read_pictured_sheets
    try:
        from torquary_ingest.cluster import read_on_cluster
    except ImportError:
        message = "--cluster needs Dask: install it with pip install 'torquary[cluster]'"
        raise TorquaryError(message, status=WRONG_USE) from None
    return partial(read_on_cluster, cluster)


def gather(sheets: Iterator[tuple[Path, ReadSheet]]) -> Iterator[list[tuple[Path, ReadSheet]]]:
    """Yield the sheets in batches that are large enough for the time that writing the last one took."""
    batch: list[tuple[Path, ReadSheet]] = []
    due = time.monotonic()
    lost = None
    try:
        for sheet in sheets:
            batch.append(sheet)
            start = time.monotonic()
            if start >= due:
                yield batch
                batch = []
                now = time.monotonic()
                due = now + _REST * (now - start)
    except ClusterUnusable as error:
        lost = error
    if batch:
        yield batch
    if lost:
        raise TorquaryError(lost.message, status=WRONG_USE)
