"""The layout profiles of a catalogue: those in the folder `profiles` beside it, and those a command is given."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_schema.words import fold

if TYPE_CHECKING:
    from torquary_ingest.profiles import Profile

FOLDER = "profiles"


def read_profiles(paths: Sequence[Path]) -> tuple[Profile, ...]:
    """Return the profiles in the files; `TorquaryError` (status 2) for the first that is wrong."""
    if not paths:
        return ()
    from torquary_ingest.profiles import ProfileWrong, read_profile

    read: dict[str, Profile] = {}
    for path in dict.fromkeys(paths):
        try:
            profile = read_profile(path)
        except ProfileWrong as wrong:
            raise TorquaryError(wrong.message, status=WRONG_USE) from None
        if read.setdefault(profile.name, profile) is not profile:
            raise TorquaryError(f"{path}: two profiles are named {profile.name}: rename one of them", status=WRONG_USE)
    return tuple(read.values())


def keep_profiles(
    catalogue: Path, given: Sequence[Path], tell: Callable[[str], None] = lambda line: None
) -> tuple[Profile, ...]:
    """Put the given profiles into the catalogue's folder, and return all that are there.

    One of the same name is replaced if it is for the same maker or was written from the same sheet, and `tell`
    is told so. Raises `TorquaryError` (status 2): a file is wrong, has the name of another profile, or cannot be
    written.
    """
    folder = catalogue.parent / FOLDER
    profiles = {profile.name: profile for profile in read_profiles(given)}
    beside = sorted(path for path in folder.glob("*") if _is_profile(path))
    for path in given:
        if not _is_profile(path):
            raise TorquaryError(f"{path}: the name of a profile ends in .json: rename it", status=WRONG_USE)
        there = folder / path.name
        if there.exists() and not there.samefile(path):
            _check_same(path, there, profiles[path.name])
    others = read_profiles([path for path in beside if path.name not in profiles])
    for path in given:
        if _put(path, folder):
            tell(f"{folder / path.name} is replaced by {path}")
    return (*profiles.values(), *others)


def _is_profile(path: Path) -> bool:
    return path.suffix.lower() == ".json" and not path.name.startswith(".") and path.is_file()


def _check_same(path: Path, there: Path, profile: Profile) -> None:
    [before] = read_profiles([there])
    corrected = bool(profile.made_from) and profile.made_from == before.made_from
    if fold(before.maker) != fold(profile.maker) and not corrected:
        raise TorquaryError(
            f"{path}: {there} has the same name and is for {before.maker}, not {profile.maker}: rename your file",
            status=WRONG_USE,
        )


def _put(path: Path, folder: Path) -> bool:
    """Copy a profile into the folder, whole or not at all; tell whether another content was replaced."""
    target = folder / path.name
    try:
        folder.mkdir(exist_ok=True)
        content = path.read_bytes()
        other = target.exists() and target.read_bytes() != content
        if target.exists() and not other:
            return False
        passing = target.with_name(f".{path.name}.new")
        passing.write_bytes(content)
        os.replace(passing, target)
        return other
    except OSError as error:
        message = f"{target} cannot be written ({error.strerror or error}): check the folder's rights"
        raise TorquaryError(message, status=WRONG_USE) from None
