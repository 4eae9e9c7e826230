"""Delimited text (CSV, TSV, TXT) to a `Document` whose tables are given. Every cell stays text."""

from torquary_ingest.openers.delimited.opener import DelimitedOpener

__all__ = ["DelimitedOpener"]
