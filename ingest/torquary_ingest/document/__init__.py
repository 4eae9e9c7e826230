"""An opened file as pages of words, rules and tables, whatever the file kind."""

from torquary_ingest.document.page import Document, Noted, Page, Picture, Rule, Seen, Shade
from torquary_ingest.document.passed import PassedPage
from torquary_ingest.document.reading import Entry, Reading
from torquary_ingest.document.section import HeadingLine, Section
from torquary_ingest.document.table import Cell, Table
from torquary_ingest.document.taught import TaughtHeading
from torquary_ingest.document.word import Doubt, Mark, Word

__all__ = [
    "Cell",
    "Document",
    "Doubt",
    "Entry",
    "HeadingLine",
    "Mark",
    "Noted",
    "Page",
    "PassedPage",
    "Picture",
    "Reading",
    "Rule",
    "Section",
    "Seen",
    "Shade",
    "Table",
    "TaughtHeading",
    "Word",
]
