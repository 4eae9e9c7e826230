"""PDF to `Document`: glyphs to words, what is visible, rules, and the quick look. The PDF libraries stay in here."""

from torquary_ingest.openers.pdf.opener import PdfOpener

__all__ = ["PdfOpener"]
