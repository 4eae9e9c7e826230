"""What the quick look kept of a page that is not read closely: what may speak for figures of other pages."""

from __future__ import annotations

from dataclasses import dataclass

from torquary_ingest.document.section import HeadingLine


@dataclass(frozen=True, slots=True, kw_only=True)
class PassedPage:
    """A page that was passed over; `number` counts from 1.

    `edges` are the lines at its head and foot, `lines` those that may speak for figures of other pages (kinds of
    conductors, notes, sizes of devices; of the last page all), `language` is the code of the language that it is in
    ("de"), "" where that is not clear. `unsearched` tells that it has pictures in which no print was looked for.
    """

    number: int
    height: float = 0.0
    edges: tuple[HeadingLine, ...] = ()
    lines: tuple[str, ...] = ()
    language: str = ""
    unsearched: bool = False
