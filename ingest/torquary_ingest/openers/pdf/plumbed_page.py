"""pdfplumber's page, in its reader's frame and with what its objects lack; the painting is made of those objects."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from pdfminer.layout import LTChar, LTContainer, LTPage
from pdfminer.pdfpage import PDFPage
from pdfminer.pdftypes import stream_value
from pdfplumber.page import Page

from torquary_ingest.openers.pdf.colours import read_colour
from torquary_ingest.openers.pdf.file import PdfFile
from torquary_ingest.openers.pdf.forms import Additions, paint_annotations
from torquary_ingest.openers.pdf.interpreter import ContentInterpreter
from torquary_ingest.openers.pdf.limits import check_stream
from torquary_ingest.openers.pdf.opacity import Look
from torquary_ingest.openers.pdf.paint import (
    Bounds,
    Glyph,
    Image,
    Matrix,
    Painting,
    Path,
    Point,
    meet,
    surround,
)
from torquary_ingest.openers.pdf.recorder import Added, Pen, Recorder

_UNSEEN_BOXES = ("TrimBox", "BleedBox", "ArtBox")
"""Boxes for printers: a reader sees the crop box, and a damaged one must not cost the page."""

_CLEAR = 0.95
"""A picture of less opacity lets through what lies beneath."""

_NO_INK = 0.05
"""Opacity below which a picture does not show."""

_EVEN = 0.05
"""Points by which the sides of a rectangle may be out of line."""


class PlumbedPage(Page):
    """A page whose objects are in points from the top left of what its reader sees, y downwards, turned upright.

    Each object bears what pdfplumber lacks (`Added`). What annotations paint is among the objects, and told
    in `additions`; `faults` says what of the content is damaged.
    """

    def __init__(self, file: PdfFile, page: PDFPage, number: int) -> None:
        self.matrix, width, height = page_matrix(page)
        for name in _UNSEEN_BOXES:
            page.attrs.pop(name, None)
        page.attrs.update(MediaBox=[*page.mediabox], CropBox=[*page.cropbox], Rotate=page.rotate)
        super().__init__(file.plumbed, page, number)
        self.mediabox = self.cropbox = self.bbox = (0.0, 0.0, width, height)
        self.file = file
        self.additions = Additions()
        self.faults: list[str] = []
        self.recorder = Recorder(file.shelf, number, self.bbox)

    @property
    def layout(self) -> LTPage:
        """What the page and its annotations paint. Raises what the parser raises on damage, and `SheetRefused`."""
        if not hasattr(self, "_layout"):
            self._layout = self._run()
        return self._layout

    def _run(self) -> LTPage:
        page, recorder = self.page_obj, self.recorder
        interpreter = ContentInterpreter(self.file.shelf, recorder, self.file.layers, self.faults)
        for content in page.contents:
            check_stream(stream_value(content))
        recorder.begin_page(page, self.matrix)
        interpreter.render_contents(page.resources or {}, page.contents, ctm=self.matrix)
        # Content that forgets to restore must not clip what the annotations paint.
        recorder.look = Look(clip=self.bbox)
        paint_annotations(page, self.additions, interpreter, self.matrix)
        recorder.end_page(page)
        return recorder.get_result()

    def point2coord(self, pt: Point) -> Point:
        """Return the point as it is: y runs downwards from the start."""
        return pt

    def process_object(self, obj: Any) -> dict[str, Any]:
        """Return pdfplumber's object, y downwards, with what was added to it."""
        found: dict[str, Any] = super().process_object(obj)
        found["top"], found["bottom"] = obj.y0, obj.y1
        found["y0"], found["y1"] = self.height - obj.y1, self.height - obj.y0
        found["doctop"] = self.initial_doctop + obj.y0
        found["added"] = obj.added
        return found


def paint_page(page: PlumbedPage) -> Painting:
    """Return what the page paints, made of its objects in the order of painting. They are taken one by one and let
    go, for a page of drawings has hundreds of thousands. Of a character nothing is taken that pdfplumber adds to it,
    which would be half of the time."""
    painting = Painting(width=page.width, height=page.height)
    for item in _leaves(page.layout):
        if isinstance(item, LTChar):
            painting.glyphs.append(_glyph(item))
            continue
        found = page.process_object(item)
        if found["object_type"] == "image":
            painting.images.append(_image(found))
        else:
            painting.paths.append(_path(found))
    for place, glyphs in page.additions.typeset:
        painting.glyphs[place:place] = glyphs
    painting.washes += page.recorder.washes
    return painting


def _leaves(items: Iterable[Any]) -> Iterator[Any]:
    """Yield what is painted, in its order, that of forms where they stand."""
    for item in items:
        if isinstance(item, LTContainer):
            yield from _leaves(item)
        else:
            yield item


