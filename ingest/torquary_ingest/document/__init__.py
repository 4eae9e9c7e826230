"""An opened file as pages of words, rules and tables, whatever the file kind."""

from torquary_ingest.document.page import Document, Page, Picture, Rule, Seen, Shade, Word
from torquary_ingest.document.reading import Entry, Reading
from torquary_ingest.document.table import Cell, Doubt, Mark, Table
from torquary_ingest.document.taught import TaughtHeading

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
