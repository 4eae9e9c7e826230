"""The catalogue as a frame of pandas, for a notebook and for CSV."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pandas as pd

from torquary_catalogue.decimals import shorten
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.settings import PUBLIC_COLUMNS, read_current

FIGURES = ("min_mm2", "max_mm2", "min_nm", "nominal_nm", "max_nm", "limit_nm")
"""Columns of exact `Decimal` values: areas in mm², torques in N·m."""

COUNTS = ("conductor_count", "page", "table_number", "row_number")
"""Columns of whole numbers (Int64)."""

LISTS = ("drive", "material", "stranding", "findings", "evidence", "missing", "scope")
"""Columns whose cells are lists, of texts or of mappings with the fields that the catalogue gives."""

_KINDS = {
    **dict.fromkeys((*FIGURES, *LISTS), "object"),
    **dict.fromkeys(COUNTS, "Int64"),
    "ferrule": "boolean",
    "decided_at": "datetime64[us]",
}


def settings_frame(catalogue: Catalogue) -> pd.DataFrame:
    """Return the settings in force, one a row, sheet by sheet, in the columns that exports have.

    Figures (`FIGURES`) are `Decimal` in columns of objects: exact, to be compared with `Decimal` or whole
    numbers; `astype(float)` makes floats of a column, to compute and draw with. Whole numbers (`COUNTS`) are
    Int64, `ferrule` is boolean, `decided_at` a time, `LISTS` hold lists; all other columns are texts (str).
    What is not stated is missing (`isna`). A setting that is not released shows no torque, as in the view
    `current_setting`.
    """
    rows = read_current(catalogue)
    return pd.DataFrame(
        {name: pd.Series([_cell(row[name]) for row in rows], dtype=_KINDS.get(name, "str")) for name in PUBLIC_COLUMNS}
    )


def _cell(value: Any) -> Any:
    """Return a figure without the zeros that its column in the catalogue adds; other values as they are."""
    return shorten(value) if isinstance(value, Decimal) else value
