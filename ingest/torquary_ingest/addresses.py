"""Sheets at addresses that fsspec opens (`s3://…`, `sftp://…`, `memory://…`), brought here to be read.

They are copied for the time of a load, and then they are files: known by their bytes, read, refused and named as any.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Any

import fsspec
from fsspec.implementations.local import LocalFileSystem

from torquary_ingest.errors import NoSheets
from torquary_ingest.folders import is_sheet, say_no_sheet, say_nothing_there
from torquary_ingest.registry import describe_error

_SECRET = re.compile(r"(?<=//)[^/@]*@")
"""Name and password in an address, neither kept nor shown."""
_QUERY = re.compile(r"^(https?:[^?#]*).*", re.DOTALL)
"""What follows a web address's path; elsewhere these signs are part of a name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Brought:
    """The sheets of an address. `places`: path here → the folder that it is from, as an address without password.

    `folder` is the address where it is a folder, "" for a file.
    """

    places: dict[Path, str]
    folder: str = ""


def find_local(address: str) -> Path | None:
    """Return the path that a `file://` address means, None for another address."""
    protocol = fsspec.utils.get_protocol(address)
    return Path(LocalFileSystem._strip_protocol(address)) if protocol in LocalFileSystem.protocol else None


def bring(address: str, room: Path) -> Brought:
    """Copy the sheets of an address into the empty folder `room`, each into a folder of its own there.

    Of a folder, the files count that count in a folder here (`folders.sheets_in`). A file that cannot be copied has
    a path all the same, for the reader to refuse it by name.
    Raises `NoSheets`: nothing is there, no sheet is in the folder, or its kind of address cannot be used.
    """
    shown = _SECRET.sub("", address)
    try:
        system, path = fsspec.core.url_to_fs(address)
        is_folder = system.info(path)["type"] == "directory"
        files = _list_files(system, path) if is_folder else [path]
    except (FileNotFoundError, NotADirectoryError):
        raise NoSheets(say_nothing_there(shown)) from None
    except Exception as error:
        # Every kind of address has a library of its own, with errors of its own.
        why = _SECRET.sub("", describe_error(error))
        raise NoSheets(f"{shown} cannot be used ({why}): check the address and that its library is installed") from None
    places = {}
    for number, file in enumerate(files):
        here = room / str(number) / _name(file)
        _copy(system, file, here)
        if not is_folder or not here.exists() or is_sheet(here):
            places[here] = _place(shown, path, file, is_folder=is_folder)
    if not places:
        raise NoSheets(say_no_sheet(shown))
    return Brought(places=places, folder=shown.rstrip("/") if is_folder else "")


def _list_files(system: Any, folder: str) -> Sequence[str]:
    """Return the files of a folder and of those in it, without hidden ones, folder by folder."""
    inside = {file: PurePosixPath(file).relative_to(folder or "/").parts for file in system.find(folder)}
    seen = [file for file, parts in inside.items() if not any(part.startswith(".") for part in parts)]
    return sorted(seen, key=lambda file: (inside[file][:-1], inside[file][-1]))


def _name(file: str) -> str:
    """Return the name under which a file is copied: no part of a path, whatever stands in it."""
    name = re.sub(r"[\0\\]", "_", _QUERY.sub(r"\1", file).rstrip("/").rsplit("/", 1)[-1])
    return "sheet" if name in ("", ".", "..") else name


def _copy(system: Any, file: str, here: Path) -> None:
    """Copy a file; where that fails, nothing of it is left."""
    here.parent.mkdir(parents=True)
    try:
        system.get_file(file, str(here))
    except Exception:
        here.unlink(missing_ok=True)


def _place(shown: str, path: str, file: str, *, is_folder: bool) -> str:
    """Return the address of a file's folder."""
    address, *chain = shown.split("::")
    below = file.removeprefix(path).strip("/") if is_folder else ""
    whole = f"{address.rstrip('/')}/{below}" if below else _QUERY.sub(r"\1", address)
    return "::".join((whole.rsplit("/", 1)[0], *chain))
