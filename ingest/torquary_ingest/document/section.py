"""Headings of a document: those seen on pages that were not read closely, and the sections that all of them make."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from torquary_schema.values import Box, Place


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadingLine:
    """A line that may be a heading, on `page` from 1. `size` in points, `box` in points from the page's top left."""

    page: int
    text: str
    size: float
    bold: bool
    box: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A part of a document under a heading, from `place` (page and box of the heading) to the next of its level.

    `heading` is as printed, with its number; `level` counts from 1, the outermost. `language` is the code of the
    language that its page is in ("de"), "" where that is not clear.
    """

    heading: str
    level: int
    place: Place
    language: str = ""


def sections_over(sections: Iterable[Section], page: int, top: float) -> tuple[Section, ...]:
    """Return the sections that a place stands in, outermost first; `page` counts from 1, `top` is in points.

    A list whose heading stands on the page before is still under it.
    """
    chain: list[Section] = []
    for section in sections:
        box = section.place.box
        if (section.place.page or 0, box.top if box is not None else 0.0) > (page, top):
            break
        chain = [one for one in chain if one.level < section.level]
        chain.append(section)
    return tuple(chain)
