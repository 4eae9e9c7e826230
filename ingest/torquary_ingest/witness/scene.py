"""One cell as ink: darkness, areas, and the shapes of its claimed characters."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from torquary_ingest.document import Doubt, Word
from torquary_ingest.witness.blobs import Blob, label_blobs
from torquary_ingest.witness.shapes import Outline, Shape, draw_outline, make_shape
from torquary_ingest.witness.view import Glyph, Picture
from torquary_schema.values import Box

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

INK = 0.32
"""Share of the text's contrast from which a pixel counts as ink: a hairline dash at 5 pt just reaches it."""

_WHOLE = 0.7
"""Share of its outline's height and width that a glyph's ink must span to be compared with other shapes."""


@dataclass(slots=True, kw_only=True)
class InkAccount:
    """What the ink of one cell says. `shapes` pairs every claimed character with its picture.

    `unsure` names what the ink alone cannot settle and a recogniser must; `doubts` are certain. `joined`:
    ink runs from one figure to the next, as a slanting stroke through them does; a recogniser may overlook
    that, so its agreement does not suffice.
    """

    shapes: list[tuple[Glyph, Shape]] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    unsure: list[str] = field(default_factory=list)
    joined: bool = False

    def doubt(self, code: str, message: str) -> None:
        """Add a doubt, once."""
        if all(code != known.code for known in self.doubts):
            self.doubts.append(Doubt(code=code, message=message))


@dataclass(frozen=True, slots=True)
class Inked:
    """A picture as darkness: 0 is the ground, 1 the text's own colour (text may be lighter than its ground)."""

    dark: NDArray[numpy.float32]
    contrast: float


def separate_ink(picture: Picture, boxes: list[Box], heavy: bool = False) -> Inked:
    """Tell text from ground: the ground is the commonest grey round the boxes, the text the far end.

    `heavy`: the text may fill more than half of its boxes, which then say nothing about the ground.
    """
    import numpy as np

    grey = picture.grey
    near = picture.pixels(Box.around(boxes), 4)
    patch = grey[near[1] : near[3], near[0] : near[2]]
    if not patch.size:
        return Inked(np.zeros(grey.shape, np.float32), 0.0)
    open_ground = np.ones(patch.shape, bool)
    for x0, y0, x1, y1 in (picture.pixels(box) for box in boxes if heavy):
        open_ground[y0 - near[1] : y1 - near[1], x0 - near[0] : x1 - near[0]] = False
    ground = int(np.bincount((patch[open_ground] if open_ground.any() else patch.ravel()) >> 2).argmax()) * 4 + 2
    ends = [grey[y0:y1, x0:x1] for x0, y0, x1, y1 in (picture.pixels(box, 1) for box in boxes)]
    darkest = max((ground - int(end.min()) for end in ends if end.size), default=0)
    lightest = int(patch.max()) - ground
    if lightest > darkest:
        # Some ink round the characters is lighter than the ground: it matters only if it is their own.
        lightest = max((int(end.max()) - ground for end in ends if end.size), default=0)
    contrast, sign = (darkest, 1) if darkest >= lightest else (lightest, -1)
    levels = ((ground - np.arange(256)) * sign / max(contrast, 1)).clip(0, 1).astype(np.float32)
    return Inked(levels[grey], float(contrast))


def read_shape(picture: Picture, glyph: Glyph) -> Shape | None:
    """Read the shape of one glyph that stands alone in its picture."""
    ink = separate_ink(picture, [glyph.box])
    labels, blobs = label_blobs(ink.dark >= INK)
    return shape_of(picture, ink.dark, labels, blobs, glyph)


@dataclass(frozen=True, slots=True)
class Scene:
    """A cell's picture, where it has ink, its claimed characters, the other live ones, and the em in pixels.

    `bare` are the claim's words that no live character spells.
    """

    picture: Picture
    mask: NDArray[numpy.bool_]
    claimed: list[Glyph]
    others: list[Glyph]
    em: float
    bare: tuple[Word, ...] = ()


def letters_box(word: Word) -> Box:
    """Return where the capitals and figures of a word have their ink, as far as its size and place tell."""
    if word.turn:
        return word.box
    return Box(x0=word.box.x0, x1=word.box.x1, top=word.baseline - 0.72 * word.size, bottom=word.baseline)


def grown(box: Box, by: float) -> Box:
    """Return the box with its sides `by` points further out."""
    return Box(x0=box.x0 - by, top=box.top - by, x1=box.x1 + by, bottom=box.bottom + by)


def shape_of(
    picture: Picture,
    dark: NDArray[numpy.float32],
    labels: NDArray[numpy.int32],
    blobs: tuple[Blob, ...],
    glyph: Glyph,
    marks: Mapping[int, Glyph] | None = None,
) -> Shape | None:
    """Cut one glyph out of its neighbours' ink, turn it upright and measure it.

    `marks` says which areas of ink (by label) are known to be another glyph's.
    Returns None for a slanted glyph, and for one whose ink does not fill its outline's extent (a stroke too
    thin for the picture, a part covered): such a picture must not be compared with whole glyphs.
    """
    import numpy as np

    if glyph.turn is None:
        return None
    x0, y0, x1, y1 = picture.pixels(glyph.box, 1.0)
    if x1 <= x0 or y1 <= y0:
        return None
    inside = labels[y0:y1, x0:x1]
    body = dark[y0:y1, x0:x1].copy()
    counts = np.bincount(inside.ravel(), minlength=len(blobs) + 1)
    owners = marks or {}
    own = [
        blob
        for blob in (blobs[at - 1] for at in np.flatnonzero(counts[1:]) + 1)
        if counts[blob.label] >= 0.5 * blob.area and owners.get(blob.label, glyph) is glyph
    ]
    if own and np.count_nonzero(counts[1:]) > len(own):
        kept = np.zeros(len(counts), bool)
        kept[[0, *(blob.label for blob in own)]] = True
        body[~kept[inside]] = 0
    outline = draw_outline(np.rot90(body, glyph.turn // 90))
    if outline is None or not _spans(outline, picture, glyph):
        return None
    rises = {0: y0, 90: x1, 180: y1, 270: x0}[glyph.turn]
    pen_x = (glyph.origin[0] - picture.left) * picture.scale_x
    pen_y = (glyph.origin[1] - picture.top) * picture.scale_y
    baseline = abs((pen_x if glyph.turn in (90, 270) else pen_y) - rises)
    pieces = sum(1 for blob in own if blob.area >= 2)
    return make_shape(outline, em=glyph.em * picture.scale_y, baseline=baseline, pieces=max(pieces, 1))


def _spans(outline: Outline, picture: Picture, glyph: Glyph) -> bool:
    """Tell whether the ink fills the extent of the glyph's box."""
    high, wide = outline.bottom - outline.top + 1, outline.right - outline.left + 1
    if glyph.turn in (90, 270):
        high, wide = wide, high
    box = glyph.box
    return high >= _WHOLE * box.height * picture.scale_y and wide >= _WHOLE * box.width * picture.scale_x
