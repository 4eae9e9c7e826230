"""What a sheet is: what it says of itself, with what people corrected of that."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from torquary_catalogue.store.batch import Batch
from torquary_catalogue.store.connection import Catalogue

FIELDS = ("file", "title", "maker", "document_number", "edition", "edition_date")
"""Columns of the table sheet that a person may correct."""

_CORRECT = f"""
UPDATE sheet SET {", ".join(f"{name} = coalesce(g.{name}, sheet.as_read.{name})" for name in FIELDS)}
FROM (SELECT {", ".join(f"arg_max(g.{name}, g.number) FILTER (g.{name} IS NOT NULL) AS {name}" for name in FIELDS)}
      FROM sheet_given AS g JOIN decision_record AS r ON r.number = g.number
      WHERE r.sheet = $sheet AND r.undone_by IS NULL) AS g
WHERE sheet.digest = $sheet AND sheet.as_read IS NOT NULL"""

_COLUMNS = """s.digest, s.file, s.title, coalesce(s.product, '') AS product, s.maker,
    coalesce(s.document_number, '') AS document_number, s.edition, coalesce(s.edition_date, '') AS edition_date"""
_HEAD = "coalesce((SELECT f.head FROM sheet_face AS f WHERE f.sheet = s.digest), []) AS head"
_DEVICES = "(SELECT coalesce(list(DISTINCT device_printed), []) FROM setting WHERE sheet = s.digest) AS devices"
_KIN = f"""
SELECT {_COLUMNS}, {_HEAD}, {_DEVICES} FROM sheet AS s
WHERE list_contains($sheets::VARCHAR[], s.digest) AND (s.digest = $sheet OR s.state = 'read')
ORDER BY s.loaded_at, s.digest"""
_KNOWN_BY = """
SELECT digest AS sheet, file, fold_each([nullif(title, ''), nullif(document_number, '')]) AS folded
FROM sheet WHERE $sheets::VARCHAR[] IS NULL OR list_contains($sheets::VARCHAR[], digest)"""
_NAMES = """
SELECT sheet, file FROM sheet_name WHERE $sheets::VARCHAR[] IS NULL OR list_contains($sheets::VARCHAR[], sheet)"""

_NOTE_NAME = """
INSERT INTO sheet_name BY NAME
SELECT $sheet AS sheet, $folder AS folder, $file AS file,
    (now() AT TIME ZONE 'UTC') AS first_loaded, (now() AT TIME ZONE 'UTC') AS last_loaded"""
_NAMED_AGAIN = """
UPDATE sheet_name SET last_loaded = (now() AT TIME ZONE 'UTC')
WHERE sheet = $sheet AND folder = $folder AND file = $file
    AND last_loaded::DATE <> (now() AT TIME ZONE 'UTC')::DATE"""
_GONE = """
SELECT DISTINCT ON (h.digest) h.digest, n.file, n.folder, n.last_loaded
FROM sheet_name AS n JOIN sheet AS h ON h.digest = n.sheet
WHERE h.state = 'read' AND NOT list_contains($seen::VARCHAR[], h.digest)
    AND (n.folder = $folder OR starts_with(n.folder, rtrim($folder, '/') || '/'))
ORDER BY h.digest, n.last_loaded DESC"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Identity:
    """What is known of a sheet; `head` are the lines at its head, `devices` those that its settings name."""

    digest: str
    file: str
    title: str
    product: str
    maker: str
    document_number: str
    edition: str
    edition_date: str
    head: frozenset[str]
    devices: frozenset[str]

    @property
    def named(self) -> str:
        """The sheet in a few words: its file, title and edition."""
        edition = self.edition or self.edition_date
        parts = (f"“{self.title}”" if self.title else "", edition)
        told = ", ".join(part for part in parts if part)
        return f"{self.file} ({told})" if told else self.file


@dataclass(frozen=True, slots=True, kw_only=True)
class Name:
    """A name that a content was loaded under; `known` tells whether it was before."""

    sheet: str
    folder: str
    file: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Gone:
    """A sheet in force that its folder does not hold any more."""

    digest: str
    file: str
    folder: str
    last_loaded: datetime


