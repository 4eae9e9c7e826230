"""Runs a page's content: adds clips, opacity and layers to what the parser library follows by itself."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from pdfminer.pdftypes import PDFStream, dict_value, list_value, resolve1
from pdfminer.psparser import PSLiteral, literal_name
from pdfminer.utils import apply_matrix_pt, mult_matrix

from torquary_ingest.openers.pdf.checked_content import CheckedInterpreter
from torquary_ingest.openers.pdf.layers import Layers
from torquary_ingest.openers.pdf.limits import check_stream
from torquary_ingest.openers.pdf.opacity import is_group
from torquary_ingest.openers.pdf.paint import Bounds, Matrix, meet, surround
from torquary_ingest.openers.pdf.recorder import Recorder

DEEPEST_FORM = 24
"""Forms inside forms beyond this depth are not followed (common practice of viewers)."""


class ContentInterpreter(CheckedInterpreter):
    """Follows the operators that decide what is visible; text and paths go to the `Recorder`."""

    device: Recorder

    def __init__(
        self, resources: Any, device: Recorder, layers: Layers, faults: list[str], depth: int = 0
    ) -> None:
        super().__init__(resources, device, faults)
        self._layers = layers
        self._depth = depth
        self._clip_pending = False
        self._looks: list[Any] = []
        self._marked: list[bool] = []
        self._handed: tuple[Any, Any] | None = None

    def dup(self) -> ContentInterpreter:
        """Return an interpreter for a form inside this content, which starts with the colours and font in force."""
        inner = ContentInterpreter(self.rsrcmgr, self.device, self._layers, self.faults, self._depth + 1)
        inner._handed = (self.textstate.copy(), self.graphicstate.copy())
        return inner

    def init_state(self, ctm: Matrix) -> None:
        """Start with the state of a page, or with what the content around hands on (ISO 32000-1, 8.10.1)."""
        super().init_state(ctm)
        if self._handed is not None:
            self.textstate, self.graphicstate = self._handed

    def do_q(self) -> None:
        """Save the graphics state, with what decides visibility."""
        super().do_q()
        self._looks.append(self.device.look)

    def do_Q(self) -> None:  # noqa: N802  (named after the operator)
        """Restore the graphics state; the layer stays, because it follows marked content."""
        super().do_Q()
        if self._looks:
            self.device.look = self._looks.pop().changed(shown=self.device.look.shown)

    def do_W(self) -> None:  # noqa: N802
        """Remember that the current path becomes a clip when it is ended."""
        self._clip_pending = True

    def do_W_a(self) -> None:  # noqa: N802
        """Remember that the current path becomes a clip when it is ended."""
        self._clip_pending = True

    def _settle(self, paint: Any) -> None:
        """Paint with the old clip, then lay the new one."""
        box = self._path_bounds() if self._clip_pending else None
        paint()
        self._clip_pending = False
        if box is not None:
            self.device.look = self.device.look.changed(clip=meet(self.device.look.clip, box))

    def _path_bounds(self) -> Bounds | None:
        points = [
            apply_matrix_pt(self.ctm, (float(x), float(y)))
            for step in self.curpath
            for x, y in zip(step[1::2], step[2::2], strict=False)
        ]
        return surround(points) if points else None

    def do_n(self) -> None:
        """End the path without painting."""
        self._settle(super().do_n)

    def do_S(self) -> None:  # noqa: N802
        """Stroke."""
        self._settle(super().do_S)

    def do_f(self) -> None:
        """Fill."""
        self._settle(super().do_f)

    def do_F(self) -> None:  # noqa: N802
        """Fill, old spelling."""
        self._settle(super().do_f)

    def do_f_a(self) -> None:
        """Fill by the even-odd rule."""
        self._settle(super().do_f_a)

    def do_B(self) -> None:  # noqa: N802
        """Fill and stroke."""
        self._settle(super().do_B)

    def do_B_a(self) -> None:  # noqa: N802
        """Fill by the even-odd rule and stroke."""
        self._settle(super().do_B_a)

    def do_cs(self, name: Any) -> None:
        """Set the fill colour space; its colour starts as black, or as an unknown pattern."""
        super().do_cs(name)
        self.graphicstate.ncolor = _first_colour(self.graphicstate.ncs.name)

    def do_CS(self, name: Any) -> None:  # noqa: N802
        """Set the stroke colour space; its colour starts as black, or as an unknown pattern."""
        super().do_CS(name)
        self.graphicstate.scolor = _first_colour(self.graphicstate.scs.name)

    def do_gs(self, name: Any) -> None:
        """Take opacity, line width and font from a graphics state dictionary."""
        states = dict_value(self.resources.get("ExtGState", {})) if self.resources else {}
        state = resolve1(states.get(literal_name(name)))
        if not isinstance(state, dict):
            return
        self.device.look = self.device.look.in_state(state)
        if isinstance(width := resolve1(state.get("LW")), int | float):
            self.do_w(width)

    def do_sh(self, name: Any) -> None:
        """Fill the clip with a shading."""
        self.device.paint_shading()

    def do_BMC(self, tag: Any) -> None:  # noqa: N802
        """Begin marked content that names no layer."""
        self._marked.append(self.device.look.shown)

    def do_BDC(self, tag: Any, props: Any) -> None:  # noqa: N802
        """Begin marked content; under /OC it may be a layer that is switched off."""
        self._marked.append(self.device.look.shown)
        if isinstance(tag, PSLiteral) and literal_name(tag) == "OC" and isinstance(props, PSLiteral):
            known = dict_value(self.resources.get("Properties", {})) if self.resources else {}
            if not self._layers.shows(known.get(literal_name(props))):
                self.device.look = self.device.look.changed(shown=False)

    def do_EMC(self) -> None:  # noqa: N802
        """End marked content."""
        if self._marked:
            self.device.look = self.device.look.changed(shown=self._marked.pop())

    def do_Do(self, xobjid_arg: Any) -> None:  # noqa: N802
        """Paint a form or picture within its own bounds and layer."""
        found = resolve1(self.xobjmap.get(literal_name(xobjid_arg)))
        if not isinstance(found, PDFStream) or self._depth > DEEPEST_FORM:
            return
        before = self.device.look
        look = before.changed(shown=before.shown and self._layers.shows(found.get("OC")))
        if found.get("Subtype") is not None and literal_name(found.get("Subtype")) == "Form":
            check_stream(found)
            box = [resolve1(number) for number in list_value(found.get("BBox", []))]
            matrix = [resolve1(number) for number in list_value(found.get("Matrix", [1, 0, 0, 1, 0, 0]))]
            if len(box) == 4 and len(matrix) == 6:
                bounds = form_bounds(box, _as_matrix(matrix), self.ctm)
                look = look.changed(clip=meet(look.clip, bounds))
            look = look.in_group() if is_group(found) else look
        self.device.look = look
        try:
            super().do_Do(xobjid_arg)
        finally:
            self.device.look = before
            self.device.set_ctm(self.ctm)

    def paint_form(self, form: PDFStream, matrix: Matrix) -> None:
        """Paint a free-standing form (an annotation's appearance) with the given matrix to the page."""
        check_stream(form)
        before = self.device.look
        interpreter = ContentInterpreter(self.rsrcmgr, self.device, self._layers, self.faults, self._depth + 1)
        interpreter.render_contents(dict_value(form.get("Resources", {})), [form], ctm=matrix)
        self.device.look = before


def _first_colour(space: str) -> Any:
    if space == "Pattern":
        return "pattern"
    return 1.0 if space in ("Separation", "DeviceN") else 0.0


def _as_matrix(numbers: list[Any]) -> Matrix:
    a, b, c, d, e, f = (float(number) for number in numbers)
    return (a, b, c, d, e, f)


def form_bounds(box: Sequence[float], matrix: Matrix, current: Matrix) -> Bounds:
    """Return the clip that a form's own bounding box lays on the page."""
    whole = mult_matrix(matrix, current)
    x0, y0, x1, y1 = (float(number) for number in box)
    return surround([apply_matrix_pt(whole, (x, y)) for x in (x0, x1) for y in (y0, y1)])
