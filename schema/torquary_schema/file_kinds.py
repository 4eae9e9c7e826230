"""The kinds of files that sheets come as, by the ending of the name in lower case."""

from __future__ import annotations

PDF = (".pdf",)
DELIMITED = (".csv", ".tsv")
MAY_BE_DELIMITED = (*DELIMITED, ".tab", ".txt", ".psv")
"""The further ones are opened when named, and are no sheets by their name alone."""

WORKBOOKS = (".xlsx", ".xlsm", ".ods")
"""Their pages are worksheets."""

WEB_PAGES = (".html", ".htm", ".xhtml")
PICTURES = (".png", ".jpg", ".jpeg", ".tif", ".tiff")

SHEETS = (*PDF, *DELIMITED, *WORKBOOKS, *WEB_PAGES, *PICTURES)


def has_ending(name: str, endings: tuple[str, ...]) -> bool:
    """Tell whether a file's name has one of the endings, in capitals or not."""
    return name.lower().endswith(endings)
