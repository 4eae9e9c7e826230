"""Lines without a mark between name and value: "Line lugs", "Cu 14–2 AWG, 2.5–35 mm²", "Torque 40 lb·in (4.5 N·m)".

Lines of nothing but sizes beside one that begins with the word for a torque: all are properties of what is named over
them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from torquary_ingest.document.lines import Line
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.sense import cut_out, make_sense
from torquary_schema.units import find_units
from torquary_schema.words import Kind, spot

NEAR = 2.2
"""Shares of the font size between the lines of a list or stanza at most (own choice)."""

_OF_CONDUCTORS: tuple[Kind, ...] = ("stranding", "ferrule", "material", "connective")
_TIMES = "xX×"


def find_stanzas(lines: Sequence[Line]) -> dict[int, tuple[str, str]]:
    """Return the name and value of the lines of stanzas, by the line's identity."""
    found: dict[int, tuple[str, str]] = {}
    for run in _runs(lines):
        named = {id(line): pair for line in run if (pair := name_line(line.text)) is not None}
        torques = sum(states_torque(value) for _, value in named.values())
        if torques == 1 and len(named) > 1:
            found |= named
    return found


def begin_stanzas(lines: Sequence[Line]) -> frozenset[int]:
    """Return the identities of lines that begin where stanzas side by side do: what is beside them is no value."""
    named = [line for line in lines if name_line(line.text) is not None]
    starts = [a.box.x0 for a in named if any(b is not a and b.box.level_with(a.box) for b in named)]
    return frozenset(id(line) for line in lines if any(abs(start - line.box.x0) < line.size for start in starts))


def name_line(text: str) -> tuple[str, str] | None:
    """Return the name and value of a line of sizes alone, or of a torque behind the word for it; None for others.

    Sizes are named by the kind of conductor before them, or by their units.
    """
    return _split_torque(text) or _split_sizes(text)


def _runs(lines: Sequence[Line]) -> Iterator[list[Line]]:
    """Yield lines of sizes and torques that follow one another."""
    run: list[Line] = []
    for line in lines:
        if name_line(line.text) is None:
            yield run
            run = []
            continue
        if run and line.box.top - run[-1].box.bottom > NEAR * line.size:
            yield run
            run = []
        run.append(line)
    yield run


def _split_sizes(text: str) -> tuple[str, str] | None:
    """Return kind and sizes of a line that gives conductors, perhaps with their metal, and nothing else."""
    unit = make_sense(text).unit("area", "gauge")
    start = next((at for at, c in enumerate(text) if c.isdigit()), -1)
    if not unit or ":" in text or start < 0:
        return None
    spans = [(one.start, one.end) for one in find_units(text) if one.kind in ("area", "gauge")]
    spans += [(one.start, one.end) for kind in _OF_CONDUCTORS for one in spot(kind, text)]
    if any(c.isalpha() and c not in _TIMES for c in cut_out(text, spans)):
        return None
    kinds = spot("stranding", text[:start]) or spot("ferrule", text[:start])
    return (text[:start].strip(), text[start:]) if kinds else (unit, text)


def _split_torque(text: str) -> tuple[str, str] | None:
    """Return the word for a torque that a line begins with, and the torque behind it; None for other lines."""
    words = [one for one in spot("heading", text) if one.concept.startswith("torque") and one.start == 0]
    if not words:
        return None
    end = max(one.end for one in words)
    ties = spot("connective", text[:end])
    end = min([end, *(one.start for one in ties if one.end == end and one.start)])  # "Torque from 0.4 to 0.5"
    value = text[end:].lstrip(" :：=.…")
    begun = value[:1].isdigit() or any(one.start == 0 for one in spot("connective", value))
    return (text[:end].strip(), value) if begun and states_torque(value) else None
