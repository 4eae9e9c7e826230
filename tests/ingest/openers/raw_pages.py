"""Pages written as their content stream, with the states, forms and fonts that it names."""

from __future__ import annotations

from pathlib import Path

from assembled_pdf import assemble_pdf

from torquary_ingest.document import Page
from torquary_ingest.openers.pdf import PdfOpener
from torquary_ingest.plugins import OpenWish

HELVETICA = "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >>"


def stream(content: str, entries: str = "") -> bytes:
    """Return a stream object's body."""
    return f"<< {entries} /Length {len(content)} >>\nstream\n{content}\nendstream".encode("latin-1")


def group(content: str, resources: str, *, box: str = "0 0 400 400", transparent: bool = True) -> bytes:
    """Return a form as a stream object's body; a transparency group unless said otherwise."""
    kind = "/Group << /S /Transparency >>" if transparent else ""
    return stream(content, f"/Type /XObject /Subtype /Form /BBox [{box}] {kind} /Resources << {resources} >>")


def write_page(path: Path, content: str, resources: str, objects: dict[int, bytes] | None = None) -> Path:
    """Write a page of 400 by 400 points; font /F is Helvetica, further objects count from 10."""
    bodies = {
        1: b"<< /Type /Catalog /Pages 2 0 R >>",
        2: b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        3: f"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 400 400] /Contents 4 0 R "
        f"/Resources << {resources} >> >>".encode(),
        4: stream(content),
        5: HELVETICA.encode(),
        **(objects or {}),
    }
    path.write_bytes(assemble_pdf(bodies))
    return path


def read_page(path: Path) -> Page:
    """Return the first page of a PDF file."""
    return PdfOpener().open(path, OpenWish(every_page=True)).pages[0]
