"""One table of a delimited file in the making."""

from __future__ import annotations

from dataclasses import dataclass, field

from torquary_ingest.openers.delimited.records import Record


@dataclass(slots=True)
class Block:
    """One table in the making: its records (heading rows first) and the lines above and below."""

    records: list[Record] = field(default_factory=list)
    caption: list[str] = field(default_factory=list)
    below: list[str] = field(default_factory=list)
    heading_rows: int = 0