def put_identity(catalogue: Catalogue, digest: str) -> None:
    """Let the sheet show what was read of it, with what people corrected."""
    catalogue.connection.execute(_CORRECT, {"sheet": digest})


def read_kin(
    catalogue: Catalogue, digest: str, near: Collection[str] | None = None
) -> tuple[Identity, list[Identity]]:
    """Return a sheet, and those in force that share its document number, its title or a file name (`find_near`)."""
    near = find_near(catalogue, digest) if near is None else near
    rows = catalogue.rows(_KIN, {"sheet": digest, "sheets": [*near]})
    found = [
        Identity(**{**row, "head": frozenset(row["head"]), "devices": frozenset(row["devices"])}) for row in rows
    ]
    (this,) = [one for one in found if one.digest == digest]
    return this, [one for one in found if one is not this]


def find_near(catalogue: Catalogue, digest: str) -> set[str]:
    """Return the sheets that are or were known by what a sheet is known by, and itself."""
    batch = catalogue.batch or Batch()
    kin = know_all(catalogue, batch)
    keys = batch.told.pop(digest, None) or _read_known(catalogue, [digest])[digest]
    for key in keys:
        kin.setdefault(key, set()).add(digest)
    return {one for key in keys for one in kin[key]}


def know_all(catalogue: Catalogue, batch: Batch) -> dict[tuple[str, str], set[str]]:
    """Return which sheets are known by each name, title and number; read once for a batch."""
    if batch.kin is None:
        batch.kin = {}
        for sheet, keys in _read_known(catalogue, None).items():
            for key in keys:
                batch.kin.setdefault(key, set()).add(sheet)
    return batch.kin


def tell_ahead(catalogue: Catalogue, batch: Batch, sheets: Sequence[str]) -> None:
    """Read what sheets are known by that `find_near` is asked about next."""
    batch.told = dict(_read_known(catalogue, sheets))


def forget_known(batch: Batch, sheets: Iterable[str]) -> None:
    """Forget by what sheets are known that were not written after all."""
    batch.told = {}
    for known in (batch.kin or {}).values():
        known.difference_update(sheets)


def _read_known(catalogue: Catalogue, sheets: Sequence[str] | None) -> dict[str, set[tuple[str, str]]]:
    """Return what each of the sheets (None: all of them) is known by."""
    values = {"sheets": sheets if sheets is None else [*sheets]}
    known: dict[str, set[tuple[str, str]]] = defaultdict(set)
    for row in catalogue.rows(_NAMES, values):
        known[row["sheet"]].add(("name", row["file"]))
    for row in catalogue.rows(_KNOWN_BY, values):
        texts = zip(("file", "title", "number"), (row["file"], *row["folded"]), strict=True)
        known[row["sheet"]].update((kind, text) for kind, text in texts if text is not None)
    return known


def name_of(folder: Path | str, file: str, digest: str) -> Name:
    """Return the name of a file in a folder as it is kept."""
    return Name(sheet=digest, folder=_write_folder(folder), file=file)


def _write_folder(folder: Path | str) -> str:
    """Return a folder as it is kept: with all its links followed, an address as it is."""
    return folder if isinstance(folder, str) else folder.resolve().as_posix()


def note_names(catalogue: Catalogue, names: Iterable[Name]) -> dict[Name, tuple[str, ...]]:
    """Keep the names that contents were loaded under; of each that is new return the sheet's others."""
    added = {}
    for name in names:
        values = {"sheet": name.sheet, "folder": name.folder, "file": name.file}
        rows = catalogue.rows("SELECT folder, file FROM sheet_name WHERE sheet = $sheet", {"sheet": name.sheet})
        if {"folder": name.folder, "file": name.file} in rows:
            catalogue.connection.execute(_NAMED_AGAIN, values)
            continue
        catalogue.connection.execute(_NOTE_NAME, values)
        added[name] = tuple(dict.fromkeys(row["file"] for row in rows))
    return added


def find_gone(catalogue: Catalogue, folder: Path | str, seen: Iterable[str]) -> tuple[Gone, ...]:
    """Return the sheets in force that were loaded from a folder and are not among the digests seen there now."""
    values = {"folder": _write_folder(folder), "seen": list(seen)}
    return tuple(Gone(**row) for row in catalogue.rows(_GONE, values))
