"""The page of a document: its size, its foot with page numbers, and how it is put together."""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence
from typing import Any

from reportlab.lib.pagesizes import A4, letter
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate, TableStyle

from torquary_catalogue.board.paper.faces import FACE, plain, register_faces

SIZES: dict[str, tuple[float, float]] = {"a4": A4, "letter": letter}
MARGIN = 14 * mm
_FOOT = 8 * mm


class _Counted(Canvas):
    """A canvas that writes "page 2 of 5" when it knows how many there are."""

    foot = ""
    _pagesize: tuple[float, float]
    _startPage: Callable[[], None]  # noqa: N815  (reportlab's name)

    def __init__(self, *arguments: Any, **more: Any) -> None:
        super().__init__(*arguments, **more)
        self._pages: list[dict[str, Any]] = []

    def showPage(self) -> None:  # noqa: N802  (reportlab's name)
        """Keep the page until all are counted."""
        self._pages.append(dict(self.__dict__))
        self._startPage()

    def save(self) -> None:
        """Write all pages with their numbers."""
        for at, page in enumerate(self._pages, start=1):
            self.__dict__.update(page)
            self.setFont(FACE, 8)
            self.drawString(MARGIN, _FOOT, plain(self.foot))
            self.drawRightString(
                self._pagesize[0] - MARGIN, _FOOT, f"page {at} of {len(self._pages)}"
            )
            super().showPage()
        super().save()


def width_within(size: str) -> float:
    """Return the width in points that the text of a page has."""
    return SIZES[size][0] - 2 * MARGIN


def look(*commands: Any) -> TableStyle:
    """Return the look of a table: reportlab's commands."""
    return TableStyle(list(commands))


def put_together(story: Sequence[Flowable], *, title: str, foot: str, size: str) -> bytes:
    """Return a document of these pieces as PDF; `size` is a key of SIZES, `foot` stands at the foot
    of each page.
    """
    register_faces()
    out = io.BytesIO()
    width, height = SIZES[size]
    frame = Frame(MARGIN, MARGIN, width - 2 * MARGIN, height - 2 * MARGIN, 0, 0, 0, 0)
    document = BaseDocTemplate(
        out, pagesize=SIZES[size], title=title, author="torquary", creator="torquary"
    )
    document.addPageTemplates(PageTemplate(frames=[frame]))

    class _Footed(_Counted):
        pass

    _Footed.foot = foot
    document.build(list(story), canvasmaker=_Footed)
    return out.getvalue()
