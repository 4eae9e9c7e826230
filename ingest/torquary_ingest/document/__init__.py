"""An opened file as pages of words, rules and tables, whatever the file kind."""

from torquary_ingest.document.page import Document, Page, Picture, Rule, Seen, Shade, TaughtHeading, Word
from torquary_ingest.document.reading import Entry, Reading
from torquary_ingest.document.table import Cell, Doubt, Mark, Table

__all__ = [
    "Cell",
    "Document",
    "Doubt",
    "Entry",
    "Mark",
    "Page",
    "Picture",
    "Reading",
    "Rule",
    "Seen",
    "Shade",
    "Table",
    "TaughtHeading",
    "Word",
]
