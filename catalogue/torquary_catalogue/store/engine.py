"""DuckDB's engine without its relations and expressions, which take three quarters of the time of `import duckdb`.

`_duckdb` is what the package `duckdb` itself hands on: the same connections and the same errors. A version without it
gives the whole package.
"""

from __future__ import annotations

try:
    import _duckdb as duckdb
except ImportError:  # pragma: no cover
    import duckdb  # type: ignore[no-redef]

__all__ = ["duckdb"]
