"""From a page's words and rules to tables. Knows nothing of torque."""

from torquary_ingest.tables.finder import find_tables

__all__ = ["find_tables"]
