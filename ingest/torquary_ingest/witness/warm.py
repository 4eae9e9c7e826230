"""Imported by the server that forks workers for PDF sheets: the known shapes are loaded there once."""

from __future__ import annotations

from contextlib import suppress

from torquary_ingest.witness.faces import SIGNS, know_shapes

# A fault here is told by the worker that meets it, with the sheet's name.
with suppress(Exception):
    know_shapes(SIGNS)
    import cv2  # noqa: F401
