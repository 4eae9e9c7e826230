"""Writing exports. A file is whole or not there: it is written beside its place and moved in."""

from __future__ import annotations

import os
from collections.abc import Callable
from functools import partial
from pathlib import Path

from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.export.delimited import write_csv
from torquary_catalogue.export.records import write_jsonl
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.little_memory import in_little_memory
from torquary_catalogue.store.parquet import write_parquet

_Writer = Callable[[Catalogue, Path], int]

FORMATS: dict[str, _Writer] = {"parquet": write_parquet, "csv": write_csv, "jsonl": write_jsonl}
"""Format name, which is also the file's ending → writer, which returns the number of settings written."""


def export(catalogue: Catalogue, target: Path, kind: str | None = None, *, no_formulas: bool = False) -> int:
    """Write the settings in force to `target`; return their number.

    The kind is told from the ending if it is not given. `no_formulas` makes a CSV of which a spreadsheet takes
    no cell for a formula. `TorquaryError` (status 2) for an unknown kind, a place that cannot be written, or
    `no_formulas` with another kind.
    """
    chosen = kind or target.suffix.lower().lstrip(".")
    if chosen not in FORMATS:
        raise TorquaryError(
            f"{target}: the ending does not tell the format: use .parquet, .csv or .jsonl, or --format",
            status=WRONG_USE,
        )
    if no_formulas and chosen != "csv":
        raise TorquaryError(f"{target}: --no-formulas is for CSV: name a .csv file, or leave it out", status=WRONG_USE)
    if target.exists() and target.samefile(catalogue.path):
        raise TorquaryError(f"{target} is the catalogue itself: name another file", status=WRONG_USE)
    beside = target.with_name(f".{target.name}.part")
    try:
        write = partial(write_csv, no_formulas=True) if no_formulas else FORMATS[chosen]
        sorting = target.with_name(f".{target.name}.sorting")
        count = in_little_memory(catalogue, sorting, lambda: write(catalogue, beside))
        os.replace(beside, target)
    except OSError as error:
        raise TorquaryError(f"{target} cannot be written: {error.strerror}", status=WRONG_USE) from None
    finally:
        beside.unlink(missing_ok=True)
    return count
