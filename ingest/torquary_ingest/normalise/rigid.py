"""What "rigid" means on a sheet: solid or stranded, where the sheet does not tell these apart itself."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from torquary_ingest.document import Document, Table
from torquary_ingest.document.lines import set_lines
from torquary_schema.values import Setting
from torquary_schema.words import spot

_RIGID = ("solid", "stranded")
"""IEC 60228, classes 1 and 2; one word for both in IEC 60999-1 (both from memory)."""


def read_rigid(settings: Sequence[Setting], document: Document, tables: Sequence[Table]) -> tuple[Setting, ...]:
    """Return the settings, those for rigid conductors as for solid and stranded ones.

    Where a sheet prints another word for either kind, "rigid" beside it may mean solid alone, and stays that.
    """
    solid = any("solid" in one.conductor.stranding for one in settings)
    if not solid or any(map(_tells_apart, _texts(document, tables))):
        return tuple(settings)
    return tuple(_widened(one) for one in settings)


def _texts(document: Document, tables: Sequence[Table]) -> Iterator[str]:
    yield from (line.text for page in document.pages for line in set_lines(page))
    yield from (cell.text for table in tables for cell in table.cells)
    yield from (line for page in document.passed for line in page.lines)


def _tells_apart(text: str) -> bool:
    """Tell whether a text prints a word for solid or for stranded conductors other than "rigid"."""
    kinds = (match for match in spot("stranding", text) if match.concept in _RIGID)
    return any(not _is_rigid(match.printed) for match in kinds)


def _is_rigid(printed: str) -> bool:
    """Tell whether a word for a kind says "rigid" and nothing nearer: "rigid wire", and not "rigid, solid"."""
    found = [match for match in spot("instruction", printed) if match.concept == "rigid"]
    rest = "".join(_without(printed, ((match.start, match.end) for match in found)))
    return bool(found) and not spot("stranding", rest)


def _without(text: str, spans: Iterable[tuple[int, int]]) -> Iterator[str]:
    at = 0
    for start, end in spans:
        yield text[at:start]
        at = end
    yield text[at:]


def _widened(setting: Setting) -> Setting:
    conductor = setting.conductor
    if "solid" not in conductor.stranding:
        return setting
    kinds = tuple(dict.fromkeys(kind for one in conductor.stranding for kind in (_RIGID if one == "solid" else (one,))))
    return replace(setting, conductor=replace(conductor, stranding=kinds))
