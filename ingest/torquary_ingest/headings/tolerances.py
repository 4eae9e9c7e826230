"""A tolerance that a heading states for every figure under it: "Torque N·m ±10 %"."""

from __future__ import annotations

import re

from torquary_schema.units import find_units

_ANY = re.compile(r"±|\+\s*[/-]\s*[-–−]?\s*\d|\d\s*%")
_EVEN = re.compile(r"(?:±|\+\s?/\s?[-–−])\s*(?P<width>\d+(?:[.,]\d+)?)\s*(?P<percent>%)?")


def has_tolerance(heading: str) -> bool:
    """Tell whether a heading gives what may be a tolerance."""
    return _ANY.search(heading) is not None


def tolerance_spans(heading: str) -> list[tuple[int, int]]:
    """Return where a heading prints tolerances of equal width on both sides: they name nothing."""
    return [found.span() for found in _EVEN.finditer(heading)]


def stated_tolerance(heading: str) -> str:
    """Return the tolerance in the form "± 10 %" or "± 0.2"; "" if there is none, or none that is certain.

    A width without a percent sign is in the heading's unit, which must be one alone.
    """
    found = _EVEN.search(heading)
    if found is None:
        return ""
    rest = heading[: found.start()] + " " + heading[found.end() :]
    behind = heading[found.end() :].strip(" )]")
    units = {unit.name for unit in find_units(rest) if unit.kind == "torque"}
    if _ANY.search(rest) or (behind and not find_units(behind)):
        return ""
    if not found["percent"] and len(units) != 1:
        return ""
    return f"± {found['width']}{' %' if found['percent'] else ''}"
