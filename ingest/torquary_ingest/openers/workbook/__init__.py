"""Workbooks (`.xlsx`, `.xlsm`, `.ods`) to a `Document`: each visible worksheet is a page, its tables are given."""

from torquary_ingest.openers.workbook.opener import WorkbookOpener

__all__ = ["WorkbookOpener"]
