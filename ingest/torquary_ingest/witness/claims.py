"""What the witness is asked, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass

from torquary_ingest.document import Doubt, Word
from torquary_schema.values import Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """A cell as the text layer tells it.

    `box` is the cell in points from the page's top left as shown; `words` are the live words it was read
    from (their boxes in the same frame), `text` the reading, lines joined by a line feed.
    """

    box: Box
    words: tuple[Word, ...]
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Testimony:
    """What the picture of the page says to a claim.

    `agrees` is True when every character of the claim was proved by the picture, False when the picture
    contradicts it, None when the picture could not tell. Unless it agrees, `doubts` is never empty: a
    claim that could not be told bears `not_witnessed`. `means` says what decided: "ink" (characters and
    ink do not account for one another), "proved glyph" (every glyph was recognised by its shape) or
    "recogniser". `seen` is what was read in the picture, "" if nothing was.
    """

    agrees: bool | None
    doubts: tuple[Doubt, ...] = ()
    means: str = "ink"
    seen: str = ""
