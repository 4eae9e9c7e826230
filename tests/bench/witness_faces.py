"""Make the known glyph shapes of the witness from the standard faces and font files.

Usage: python tests/bench/witness_faces.py FONT.ttf… [--only SIGNS]   (writes ingest/torquary_ingest/witness/faces.npz)

`--only` makes the shapes of these signs anew and keeps the file's others.

The shipped file was made from the twelve text faces built into pypdfium2 (BSD licence) and these freely
licensed families: Liberation, DejaVu, Carlito, Open Sans (OFL and the like), Caladea, Roboto (Apache 2.0).
Only coarse pictures of 24 by 16 cells are kept, no outlines.
"""

from __future__ import annotations

import argparse
import ctypes
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium

from torquary_ingest.witness.faces import FACES_FILE, SIGNS
from torquary_ingest.witness.scene import read_shape
from torquary_ingest.witness.shapes import Shape
from torquary_ingest.witness.view import PageView
from torquary_schema.values import Box

STANDARD = [
    *("Helvetica", "Helvetica-Bold", "Helvetica-Oblique", "Helvetica-BoldOblique"),
    *("Times-Roman", "Times-Bold", "Times-Italic", "Times-BoldItalic"),
    *("Courier", "Courier-Bold", "Courier-Oblique", "Courier-BoldOblique"),
]
STEP, ACROSS = 40, 16
SIZES = (24.0, 7.0)
ALIKE = 0.96
LEVELS = 15


def draw(document: Any, font: Any, size: float) -> Iterator[tuple[str, Shape]]:
    """Draw every sign of a face on a page of its own, and read its shape back."""
    page = document.new_page(ACROSS * STEP, -(-len(SIGNS) // ACROSS) * STEP)
    high = page.get_height()
    for index, char in enumerate(SIGNS):
        piece = pdfium.FPDFPageObj_CreateTextObj(document, font, size)
        pdfium.FPDFText_SetText(piece, (ctypes.c_ushort * 2)(ord(char), 0))
        row, column = divmod(index, ACROSS)
        pdfium.FPDFPageObj_Transform(piece, 1, 0, 0, 1, column * STEP + 8, high - row * STEP - 28)
        pdfium.FPDFPage_InsertObject(page, piece)
    page.gen_content()
    view = PageView(page)
    view.prepare(Box(x0=0, top=0, x1=page.get_width(), bottom=high))
    for index, char in enumerate(SIGNS):
        row, column = divmod(index, ACROSS)
        x, y = column * STEP, row * STEP
        cell = Box(x0=x + 2, top=y + 2, x1=x + STEP - 2, bottom=y + STEP - 2)
        glyphs = view.glyphs(cell)
        if len(glyphs) == 1 and glyphs[0].char == char:
            shape = read_shape(view.picture(cell), glyphs[0])
            if shape is not None and shape.grid.any():
                yield char, shape
    view.close()


def load(document: Any, path: str) -> Any:
    """Load a TrueType file into a document."""
    content = Path(path).read_bytes()
    buffer = (ctypes.c_uint8 * len(content)).from_buffer_copy(content)
    return pdfium.FPDFText_LoadFont(document, buffer, len(content), pdfium.FPDF_FONT_TRUETYPE, 1)


def main(paths: list[str], only: str) -> None:
    """Draw all faces, drop shapes that repeat a kept one, and write the file."""
    old = np.load(FACES_FILE) if only else None
    document = pypdfium2.PdfDocument.new()
    fonts = [pdfium.FPDFText_LoadStandardFont(document, face.encode()) for face in STANDARD]
    fonts += [load(document, path) for path in paths]
    kept: dict[str, list[Shape]] = {}
    for font in fonts:
        for size in SIZES:
            for char, shape in draw(document, font, size):
                known = kept.setdefault(char, [])
                if all(float(shape.grid @ other.grid) < ALIKE for other in known):
                    known.append(shape)
    pairs = [(char, shape) for char in SIGNS if char in (only or SIGNS) for shape in kept.get(char, ())]
    grids = np.array([shape.grid for _, shape in pairs])
    scaled = np.round(grids / abs(grids).max(axis=1, keepdims=True) * LEVELS).astype(np.int8)
    made = {
        "codes": np.array([ord(char) for char, _ in pairs], np.uint16),
        "grids": scaled,
        "aspects": np.array([shape.aspect for _, shape in pairs], np.float16),
    }
    if old is not None:
        left = ~np.isin(old["codes"], [ord(char) for char in only])
        made = {name: np.concatenate([old[name][left], fresh]) for name, fresh in made.items()}
    np.savez_compressed(FACES_FILE, **made)
    print(len(fonts), "faces,", len(pairs), "shapes,", FACES_FILE.stat().st_size, "bytes")


if __name__ == "__main__":
    options = argparse.ArgumentParser()
    options.add_argument("fonts", nargs="*")
    options.add_argument("--only", default="")
    wish = options.parse_args()
    main(wish.fonts, wish.only)
