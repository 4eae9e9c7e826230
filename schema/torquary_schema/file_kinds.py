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

_WAYS: dict[tuple[str, ...], str] = {
    (".doc", ".docx", ".docm", ".odt", ".rtf", ".wpd", ".pages"): "it is a text document: save it as PDF",
    (".ppt", ".pptx", ".odp", ".key"): "it holds slides: save it as PDF",
    (".xls", ".xlsb", ".numbers"): "it is a workbook of another format: save it as .xlsx",
    (".msg", ".eml"): "it is a mail: save what is attached to it, or print it as PDF",
    (".zip", ".rar", ".7z", ".tar", ".tgz", ".gz", ".bz2", ".xz"): "it is an archive: unpack it",
    (".heic", ".webp", ".gif", ".bmp", ".djvu"): "it is a picture of another format: save it as .png or PDF",
    (".dwg", ".dxf"): "it is a drawing: save it as PDF",
}


def say_way(name: str) -> str:
    """Return what a file is that cannot be read and may hold a sheet all the same, and what to do; "" for others."""
    return next((way for endings, way in _WAYS.items() if has_ending(name, endings)), "")


def has_ending(name: str, endings: tuple[str, ...]) -> bool:
    """Tell whether a file's name has one of the endings, in capitals or not."""
    return name.lower().endswith(endings)
