"""The working copy: what a writer changes, and what is put in the catalogue's place when it is whole.

Readers open the catalogue itself, and so the last whole state; they never wait for a writer, nor a writer for them.
"""

from __future__ import annotations

import errno
import os
import sys
import time
from pathlib import Path
from typing import BinaryIO

from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.store.faults import CatalogueLocked, explain
from torquary_catalogue.store.lock import WriterLock

_PAUSE = 0.05


class WorkingCopy:
    """A copy of the catalogue at `path`, or room for a new one; `file` is where it is.

    One writer has it at a time. It ends with `publish` or `discard`.
    """

    def __init__(self, path: Path, *, patience: float) -> None:
        """Wait up to `patience` seconds for another torquary. Raises `TorquaryError` (status 3)."""
        self.path = Path(os.path.realpath(path))
        self.file = self.path.with_name(f".{self.path.name}.working")
        self._log = self.file.with_name(f"{self.file.name}.wal")
        self._source: BinaryIO | None = None
        self._lock = WriterLock(self.path, patience)
        try:
            self._clear()
        except OSError as error:
            self._lock.release()
            raise explain(path, error) from None

    def fill(self, *, patience: float) -> None:
        """Copy the catalogue; other programs may not write to it until the copy has ended.

        Waits up to `patience` seconds for one that does. Raises `TorquaryError` (status 3).
        """
        try:
            self._source = self.path.open("rb")
            _keep_others_off(self._source, self.path, patience)
            _copy(self._source, self.file)
        except OSError as error:
            raise explain(self.path, error) from None

    def has_log(self) -> bool:
        """Tell whether changes wait in DuckDB's log to be written into the copy."""
        return self._log.exists()

    def publish(self) -> None:
        """Put the copy in the catalogue's place, if anything was written to it; raises `TorquaryError` (status 3)."""
        try:
            if self._source is not None and self.file.stat().st_mtime_ns == 0:
                return
            _flush(self.file)
            if sys.platform == "win32":
                self._let_go()
            _replace(self.file, self.path)
            if sys.platform != "win32":
                _flush(self.path.parent)
        except OSError as error:
            raise explain(self.path, error) from None
        finally:
            self.discard()

    def discard(self) -> None:
        """Remove the copy and let the next writer go on."""
        try:
            self._clear()
        except OSError:
            pass  # the next writer clears it away
        finally:
            self._let_go()
            self._lock.release()

    def _clear(self) -> None:
        for file in (self.file, self._log):
            file.unlink(missing_ok=True)

    def _let_go(self) -> None:
        if self._source is not None:
            self._source.close()


def _keep_others_off(source: BinaryIO, path: Path, patience: float) -> None:
    """Hold the lock that DuckDB's readers hold: a program that would write is refused, readers are not."""
    if sys.platform == "win32":
        return
    import fcntl

    end = time.monotonic() + patience
    while True:
        try:
            fcntl.lockf(source, fcntl.LOCK_SH | fcntl.LOCK_NB)
            return
        except OSError as error:
            if error.errno not in (errno.EAGAIN, errno.EACCES):
                return  # a file system without locks
            if time.monotonic() >= end:
                raise CatalogueLocked(
                    f"{path} is in use by another program that writes to it: try again when it has ended"
                ) from None
            time.sleep(_PAUSE)


def _copy(source: BinaryIO, target: Path) -> None:
    """Copy with owner and rights; the time of the last change is set to the epoch, so that a change shows."""
    there = os.fstat(source.fileno())
    with target.open("xb") as file:
        if not _copy_inside(source.fileno(), file.fileno(), there.st_size):
            import shutil

            source.seek(0)
            file.truncate(0)
            shutil.copyfileobj(source, file, 1 << 20)
    target.chmod(there.st_mode & 0o7777)
    if sys.platform != "win32" and os.geteuid() == 0:
        os.chown(target, there.st_uid, there.st_gid)
    os.utime(target, ns=(0, 0))


def _copy_inside(source: int, target: int, size: int) -> bool:
    """Let the system copy, which shares the blocks where the file system can; tell whether it did."""
    if not hasattr(os, "copy_file_range"):
        return False
    try:
        done = 0
        while done < size and (step := os.copy_file_range(source, target, size - done, done, done)):
            done += step
    except OSError as error:
        if error.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
            raise
        return False
    return done == size


def _replace(file: Path, path: Path) -> None:
    """Move the file in; Windows lets no file be replaced while it is open, so wait for a moment without readers."""
    end = time.monotonic() + (60.0 if sys.platform == "win32" else 0.0)
    while True:
        try:
            os.replace(file, path)
            return
        except PermissionError:
            if time.monotonic() >= end:
                raise
            time.sleep(_PAUSE)


def _flush(path: Path) -> None:
    """Have the system write a file or folder to the disk."""
    opened = os.open(path, os.O_RDWR if path.is_file() else os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)


def refuse_read_only(path: Path) -> None:
    """Raise `TorquaryError` (status 3) for a file that its owner has made read-only: a rename would pass over that."""
    if path.stat().st_mode & 0o222 == 0 or not os.access(path, os.W_OK):
        raise TorquaryError(f"{path} is read-only: make it writable, or name another file with --catalogue FILE")
