"""The catalogue file: DuckDB tables, views and macros. Nothing outside this folder touches duckdb."""

from torquary_catalogue.store.connection import Catalogue, open_catalogue

__all__ = ["Catalogue", "open_catalogue"]