def _glyph(char: Any) -> Glyph:
    """Return a character as a glyph; pdfminer's box is an em tall, a glyph's as tall as its font's letters."""
    added: Added = char.added
    pen = added.pen
    assert pen is not None
    rise, advance = added.rise, char.adv
    a, b, c, d, e, f = char.matrix
    moved, raised = (0.0, advance + rise) if pen.vertical else (advance, rise)
    return Glyph(
        char.get_text(),
        a * 0.0 + c * rise + e,
        b * 0.0 + d * rise + f,
        a * moved + c * raised + e,
        b * moved + d * raised + f,
        pen.spacing,
        _box_of(char.matrix, pen, rise, advance),
        pen.size,
        pen.turn,
        pen.run,
        added.order,
        pen.font,
        pen.key,
        added.cid,
        pen.colour,
        pen.alpha,
        pen.render,
        added.look.clip,
        added.look.shown,
        pen.stroke,
        pen.unsure,
    )


def _box_of(matrix: Matrix, pen: Pen, rise: float, advance: float) -> Bounds:
    a, b, c, d, e, f = matrix
    near, far = (pen.near, pen.far) if pen.vertical else (0.0, advance)
    low, high = (rise, advance + rise) if pen.vertical else (pen.low + rise, pen.high + rise)
    one, other = (a * near + c * low + e, b * near + d * low + f), (a * far + c * high + e, b * far + d * high + f)
    if not (b or c):
        return _between(one, other)
    two = (a * near + c * high + e, b * near + d * high + f)
    three = (a * far + c * low + e, b * far + d * low + f)
    return surround([one, two, three, other])


def _path(curve: dict[str, Any]) -> Path:
    """Return a line, rectangle or curve as a subpath: all its points, those that steer curves too."""
    added: Added = curve["added"]
    look = added.look
    points = [point for _, *ends in curve["path"] for point in ends]
    straight = all(step[0] in "mlh" for step in curve["path"])
    return Path(
        points=tuple(points),
        box=surround(points),
        rectangle=straight and _is_rectangle(points),
        straight=straight,
        closed=curve["path"][-1][0] == "h",
        stroked=curve["stroke"],
        filled=curve["fill"],
        stroke_colour=read_colour(curve["stroking_color"], added.stroke_space),
        fill_colour=read_colour(curve["non_stroking_color"], added.fill_space),
        stroke_alpha=look.stroke_alpha,
        fill_alpha=look.ground_alpha,
        width=curve["linewidth"],
        clip=look.clip,
        order=added.order,
        shown=look.shown,
    )


def _image(image: dict[str, Any]) -> Image:
    added: Added = image["added"]
    look, stream = added.look, image["stream"]
    return Image(
        box=(image["x0"], image["top"], image["x1"], image["bottom"]),
        clip=look.clip,
        order=added.order,
        shown=look.shown and look.fill_alpha > _NO_INK,
        stencil=bool(image["imagemask"]),
        clear=look.ground_alpha < _CLEAR or "SMask" in stream or "Mask" in stream,
    )


def _between(one: Point, other: Point) -> Bounds:
    (x0, y0), (x1, y1) = one, other
    left, right = (x0, x1) if x0 <= x1 else (x1, x0)
    return (left, y0, right, y1) if y0 <= y1 else (left, y1, right, y0)


def _is_rectangle(points: Sequence[Point]) -> bool:
    if len(points) == 5 and _meet(points[0], points[4]):
        points = points[:4]
    if len(points) != 4:
        return False
    one, two, three, four = points
    if _level(one, two) and _level(three, four):
        return _upright(two, three) and _upright(four, one)
    return _upright(one, two) and _upright(three, four) and _level(two, three) and _level(four, one)


def _level(one: Point, other: Point) -> bool:
    return abs(one[1] - other[1]) < _EVEN


def _upright(one: Point, other: Point) -> bool:
    return abs(one[0] - other[0]) < _EVEN


def _meet(one: Point, other: Point) -> bool:
    return _level(one, other) and _upright(one, other)


def page_matrix(page: PDFPage) -> tuple[Matrix, float, float]:
    """Return the matrix from the file's page space to the reader's page, and the page's width and height.

    The visible page is the crop box within the media box; the page's rotation is applied.
    """
    x0, y0, x1, y1 = _visible_box(page)
    if page.rotate == 90:
        return (0, 1, 1, 0, -y0, -x0), y1 - y0, x1 - x0
    if page.rotate == 180:
        return (-1, 0, 0, 1, x1, -y0), x1 - x0, y1 - y0
    if page.rotate == 270:
        return (0, -1, -1, 0, y1, x1), y1 - y0, x1 - x0
    return (1, 0, 0, -1, -x0, y1), x1 - x0, y1 - y0


def _visible_box(page: PDFPage) -> Bounds:
    media = _ordered(page.mediabox)
    crop = meet(_ordered(page.cropbox), media)
    return crop if crop[2] > crop[0] and crop[3] > crop[1] else media


def _ordered(box: Any) -> Bounds:
    x0, y0, x1, y1 = (float(number) for number in box)
    return (min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))
