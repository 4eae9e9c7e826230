"""Which datasheets paths name: files as given, folders searched through and through."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from torquary_ingest.errors import NoSheets
from torquary_ingest.registry import recognise_file
from torquary_schema.file_kinds import SHEETS, has_ending, say_way


def sheets_in(paths: Iterable[str | Path]) -> tuple[Path, ...]:
    """Return the datasheets that the paths name: files as given, folders searched through and through.

    In a folder, files count that an opener recognises or that are named like a datasheet, in the order of their
    names; hidden ones do not. So an empty or damaged one is named, not passed over, and one in a format that is not
    read, such as a text document or an archive, with what to do.
    Links are followed; what is named twice is read once. What cannot be looked at (a folder without permission,
    a link in a circle, a pipe named like a sheet) is among them, for the reader to refuse it by name.
    Raises `NoSheets`: a path that is not there, a folder without sheets.
    """
    found: dict[str, Path] = {}
    for path in map(Path, paths):
        for file in _look_in(path):
            found.setdefault(os.path.realpath(file), file)
    return tuple(found.values())


def _look_in(path: Path) -> Sequence[Path]:
    try:
        is_folder = stat.S_ISDIR(path.stat().st_mode)
    except (FileNotFoundError, NotADirectoryError):
        raise NoSheets(say_nothing_there(path)) from None
    except OSError:
        return [path]
    if not is_folder:
        return [path]
    inside = list(_search(path, set()))
    if not inside:
        raise NoSheets(say_no_sheet(path))
    return inside


def say_nothing_there(named: str | Path) -> str:
    """Say that what was named is not there."""
    return f"{named}: there is no such file or folder: check the name"


def say_no_sheet(folder: str | Path) -> str:
    """Say that a folder has no sheets."""
    return f"{folder}: no datasheet in this folder: name one with PDF, CSV, workbook or .html files"


def is_sheet(path: Path) -> bool:
    """Tell whether a file counts among the sheets of its folder."""
    return has_ending(path.name, SHEETS) or bool(say_way(path.name)) or recognise_file(path)


def _search(folder: Path, been: set[str]) -> Iterator[Path]:
    """Yield the sheets of a folder and then of those in it; `been` are the real folders already searched."""
    real = os.path.realpath(folder)
    if real in been:
        return
    been.add(real)
    try:
        entries = sorted(entry for entry in os.listdir(folder) if not entry.startswith("."))
    except OSError:
        yield folder
        return
    folders = []
    for path in (folder / name for name in entries):
        if path.is_dir():
            folders.append(path)
        elif is_sheet(path):
            yield path
    for inside in folders:
        yield from _search(inside, been)
