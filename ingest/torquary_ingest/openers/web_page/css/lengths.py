"""Lengths and numbers of CSS in pixels, sums in `calc()` worked out (CSS Values 4). Pixels of a screen, as floats."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tinycss2.ast import Node

from torquary_ingest.openers.lengths import INCHES, PIXELS_PER_INCH

SCREEN_WIDE, SCREEN_HIGH = 1280.0, 800.0
"""The window that a page is read for: a usual width of browsers on office screens (common practice)."""

ROOT = 16.0
"""Size of type before a page says otherwise, in pixels."""

#: CSS Values 4, 6.2: absolute lengths, in pixels; viewport units by the hundredth of the screen.
_UNITS = {
    **{unit: inches * PIXELS_PER_INCH for unit, inches in INCHES.items()},
    **{f"{kind}vw": SCREEN_WIDE / 100 for kind in ("", "s", "l", "d")},
    **{f"{kind}vh": SCREEN_HIGH / 100 for kind in ("", "s", "l", "d")},
    "vi": SCREEN_WIDE / 100, "vb": SCREEN_HIGH / 100, "vmin": SCREEN_HIGH / 100, "vmax": SCREEN_WIDE / 100,
}  # fmt: skip
_OF_TYPE = {"em": 1.0, "ex": 0.5, "ch": 0.5, "ic": 1.0, "cap": 0.7, "lh": 1.2}


@dataclass(frozen=True, slots=True)
class Scale:
    """What relative lengths are of: the size of type, the page's, and what per cent mean (None: not known)."""

    em: float
    rem: float = ROOT
    whole: float | None = None


def evaluate(nodes: Sequence[Node], scale: Scale) -> float | None:
    """Return a number or length in pixels; None for what is none, or cannot be worked out."""
    nodes = [node for node in nodes if node.type not in ("whitespace", "comment")]
    return _one(nodes[0], scale) if len(nodes) == 1 else None


def _one(node: Node, scale: Scale) -> float | None:
    if node.type == "number":
        return float(node.value)
    if node.type == "percentage":
        return None if scale.whole is None else float(node.value) / 100 * scale.whole
    if node.type == "dimension":
        unit = node.lower_unit
        if unit in _OF_TYPE:
            return float(node.value) * scale.em * _OF_TYPE[unit]
        if unit in ("rem", "rex", "rch", "rlh"):
            return float(node.value) * scale.rem * _OF_TYPE.get(unit[1:], 1.0)
        return float(node.value) * _UNITS[unit] if unit in _UNITS else None
    if node.type == "() block":
        return _sum(node.content, scale)
    return _function(node, scale) if node.type == "function" else None


def _function(node: Node, scale: Scale) -> float | None:
    arguments: list[list[Node]] = [[]]
    for one in node.arguments:
        if one == ",":
            arguments.append([])
        else:
            arguments[-1].append(one)
    worth = [_sum(one, scale) for one in arguments]
    known = [value for value in worth if value is not None]
    if len(known) < len(worth) or not known:
        return None
    if node.lower_name in ("calc", "-webkit-calc") and len(known) == 1:
        return known[0]
    if node.lower_name in ("min", "max"):
        return min(known) if node.lower_name == "min" else max(known)
    return max(known[0], min(known[1], known[2])) if node.lower_name == "clamp" and len(known) == 3 else None


def _sum(nodes: Sequence[Node], scale: Scale) -> float | None:
    """Work out a sum of products; None where a sign or a unit is not understood."""
    total = 0.0
    product: float | None = None
    sign, times = 1.0, "*"
    for node in nodes:
        if node.type in ("whitespace", "comment"):
            continue
        if node.type == "literal" and node.value in "+-*/":
            if node.value in "+-":
                total += sign * (product or 0.0)
                sign, product = (1.0 if node.value == "+" else -1.0), None
            times = node.value if node.value in "*/" else "*"
            continue
        worth = _one(node, scale)
        if worth is None or (times == "/" and worth == 0):
            return None
        product = worth if product is None else product * worth if times == "*" else product / worth
    return None if product is None else total + sign * product
