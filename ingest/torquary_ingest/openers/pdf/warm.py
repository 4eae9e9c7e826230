"""Imported by the server that forks workers for PDF sheets: what reads them is imported and the reference
digits are drawn there once."""

from __future__ import annotations

from contextlib import suppress

from torquary_ingest.openers.pdf import look, reading, scanned
from torquary_ingest.openers.pdf.shapes import know_faces

__all__ = ["look", "reading", "scanned"]

# A fault here is told by the worker that meets it, with the sheet's name.
with suppress(Exception):
    know_faces()
