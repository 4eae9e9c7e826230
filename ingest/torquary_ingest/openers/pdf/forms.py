"""What annotations put on the page: form fields with their values, typed-on text, bars that strike text out."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pdfminer.pdfpage import PDFPage
from pdfminer.pdftypes import PDFStream, resolve1
from pdfminer.utils import apply_matrix_pt, decode_text, mult_matrix

from torquary_ingest.openers.pdf.interpreter import ContentInterpreter
from torquary_ingest.openers.pdf.layers import read_name
from torquary_ingest.openers.pdf.paint import Bounds, Glyph, Matrix, surround

_UNSEEN = 0x02 | 0x20
"""Annotation flags Hidden and NoView (ISO 32000-1, table 165)."""

_WITH_TEXT = ("Tx", "Ch")
"""Kinds of fields whose value is text (ISO 32000-1, table 220)."""

_NOT_DRAWN = ("Popup", "Link", "FileAttachment", "Sound", "Movie", "Screen", "RichMedia")


class Additions:
    """What the annotations of a page gave: number of form fields, typed-on texts, boxes of strike-outs.

    `typeset` holds the glyphs of values for which the file has no appearance, each set with its place among the
    page's glyphs.
    """

    def __init__(self) -> None:
        self.fields = 0
        self.typed = 0
        self.attached = False
        self.strikes: list[Bounds] = []
        self.typeset: list[tuple[int, list[Glyph]]] = []


def paint_annotations(
    page: PDFPage, added: Additions, interpreter: ContentInterpreter, matrix: Matrix
) -> None:
    """Paint the page's visible annotations as a reader sees them; say in `added` what they were."""
    for annotation in _annotations(page):
        kind = read_name(annotation.get("Subtype"))
        flags = resolve1(annotation.get("F")) or 0
        if kind == "FileAttachment":
            added.attached = True
        if kind in _NOT_DRAWN or (isinstance(flags, int) and flags & _UNSEEN):
            continue
        box = _box(annotation.get("Rect"))
        if box is None:
            continue
        if kind == "StrikeOut":
            quads = _quads(annotation, box)
            added.strikes += [surround([apply_matrix_pt(matrix, point) for point in quad]) for quad in quads]
        else:
            _paint(annotation, kind, box, added, interpreter, matrix)


def _paint(
    annotation: dict[str, Any],
    kind: str,
    box: Bounds,
    added: Additions,
    interpreter: ContentInterpreter,
    matrix: Matrix,
) -> None:
    recorder = interpreter.device
    before = recorder.glyphs
    form = _appearance(annotation)
    if form is not None:
        interpreter.paint_form(form, mult_matrix(_placement(form, box), matrix))
    if kind != "Widget" or _field_type(annotation) not in _WITH_TEXT:
        added.typed += recorder.glyphs > before
        return
    value = _field_value(annotation)
    if value and recorder.glyphs == before:
        glyphs = _typeset(value, box, matrix, before)
        added.typeset.append((before, glyphs))
        recorder.glyphs += len(glyphs)
    added.fields += bool(value) or recorder.glyphs > before


def _annotations(page: PDFPage) -> Iterator[dict[str, Any]]:
    found = resolve1(page.annots)
    for one in found if isinstance(found, list) else []:
        annotation = resolve1(one)
        if isinstance(annotation, dict):
            yield annotation


def _box(value: Any) -> Bounds | None:
    numbers = [resolve1(number) for number in resolve1(value) or []]
    if len(numbers) != 4 or not all(isinstance(number, int | float) for number in numbers):
        return None
    x0, y0, x1, y1 = (float(number) for number in numbers)
    return (min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))


def _quads(annotation: dict[str, Any], box: Bounds) -> list[list[tuple[float, float]]]:
    numbers = [resolve1(number) for number in resolve1(annotation.get("QuadPoints")) or []]
    if not numbers or len(numbers) % 8 or not all(isinstance(number, int | float) for number in numbers):
        return [[(box[0], box[1]), (box[2], box[3])]]
    points = [(float(x), float(y)) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
    return [points[start : start + 4] for start in range(0, len(points), 4)]


def _appearance(annotation: dict[str, Any]) -> PDFStream | None:
    looks = resolve1(annotation.get("AP"))
    normal = resolve1(looks.get("N")) if isinstance(looks, dict) else None
    if isinstance(normal, dict) and not isinstance(normal, PDFStream):
        state = read_name(annotation.get("AS"))
        normal = resolve1(normal.get(state)) if state else None
    return normal if isinstance(normal, PDFStream) else None


def _placement(form: PDFStream, rect: Bounds) -> Matrix:
    """Return the matrix that lays the form's transformed bounds on the annotation's (ISO 32000-1, 12.5.5)."""
    numbers = [resolve1(number) for number in resolve1(form.get("Matrix")) or [1, 0, 0, 1, 0, 0]]
    a, b, c, d, e, f = (float(number) for number in numbers)
    own: Matrix = (a, b, c, d, e, f)
    bounds = _box(form.get("BBox")) or rect
    corners = [(x, y) for x in (bounds[0], bounds[2]) for y in (bounds[1], bounds[3])]
    there = surround([apply_matrix_pt(own, corner) for corner in corners])
    wide = (rect[2] - rect[0]) / (there[2] - there[0]) if there[2] > there[0] else 1.0
    high = (rect[3] - rect[1]) / (there[3] - there[1]) if there[3] > there[1] else 1.0
    moved: Matrix = (wide, 0, 0, high, rect[0] - wide * there[0], rect[1] - high * there[1])
    return mult_matrix(own, moved)


def _inherited(field: dict[str, Any], key: str) -> Any:
    for _ in range(10):
        if key in field:
            return resolve1(field[key])
        parent = resolve1(field.get("Parent"))
        if not isinstance(parent, dict):
            return None
        field = parent
    return None


def _field_type(field: dict[str, Any]) -> str:
    return read_name(_inherited(field, "FT"))


def _field_value(field: dict[str, Any]) -> str:
    value = _inherited(field, "V")
    return decode_text(value).strip() if isinstance(value, bytes) else ""


def _typeset(value: str, box: Bounds, matrix: Matrix, order: int) -> list[Glyph]:
    """Set a field's value in its box when the file has no appearance for it: one line, half an em a letter."""
    height = abs(box[3] - box[1])
    size = min(10.0, 0.7 * height) or 8.0
    base = (box[1] + box[3]) / 2 - 0.35 * size
    glyphs = []
    for index, letter in enumerate(value):
        x = box[0] + 2 + index * size * 0.5
        start, end = apply_matrix_pt(matrix, (x, base)), apply_matrix_pt(matrix, (x + size * 0.5, base))
        corners = [(x, base - 0.2 * size), (x + size * 0.5, base + 0.75 * size)]
        glyphs.append(
            Glyph(
                text=letter,
                x=start[0],
                y=start[1],
                end_x=end[0],
                end_y=end[1],
                spacing=0.0,
                box=surround([apply_matrix_pt(matrix, corner) for corner in corners]),
                size=size,
                turn=0,
                run=-1 - order,
                order=10_000_000 + order + index,
                font="",
                font_key=0,
                cid=0,
                colour=(0.0, 0.0, 0.0),
                alpha=1.0,
                render=0,
                clip=(-1e6, -1e6, 1e6, 1e6),
                shown=True,
            )
        )
    return glyphs
