"""One writer at a time: a lock file beside the catalogue, let go by the system if its holder is killed."""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path

from torquary_catalogue.store.faults import CatalogueLocked, explain

_PAUSE = 0.02


class WriterLock:
    """Held from when it is made until `release`. Readers do not ask for it."""

    def __init__(self, catalogue: Path, patience: float) -> None:
        """Wait up to `patience` seconds; raises `CatalogueLocked` after them."""
        self._file = catalogue.with_name(f".{catalogue.name}.lock")
        end = time.monotonic() + patience
        while (held := self._try(catalogue)) is None:
            if time.monotonic() >= end:
                raise CatalogueLocked(
                    f"{catalogue}: another torquary has been writing to it for {patience:g} s: "
                    "try again when it has ended"
                )
            time.sleep(_PAUSE)
        self._held = held

    def release(self) -> None:
        """Let the next writer go on."""
        if sys.platform != "win32":
            # Windows removes no open file; there the lock file stays.
            self._file.unlink(missing_ok=True)
        os.close(self._held)

    def _try(self, catalogue: Path) -> int | None:
        """Return the open lock file if it is ours now. One that its last holder has removed locks nothing."""
        try:
            opened = os.open(self._file, os.O_RDWR | os.O_CREAT, 0o666)
        except OSError as error:
            raise explain(catalogue, error) from None
        if _lock(opened) and _is_at(opened, self._file):
            return opened
        os.close(opened)
        return None


def _lock(opened: int) -> bool:
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(opened, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(opened, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def _is_at(opened: int, path: Path) -> bool:
    try:
        return sys.platform == "win32" or os.path.samestat(os.fstat(opened), path.stat())
    except OSError:
        return False
