"""Pictures in a file, made grey and no larger than a page needs."""

from __future__ import annotations

import math
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from PIL import Image, ImageOps, UnidentifiedImageError

from torquary_ingest.errors import SheetRefused
from torquary_ingest.scans.budget import MOST_PIXELS

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

_KINDS = ("PNG", "JPEG", "TIFF", "MPO")
_FAULTS = (OSError, SyntaxError, ValueError, TypeError, LookupError, EOFError, OverflowError, MemoryError)
"""What Pillow raises on a damaged picture (its documentation names the first two; the others occur)."""

LONGEST = 3600
"""Pixels kept of the longer side: A4 at 300 dpi. More costs time and tells nothing."""

_A4 = 842.0
_DENSITIES = (100, 1250)


@contextmanager
def open_pictures(path: Path) -> Iterator[Image.Image]:
    """Open a picture file; raise `SheetRefused` when it is damaged, or a picture in it too large."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            opened = Image.open(path, formats=_KINDS)
    except Image.DecompressionBombError as error:
        raise _too_large("more pixels than any sheet") from error
    except (UnidentifiedImageError, *_FAULTS) as error:
        raise SheetRefused(
            "sheet_damaged", f"the picture cannot be opened ({_first(error)}): ask for a sound copy"
        ) from error
    with opened:
        yield opened


def take_picture(opened: Image.Image, number: int) -> tuple[NDArray[numpy.uint8], float]:
    """Return picture `number` (from 1) as grey levels, turned as its camera says, and its pixels a point.

    Raises `SheetRefused` when that picture is damaged or too large.
    """
    import numpy as np

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            opened.seek(number - 1)
            wide, high = opened.size
            if wide * high > MOST_PIXELS:
                # JPEG can be decoded at a half, quarter or eighth of its size.
                opened.draft("L", (wide // 2, high // 2))
                wide, high = opened.size
            if wide * high > MOST_PIXELS:
                raise _too_large(f"{wide:,} × {high:,} pixels")
            density = opened.info.get("dpi")
            picture = _make_grey(opened)
    except _FAULTS as error:
        raise SheetRefused(
            "sheet_damaged", f"picture {number} cannot be read ({_first(error)}): ask for a sound copy"
        ) from error
    scale = _pixels_a_point(picture.size, density)
    if (factor := LONGEST / max(picture.size)) < 1:
        picture = picture.resize((max(1, round(picture.width * factor)), max(1, round(picture.height * factor))))
        scale *= factor
    return np.asarray(picture, dtype=np.uint8), scale


def count_pictures(opened: Image.Image) -> tuple[int, bool]:
    """Return how many pictures are found in the file, the pages of a TIFF, and whether its list of them is whole."""
    count = 1
    if opened.format != "TIFF":
        return count, True
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            while True:
                opened.seek(count)
                count += 1
    except EOFError:
        return count, True
    except _FAULTS:
        return count, False


def _make_grey(opened: Image.Image) -> Image.Image:
    import numpy as np

    opened.load()
    picture = ImageOps.exif_transpose(opened)
    if picture.mode.startswith(("I", "F")):
        levels = np.asarray(picture, dtype=np.float64)
        most = max(float(levels.max(initial=0)), 1.0)
        return Image.fromarray((levels.clip(0) * (255 / most)).astype(np.uint8))
    if picture.mode in ("LA", "PA", "RGBA", "La", "RGBa") or "transparency" in picture.info:
        picture = picture.convert("RGBA")
        picture = Image.alpha_composite(Image.new("RGBA", picture.size, "white"), picture)
    return picture.convert("L")


def _pixels_a_point(size: tuple[int, int], density: object) -> float:
    """Return the scale that the file states, if it is one of a scanner; else that of an A4 page.

    Cameras state 72 dpi whatever they saw.
    """
    try:
        stated = float(density[0])  # type: ignore[index]
    except (TypeError, ValueError, LookupError, ZeroDivisionError, OverflowError):
        stated = 0.0
    if math.isfinite(stated) and _DENSITIES[0] <= stated <= _DENSITIES[1]:
        return stated / 72
    return max(size) / _A4


def _too_large(what: str) -> SheetRefused:
    return SheetRefused(
        "sheet_too_large",
        f"the picture has {what} (at most {MOST_PIXELS:,} are read): scan the sheet at 300 dpi",
    )


def _first(error: BaseException) -> str:
    return " ".join(f"{type(error).__name__}: {error}".split())[:160]
