"""A conductor size as people type it: `10 mm2`, `2x10mm²`, `10mm`, `10sq`, `AWG 8`, `1/0 AWG`, `250 kcmil`.

Deliberately smaller than the grammar for printed cells: a question has one size, and must be read at once.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

_NUMBER = r"[0-9]+(?:[.,][0-9]+)?"
_COUNT = r"(?:(?P<count>[1-9])\s*[x×]\s*)?"
MM2 = re.compile(
    rf"(?<![\w.,/]){_COUNT}(?P<mm2>{_NUMBER})\s*"
    r"(?:mm\s*(?:2|²|\^2)|sq\.?\s*mm|mm\s*sq|qmm|mmq|(?P<short>mm|sq|carr[ée]s?|quadrat))(?!\w)",
    re.IGNORECASE,
)
GAUGE = re.compile(
    rf"(?<![\w.,/]){_COUNT}(?:"
    r"(?:AWG\s*[-#]?\s*|#\s*)(?P<after>[1-4]/0|0{3,4}|5[0-6]|[0-4]?[0-9])(?![\w.,/])"
    r"|(?P<before>[1-4]/0|0{3,4}|5[0-6]|[0-4]?[0-9])\s*-?\s*AWG(?!\w)"
    r"|(?P<kcmil>[0-9]{2,4}(?:[.,][0-9]+)?)\s*(?:kcmil|MCM)(?!\w))",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """A size asked for: `mm2` or else `awg` ("8", "1/0", "250 kcmil"). `count`: conductors in one terminal.

    `start` and `end` are offsets in the text as given. `short`: typed as people say it, "10mm" or "10sq".
    """

    mm2: Decimal | None = None
    awg: str | None = None
    count: int | None = None
    start: int = 0
    end: int = 0
    short: bool = False

    @property
    def name(self) -> str:
        """The size in words: "10 mm²", "AWG 8", "250 kcmil"."""
        if self.mm2 is not None:
            return f"{self.mm2:f} mm²"
        return f"{self.awg}" if "kcmil" in (self.awg or "") else f"AWG {self.awg}"


def find_sizes(text: str) -> tuple[Size, ...]:
    """Return the conductor sizes that stand in the text, in order."""
    sizes = [_read_mm2(match) for match in MM2.finditer(text)]
    sizes += [_read_gauge(match) for match in GAUGE.finditer(text)]
    return tuple(sorted(sizes, key=lambda size: size.start))


def _count(match: re.Match[str]) -> int | None:
    return int(match["count"]) if match["count"] else None


def _read_mm2(match: re.Match[str]) -> Size:
    number = Decimal(match["mm2"].replace(",", "."))
    short = match["short"] is not None
    return Size(mm2=number, count=_count(match), start=match.start(), end=match.end(), short=short)


def _read_gauge(match: re.Match[str]) -> Size:
    if match["kcmil"]:
        awg = match["kcmil"].replace(",", ".") + " kcmil"
    else:
        awg = match["after"] or match["before"]
        if set(awg) == {"0"}:
            awg = f"{len(awg)}/0"
        elif "/" not in awg:
            awg = str(int(awg))
    return Size(awg=awg, count=_count(match), start=match.start(), end=match.end())
