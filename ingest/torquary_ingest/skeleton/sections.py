"""Sections with levels, over all pages: by the size and weight of their headings, and by the numbers before them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from torquary_ingest.document import HeadingLine, Section
from torquary_ingest.skeleton.headings import ALIKE, depth_of
from torquary_schema.values import Place

_Style = tuple[int, bool]


def make_sections(headings: Sequence[HeadingLine], languages: Mapping[int, str]) -> tuple[Section, ...]:
    """Return the sections that headings make, in order; `languages` are those of the pages, by number from 1.

    A larger heading is further out, a bold one before another of its size, and of one style the one whose number has
    fewer levels; a heading without a number is as its style's others.
    """
    classes = _class_sizes(headings)
    styles = [(classes[line.size], not line.bold) for line in headings]
    usual = _usual_depths(styles, headings)
    keys = [(*style, depth_of(line.text) or usual[style]) for style, line in zip(styles, headings, strict=True)]
    levels = {key: level for level, key in enumerate(sorted(set(keys)), start=1)}
    return tuple(
        Section(
            heading=line.text,
            level=levels[key],
            place=Place(page=line.page, box=line.box, text=line.text),
            language=languages.get(line.page, ""),
        )
        for line, key in zip(headings, keys, strict=True)
    )


def _class_sizes(headings: Sequence[HeadingLine]) -> dict[float, int]:
    """Number the sizes from the largest, 0; sizes that differ little are one."""
    classes: dict[float, int] = {}
    first = 0.0
    for size in sorted({line.size for line in headings}, reverse=True):
        if not classes or first > ALIKE * size:
            first = size
        classes[size] = len({kept for kept in classes.values()}) if first == size else max(classes.values())
    return classes


def _usual_depths(styles: Sequence[_Style], headings: Sequence[HeadingLine]) -> dict[_Style, int]:
    """Return for each style how many levels the numbers of its headings have as a rule; 0 where none has one."""
    depths: dict[_Style, Counter[int]] = {}
    for style, line in zip(styles, headings, strict=True):
        depths.setdefault(style, Counter())[depth_of(line.text)] += 1
    return {style: max(filter(None, found), key=found.__getitem__, default=0) for style, found in depths.items()}
