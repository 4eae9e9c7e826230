"""The catalogue as a frame of pandas, for a notebook and for CSV."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pandas as pd

from torquary_catalogue.decimals import shorten
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.settings import read_current, read_kinds

_KINDS = {
    "VARCHAR": "str",
    "INTEGER": "Int64",
    "BOOLEAN": "boolean",
    "TIMESTAMP": "datetime64[us]",
}
"""Kind of a column in the catalogue → in the frame; exact figures and lists stay objects of Python."""


def settings_frame(catalogue: Catalogue) -> pd.DataFrame:
    """Return the settings in force, one a row, sheet by sheet, in the columns that exports have.

    Areas (mm²) and torques (N·m) are `Decimal` in columns of objects: exact, to be compared with `Decimal` or
    whole numbers; `astype(float)` makes floats of a column, to compute and draw with. Pages, rows and counts
    are Int64, `ferrule` is boolean, `decided_at` a time; what may be several (`material`, `findings`,
    `evidence`) is a list in its cell; all other columns are texts (str). What is not stated is missing
    (`isna`). A setting that is not released shows no torque, as in the view `current_setting`.
    """
    rows = read_current(catalogue)
    columns = {
        name: pd.Series([_cell(row[name]) for row in rows], dtype=_KINDS.get(kind, "object"))
        for name, kind in read_kinds(catalogue).items()
    }
    return pd.DataFrame(columns)


def _cell(value: Any) -> Any:
    """Return a figure without the zeros that its column in the catalogue adds; other values as they are."""
    return shorten(value) if isinstance(value, Decimal) else value
