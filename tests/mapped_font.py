"""A font that lies: its Unicode map says other characters than its glyphs show."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from reportlab.pdfbase import pdfmetrics, ttfonts


class MappedFont(ttfonts.TTFont):
    """A TrueType font that is written with some characters of its Unicode map exchanged."""

    mapped: dict[int, int]

    def addObjects(self, doc: Any) -> None:  # noqa: N802
        """Write the font with its map exchanged."""
        honest: Callable[..., str] = ttfonts.makeToUnicodeCMap
        ttfonts.makeToUnicodeCMap = lambda name, subset: honest(name, [self.mapped.get(c, c) for c in subset])
        try:
            super().addObjects(doc)
        finally:
            ttfonts.makeToUnicodeCMap = honest


def register(file: str, mapped: dict[str, str]) -> str:
    """Register the font of a file, whose map gives other characters for those in `mapped`; return its name."""
    code = "".join(f"{ord(old):x}{ord(new):x}" for old, new in mapped.items())
    font = MappedFont(f"{Path(file).stem} {code}", file)
    font.mapped = {ord(old): ord(new) for old, new in mapped.items()}
    # reportlab keeps one font a face name: each lying font needs a face of its own.
    font.face.name += code.encode() if isinstance(font.face.name, bytes) else code
    pdfmetrics.registerFont(font)
    return str(font.fontName)
