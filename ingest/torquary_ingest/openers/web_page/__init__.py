"""Saved web pages (`.html`, `.htm`) to a `Document` of one page: its tables are given, its prose is lines."""

from torquary_ingest.openers.web_page.opener import WebPageOpener

__all__ = ["WebPageOpener"]
