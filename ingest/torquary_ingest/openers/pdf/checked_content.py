"""Runs content as the parser library does, and writes down what in it is damaged: the library passes over it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

from pdfminer.pdfinterp import PDFContentParser, PDFPageInterpreter
from pdfminer.pdftypes import PDFStream, dict_value, resolve1, stream_value
from pdfminer.psexceptions import PSEOF
from pdfminer.psparser import PSKeyword, keyword_name, literal_name

from torquary_ingest.openers.pdf.filters import HAS_NULS
from torquary_ingest.openers.pdf.fonts import FontShelf
from torquary_ingest.openers.pdf.operators import PAIRED, SHOWS_TEXT, find_operand_fault, is_operator

_SPELLED = str.maketrans({"*": "_a", '"': "_w", "'": "_q"})


class CheckedInterpreter(PDFPageInterpreter):
    """Runs the operators of a page or form; `faults` says what is damaged, in words, for the page and its forms."""

    rsrcmgr: FontShelf

    def __init__(self, resources: Any, device: Any, faults: list[str]) -> None:
        super().__init__(resources, device)
        self.faults = faults
        self._open: Counter[str] = Counter()

    def execute(self, streams: Sequence[object]) -> None:
        """Run the streams as one content; one that is being run already (a form inside itself) is passed over."""
        self.stream_ids.clear()
        self._open.clear()
        found = [stream_value(stream) for stream in streams]
        own = [one for one in found if one.objid is not None and one.objid not in self.parent_stream_ids]
        self.stream_ids.update(one.objid for one in own if one.objid is not None)
        self._note(*(fault for one in own if (fault := self.rsrcmgr.streams.find_content_fault(one))))
        try:
            parser = PDFContentParser(own)
            self._run_all(parser)
        except PSEOF:
            return
        if parser.context or self.argstack:
            self._note("the content breaks off in the middle of an operator")
        self._note(*(f"{name!r} is not closed" for name, depth in self._open.items() if depth > 0))

    def _run_all(self, parser: PDFContentParser) -> None:
        while True:
            try:
                _, found = parser.nextobject()
            except PSEOF:
                return
            if isinstance(found, PSKeyword):
                self._run(keyword_name(found))
            else:
                self.push(found)

    def _run(self, name: str) -> None:
        if not is_operator(name):
            if "\0" in name:
                self._note(HAS_NULS)
            elif not self._open["BX"]:
                self._note(f"{name[:20]!r} is no operator")
            self.argstack = []
            return
        self._note(find_operand_fault(name, self.argstack) or self._find_lost(name))
        self._pair(name)
        if name in SHOWS_TEXT and not self._open["BT"]:
            self._note("text stands outside BT and ET")
        run = getattr(self, f"do_{name.translate(_SPELLED)}", None)
        count = run.__code__.co_argcount - 1 if run is not None else 0
        operands = self.pop(count)
        if run is not None and len(operands) == count:
            run(*operands)
        self.argstack = []

    def _pair(self, name: str) -> None:
        opened, step = PAIRED.get(name, ("", 0))
        if not step:
            return
        self._open[opened] += step
        if self._open[opened] < 0 or (opened == "BT" and self._open[opened] > 1):
            self._note(f"{name!r} without its other half")
            self._open[opened] = max(0, min(self._open[opened], 1))

    def _find_lost(self, name: str) -> str:
        """Return what the operator names and the file lacks; its operands fit."""
        if name in SHOWS_TEXT:
            return "" if self.textstate.font is not None else "text is shown without a font"
        if name not in ("Tf", "Do", "gs", "cs", "CS"):
            return ""
        key = literal_name(self.argstack[0])
        if name == "Tf":
            return self._find_font_fault(key)
        if name == "Do":
            lost = not isinstance(resolve1(self.xobjmap.get(key)), PDFStream)
            return f"the form or picture {key[:20]!r} is missing" if lost else ""
        kind = "ExtGState" if name == "gs" else "ColorSpace"
        known = dict_value(self.resources.get(kind, {})) if self.resources else {}
        found = resolve1(known.get(key)) is not None or (name != "gs" and key in self.csmap)
        return "" if found else f"the {kind} {key[:20]!r} is missing"

    def _find_font_fault(self, key: str) -> str:
        font = self.fontmap.get(key)
        fault = self.rsrcmgr.find_fault(font) if font is not None else "is missing"
        return f"the font {key[:20]!r} {fault}" if fault else ""

    def _note(self, *faults: str) -> None:
        self.faults += [fault for fault in faults if fault and fault not in self.faults]
