"""Which pages must be read as pictures, or have pictures that must be read: told from their words and frames."""

from __future__ import annotations

from collections import Counter

from torquary_ingest.document import Page
from torquary_schema.values import Box

_LEAST_WIDE, _LEAST_HIGH = 90.0, 30.0
"""Points: a smaller picture on a page of text is a logo or a sign, and holds no table."""

_MUTE = 0.5
"""Share of a page's words whose characters are unknown from which it is read as a picture."""

_STRIP = 60.0
"""Points: a lower picture that stands at one place on many pages is their dress."""


def find_pictured(pages: list[Page]) -> tuple[list[Page], list[Page]]:
    """Return the pages without live text that can be read, and those with pictures beside it worth reading."""
    whole = [page for page in pages if not page.words or is_mute(page)]
    often = _find_repeated(pages)
    mixed = [page for page in pages if page.words and not is_mute(page) and _worth_reading(page, often)]
    return whole, mixed


def may_hold_table(wide: float, high: float) -> bool:
    """Tell whether a picture of that width and height in points is large enough to hold a table."""
    return wide >= _LEAST_WIDE and high >= _LEAST_HIGH


def is_mute(page: Page) -> bool:
    """Tell a page whose words mostly stand in fonts without a Unicode map: only their picture can be read."""
    mute = sum(any(doubt.code == "character_unreadable" for doubt in word.doubts) for word in page.words)
    return mute > _MUTE * len(page.words)


def _worth_reading(page: Page, often: set[tuple[int, ...]]) -> bool:
    """Tell whether a picture on a page of text is large enough to hold a table, and none of the page's dress."""
    return any(
        may_hold_table(picture.box.width, picture.box.height)
        and (picture.box.height >= _STRIP or _rounded(picture.box) not in often)
        for picture in page.pictures
    )


def _find_repeated(pages: list[Page]) -> set[tuple[int, ...]]:
    """Return the places where three pages or more have a picture: a logo or a band at the head."""
    places = Counter(place for page in pages for place in {_rounded(picture.box) for picture in page.pictures})
    return {place for place, count in places.items() if count >= 3}


def _rounded(box: Box) -> tuple[int, ...]:
    return tuple(round(side) for side in (box.x0, box.top, box.x1, box.bottom))
