"""The operators of a content stream and their operands (ISO 32000-1, annex A), to tell content that is damaged."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from pdfminer.pdftypes import PDFStream
from pdfminer.psparser import PSLiteral

_OPERANDS = {
    # Graphics state, its special operators and its save and restore (tables 51, 57).
    "q": "", "Q": "", "cm": "######", "w": "#", "J": "#", "j": "#", "M": "#", "d": "[#", "ri": "/", "i": "#",
    "gs": "/",
    # Paths: construction, painting, clipping (tables 59 to 61).
    "m": "##", "l": "##", "c": "######", "v": "####", "y": "####", "h": "", "re": "####", "S": "", "s": "",
    "f": "", "F": "", "f*": "", "B": "", "B*": "", "b": "", "b*": "", "n": "", "W": "", "W*": "",
    # Colour (table 74); those of `sc` and its kin depend on the colour space.
    "CS": "/", "cs": "/", "SC": "?", "SCN": "?", "sc": "?", "scn": "?", "G": "#", "g": "#", "RG": "###",
    "rg": "###", "K": "####", "k": "####", "sh": "/",
    # Text (tables 105 to 109) and the glyphs of fonts made of drawings (table 113).
    "BT": "", "ET": "", "Tc": "#", "Tw": "#", "Tz": "#", "TL": "#", "Tf": "/#", "Tr": "#", "Ts": "#", "Td": "##",
    "TD": "##", "Tm": "######", "T*": "", "Tj": "(", "TJ": "[", "'": "(", '"': "##(", "d0": "##", "d1": "######",
    # Pictures and forms (tables 87, 92), marked content (table 320), compatibility (table 32).
    "Do": "/", "BI": "", "ID": "", "EI": "=", "MP": "/", "DP": "/<", "BMC": "/", "BDC": "/<", "EMC": "", "BX": "",
    "EX": "",
}  # fmt: skip
"""Operator → its operands: # number, / name, ( string, [ array, < dictionary or its name, = picture, ? any."""

PAIRED = {
    "q": ("q", 1), "Q": ("q", -1), "BT": ("BT", 1), "ET": ("BT", -1), "BMC": ("BMC", 1), "BDC": ("BMC", 1),
    "EMC": ("BMC", -1), "BX": ("BX", 1), "EX": ("BX", -1),
}  # fmt: skip
"""Operator → what it opens (1) or closes (-1)."""

SHOWS_TEXT = frozenset({"Tj", "TJ", "'", '"'})


def is_operator(name: str) -> bool:
    """Tell whether the name is that of an operator."""
    return name in _OPERANDS


def find_operand_fault(name: str, operands: Sequence[Any]) -> str:
    """Return what is wrong with an operator's operands, in words; "" if nothing is."""
    wanted = _OPERANDS[name]
    if wanted == "?":
        fits = bool(operands) and all(_is_number(one) for one in operands[:-1])
        fits = fits and (_is_number(operands[-1]) or isinstance(operands[-1], PSLiteral))
        return "" if fits else f"wrong operands of {name!r}"
    if len(operands) != len(wanted):
        return f"{len(operands)} operands of {name!r} instead of {len(wanted)}"
    if all(_fits(kind, operand) for kind, operand in zip(wanted, operands, strict=True)):
        return ""
    return f"wrong operands of {name!r}"


def _is_number(operand: Any) -> bool:
    return isinstance(operand, int | float) and not isinstance(operand, bool)


def _fits(kind: str, operand: Any) -> bool:
    if kind == "#":
        return _is_number(operand)
    if kind == "/":
        return isinstance(operand, PSLiteral)
    if kind == "(":
        return isinstance(operand, bytes)
    if kind == "[":
        return isinstance(operand, list) and all(_is_number(one) or isinstance(one, bytes) for one in operand)
    if kind == "<":
        return isinstance(operand, dict | PSLiteral)
    return isinstance(operand, PDFStream)
