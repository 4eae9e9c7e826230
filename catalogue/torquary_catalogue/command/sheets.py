"""The files that a command is given."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from torquary_catalogue.errors import WRONG_USE, TorquaryError


def collect_sheets(paths: Sequence[Path]) -> tuple[Path, ...]:
    """Return the datasheets that files and folders name; `TorquaryError` (status 2) if there are none."""
    from torquary_ingest.errors import NoSheets
    from torquary_ingest.folders import sheets_in

    try:
        return sheets_in(paths)
    except NoSheets as error:
        raise TorquaryError(str(error), status=WRONG_USE) from None


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """What a command is to load: sheets, the address that each is from where it was brought, and the folders named."""

    sheets: tuple[Path, ...]
    places: dict[Path, str]
    folders: tuple[Path | str, ...]


@contextmanager
def sheets_named(names: Sequence[str]) -> Iterator[Named]:
    """Give the datasheets of files, folders and addresses (`…://…`), which are copied here meanwhile.

    `TorquaryError` (status 2) if there are none, or an address cannot be used.
    """
    addresses = [name for name in names if "://" in name]
    paths = [Path(name) for name in names if "://" not in name]
    with tempfile.TemporaryDirectory(prefix="torquary-") as room:
        places, folders = _bring(addresses, paths, Path(room)) if addresses else ({}, [])
        sheets = (*(collect_sheets(paths) if paths else ()), *places)
        yield Named(sheets=sheets, places=places, folders=(*(one for one in paths if one.is_dir()), *folders))


def _bring(addresses: Sequence[str], paths: list[Path], room: Path) -> tuple[dict[Path, str], list[str]]:
    """Return the sheets of addresses, with where each is from, and the folders among these; paths join `paths`."""
    try:
        from torquary_ingest.addresses import bring, find_local
    except ImportError:
        message = f"{addresses[0]}: addresses need fsspec: install it with pip install 'torquary[remote]'"
        raise TorquaryError(message, status=WRONG_USE) from None
    from torquary_ingest.errors import NoSheets

    places: dict[Path, str] = {}
    folders = []
    for number, address in enumerate(dict.fromkeys(addresses)):
        local = find_local(address)
        if local is not None:
            paths.append(local)
            continue
        try:
            brought = bring(address, room / str(number))
        except NoSheets as error:
            raise TorquaryError(error.message, status=WRONG_USE) from None
        places |= brought.places
        folders += [brought.folder] if brought.folder else []
    return places, folders
