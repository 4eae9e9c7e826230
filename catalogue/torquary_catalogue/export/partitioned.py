"""A folder of Parquet files, parted as Hive does it (`maker=NAME/…`), for catalogues that outgrow one file.

DuckDB, Spark and Trino read such a folder as one table, and skip the parts that a question does not ask for. The
catalogue's own tables go with it, so that torquary answers from the folder too (`store/exported_folder.py`).
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.exported_folder import TABLES
from torquary_catalogue.store.parquet import write_parquet, write_tables

Part = Literal["maker", "family", "state"]
PARTS: tuple[Part, ...] = ("maker", "family", "state")
"""Columns that a folder may be parted by: each has few values, and every row at most one."""


def export_parted(catalogue: Catalogue, folder: Path, by: Sequence[Part]) -> int:
    """Write the settings in force to files under `folder`, one level for each column of `by`; return their number.

    The folder is whole or not there; one written so before is replaced, anything else is left alone.
    `TorquaryError` (status 2) where it cannot be written.
    """
    _refuse_others(folder)
    if folder.exists() and folder.samefile(catalogue.path):
        raise TorquaryError(f"{folder} is the catalogue itself: name another folder with --to", status=WRONG_USE)
    new, old = (folder.with_name(f".{folder.name}.{mark}") for mark in ("part", "old"))
    try:
        shutil.rmtree(new, ignore_errors=True)
        new.mkdir()
        count = write_parquet(catalogue, new, by)
        write_tables(catalogue, new)
        if folder.exists():
            shutil.rmtree(old, ignore_errors=True)
            os.replace(folder, old)
        os.replace(new, folder)
    except OSError as error:
        if old.exists() and not folder.exists():
            os.replace(old, folder)
        raise TorquaryError(f"{folder} cannot be written: {error.strerror}", status=WRONG_USE) from None
    finally:
        shutil.rmtree(new, ignore_errors=True)
    shutil.rmtree(old, ignore_errors=True)
    return count


def _refuse_others(folder: Path) -> None:
    """Refuse a place that holds anything but an export of this kind."""
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise TorquaryError(f"{folder} is no folder: name a new one with --to", status=WRONG_USE)
    ours = (*(f"{name}=" for name in PARTS), TABLES)
    others = sorted(one.name for one in folder.iterdir() if not one.name.startswith(ours)) if folder.exists() else []
    if others:
        raise TorquaryError(
            f"{folder} holds {others[0]}, which is no part of an export: name a new folder with --to", status=WRONG_USE
        )
