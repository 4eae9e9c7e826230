"""Headings of an office's board lists, explained once and kept: the profile of a list (`list_profile.schema.json`).

A profile is kept beside the catalogue, in profiles/boards. It counts for lists that print all the headings of the list
that it was made from, so that a word which means one thing in one office's lists is not taken so in another's.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from torquary_catalogue.board.columns import UNUSED, columns
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.profiles import FOLDER
from torquary_catalogue.written_forms import read_written, wrong_at
from torquary_schema.words import fold


@dataclass(frozen=True, slots=True, kw_only=True)
class ListProfile:
    """What one file says: `headings`, folded as they are compared, all that its list had; of those that a person
    explained, `explained` gives the key of their column (`UNUSED`: none).
    """

    path: Path
    headings: frozenset[str]
    explained: Mapping[str, str]


def read_list_profiles(catalogue: Path) -> tuple[ListProfile, ...]:
    """Return the profiles of lists beside a catalogue; `TorquaryError` (status 2) for one that is wrong."""
    paths = sorted(path for path in _folder(catalogue).glob("*.json") if path.is_file() and path.name[0] != ".")
    return tuple(map(_read, paths))


def _folder(catalogue: Path) -> Path:
    return catalogue.parent / FOLDER / "boards"


def _read(path: Path) -> ListProfile:
    form = read_written(path, "list_profile")
    explained: dict[str, str] = {}
    for at, heading in enumerate(form["headings"]):
        key, printed = heading["means"], fold(heading["printed"])
        if key not in ("", UNUSED, *columns()):
            known = ", ".join((*columns(), UNUSED))
            raise wrong_at(path, ("headings", at, "means"), f"{key!r} is no column: write one of {known}")
        if key:
            explained[printed] = key
    headings = frozenset(fold(heading["printed"]) for heading in form["headings"])
    return ListProfile(path=path, headings=headings, explained=explained)


def choose_profile(profiles: Iterable[ListProfile], headings: Sequence[str]) -> ListProfile | None:
    """Return the profile for a list with these headings, the one that has the most of them; None where none fits.

    Raises `TorquaryError` (status 2) where two fit as well and explain a heading differently.
    """
    printed = set(map(fold, headings))
    fitting = sorted((one for one in profiles if one.headings <= printed), key=lambda one: -len(one.headings))
    for other in fitting[1:]:
        first = fitting[0]
        if len(other.headings) == len(first.headings) and other.explained != first.explained:
            raise TorquaryError(
                f"{first.path} and {other.path} explain the headings of one list differently: take one of them away",
                status=WRONG_USE,
            )
    return fitting[0] if fitting else None


def keep_list_profile(catalogue: Path, made_from: Path, headings: Sequence[str], explained: Mapping[str, str]) -> Path:
    """Keep what headings of a list mean (folded → key), in place of what was kept for a list with the same headings.

    Raises `TorquaryError` (status 2) where it cannot be written.
    """
    from torquary_catalogue.whole_file import put_whole
    from torquary_schema.report import dump_json

    same = frozenset(map(fold, headings))
    kept = {one.path: one for one in read_list_profiles(catalogue)}
    path = next((path for path, one in kept.items() if one.headings == same), None)
    names = (made_from.stem + more for more in ("", *(f"-{number}" for number in range(2, len(kept) + 3))))
    path = path or next(there for name in names if (there := _folder(catalogue) / f"{name}.json") not in kept)
    form = {
        "torquary_list_profile": 1,
        "made_from": made_from.name,
        "headings": [{"printed": one, "means": explained.get(fold(one), "")} for one in headings],
    }
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        message = f"{path.parent} cannot be made ({error.strerror or error}): check the folder's rights"
        raise TorquaryError(message, status=WRONG_USE) from None
    put_whole(path, (dump_json(form) + "\n").encode())
    return path
