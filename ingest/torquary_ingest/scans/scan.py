"""From a grey picture to words and rules, straightened and turned upright."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from torquary_ingest.document import Rule, Word
from torquary_ingest.lexis.figures import has_figure
from torquary_ingest.scans.budget import Budget
from torquary_ingest.scans.missed import count_missed
from torquary_ingest.scans.pieces import Piece, cut_pieces, picture_of
from torquary_ingest.scans.rules import erase_rules, find_rules
from torquary_ingest.scans.straighten import find_slant, level_ground, rotate
from torquary_ingest.scans.struck import mark_struck
from torquary_ingest.scans.words import make_words, tidy
from torquary_ingest.witness.page_recogniser import PageRecogniser, SeenText, load_page_recogniser
from torquary_schema.units import find_units

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

RECOGNISER_WANTED = "the recogniser is missing (pip install rapidocr onnxruntime): install it, or read the page by eye"

MOST_LINES = 600
"""Lines of print on one picture; more are noise or a photograph, and no sheet."""

_VOTERS = 16
_CHUNK = 32
_OTHER_SCALE = 2 / 3
_LONGEST_CELL = 24


@dataclass(frozen=True, slots=True)
class Scan:
    """What a picture shows once it is upright. Lengths in points from its top left.

    `turned` is the clockwise quarter turn in degrees by which the picture was turned to stand upright, `slant`
    the degrees of slant taken out. `grey` is the upright picture, `scale` its pixels a point. `fault` says why
    nothing was read, "" if it was. `missed` counts marks of letter size that no word accounts for.
    """

    words: tuple[Word, ...]
    rules: tuple[Rule, ...]
    turned: int
    slant: float
    grey: NDArray[numpy.uint8]
    scale: float
    fault: str = ""
    missed: int = 0


def is_ready() -> bool:
    """Tell whether the recogniser is installed."""
    return load_page_recogniser() is not None


def read_scan(grey: NDArray[numpy.uint8], scale: float, budget: Budget, share: float = 1.0) -> Scan:
    """Return the words and rules of a grey picture (rows from the top, `scale` pixels a point).

    `share` is the part of its page's longer side that it is.

    The recogniser must be there (`is_ready`). A picture without print gives no words; one that the budget's
    time does not suffice for gives none either, and `fault` says so: half a page looks like a whole one.
    """
    recogniser = load_page_recogniser()
    assert recogniser is not None
    slant = find_slant(level_ground(grey))
    if slant:
        grey = rotate(grey, slant)
    boxes = recogniser.find(grey, share)
    grey, boxes, turned = _turn_upright(recogniser, grey, boxes)
    if not boxes or len(boxes) > MOST_LINES:
        fault = f"it shows more than {MOST_LINES} lines" if boxes else ""
        return Scan((), (), turned, slant, grey, scale, fault)
    level = level_ground(grey)
    ink = _find_ink(level)
    rules, mask = find_rules(ink, scale)
    clean = erase_rules(level, mask)
    uprights = [(r.at * scale, r.start * scale, r.end * scale) for r in rules if not r.horizontal]
    pieces = cut_pieces(clean, boxes, uprights)
    read = _read_twice(recogniser, clean, pieces, budget)
    if read is None:
        return Scan((), (), turned, slant, grey, scale, "there was no time left for it")
    missed = count_missed(_find_ink(clean), [piece for piece, _, _ in read])
    words, kept = mark_struck(make_words(read, scale), rules, level, scale)
    return Scan(words, kept, turned, slant, grey, scale, missed=missed)


def _find_ink(level: NDArray[numpy.uint8]) -> NDArray[numpy.uint8]:
    import numpy as np

    return np.where(level < 176, 255, 0).astype(np.uint8)


def _turn_upright(
    recogniser: PageRecogniser, grey: NDArray[numpy.uint8], boxes: list[tuple[int, int, int, int]]
) -> tuple[NDArray[numpy.uint8], list[tuple[int, int, int, int]], int]:
    """Turn the picture so that most of its print stands upright; return it, its boxes, and the turn clockwise."""
    import numpy as np

    turned = 0
    long = [box for box in boxes if max(box[2] - box[0], box[3] - box[1]) > 2 * min(box[2] - box[0], box[3] - box[1])]
    if sum(_upright_lean(box) for box in long) > 0:
        grey, boxes, turned = np.rot90(grey, -1), [_turn_box(box, grey.shape[0]) for box in boxes], 90
    grey = np.ascontiguousarray(grey)
    voters = sorted(boxes, key=lambda box: box[0] - box[2])[:_VOTERS]
    votes = recogniser.stands_on_head([grey[y0:y1, x0:x1] for x0, y0, x1, y1 in voters])
    if sum(votes) > 0:
        high, wide = grey.shape
        grey = np.ascontiguousarray(np.rot90(grey, 2))
        boxes = [(wide - x1, high - y1, wide - x0, high - y0) for x0, y0, x1, y1 in boxes]
        turned += 180
    return grey, boxes, turned


def _upright_lean(box: tuple[int, int, int, int]) -> int:
    """Return how much longer a box is down than across, in pixels."""
    x0, y0, x1, y1 = box
    return (y1 - y0) - (x1 - x0)


def _turn_box(box: tuple[int, int, int, int], high: int) -> tuple[int, int, int, int]:
    """Return a box in the picture turned by 90 degrees clockwise; `high` is the height before."""
    x0, y0, x1, y1 = box
    return high - y1, x0, high - y0, x1


def _may_hold_value(text: str) -> bool:
    """Tell a line worth a second reading: figures in a cell, or a sentence with a unit; other prose is not."""
    return has_figure(text) and (len(text) <= _LONGEST_CELL or bool(find_units(text)))


def _read_twice(
    recogniser: PageRecogniser, clean: NDArray[numpy.uint8], pieces: Sequence[Piece], budget: Budget
) -> list[tuple[Piece, SeenText, str]] | None:
    """Read each piece, and those with figures once more at another scale; None when the time is over."""
    import cv2
    import numpy as np

    read: list[tuple[Piece, SeenText, str]] = []
    for start in range(0, len(pieces), _CHUNK):
        if budget.is_spent():
            return None
        some = pieces[start : start + _CHUNK]
        pictures = [picture_of(clean, piece) for piece in some]
        first = [SeenText(tidy(seen.text), seen.sure) for seen in recogniser.read(pictures)]
        figures = [at for at, seen in enumerate(first) if _may_hold_value(seen.text)]
        smaller = [
            np.asarray(cv2.resize(pictures[at], None, fx=_OTHER_SCALE, fy=_OTHER_SCALE, interpolation=cv2.INTER_AREA))
            for at in figures
        ]
        second = dict(zip(figures, (tidy(seen.text) for seen in recogniser.read(smaller)), strict=True))
        read += [(piece, seen, second.get(at, "")) for at, (piece, seen) in enumerate(zip(some, first, strict=True))]
    return [one for one in read if one[1].text]
