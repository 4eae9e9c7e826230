"""Compares settings of a catalogue with the true rows in the file beside a sheet."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from torquary_schema.words import fold

Row = Mapping[str, Any]
_NEAR = 0.006
"""Share by which a torque may differ from the truth by rounding."""


def is_true(setting: Row, row: Row) -> bool:
    """Tell whether a setting, in its figures as released or as read, is a true row."""
    return is_for(setting, row) and same_device(setting, row) and same_label(setting["terminal_printed"], row)


def is_for(setting: Row, row: Row) -> bool:
    """Tell whether a setting has the figure and the sizes of a true row, whatever it is called."""
    return has_figure(setting, row) and _same_sizes(setting, row)


def has_figure(setting: Row, row: Row) -> bool:
    """Tell whether a setting has the figure of a true row, as released or as read."""
    which = "" if setting["state"] == "released" else "read_"
    low, high, limit = (setting[f"{which}{name}_nm"] for name in ("min", "max", "limit"))
    return _close(low, row["torque_min_nm"]) and _close(high if high is not None else limit, row["torque_max_nm"])


def _close(one: Any, other: Any) -> bool:
    if one is None or other is None:
        return one is None and other is None
    return abs(float(one) - float(other)) <= _NEAR * max(float(one), float(other))


def _same_sizes(setting: Row, row: Row) -> bool:
    """Tell whether the printed system's sizes are the row's; a row may be printed in two systems."""
    printed = {"mm2": ("min_mm2", "max_mm2"), "awg": ("min_awg", "max_awg"), "kcmil": ("min_awg", "max_awg")}
    names = printed.get(setting["system"] or "", ())
    wanted = [row.get(f"conductor_{name}") for name in names]
    if not any(value not in (None, "") for value in wanted):
        return not any(row.get(f"conductor_{name}") not in (None, "") for name in ("min_mm2", "max_mm2")) or not names
    return all(_same_size(setting[name], value) for name, value in zip(names, wanted, strict=True))


def _same_size(one: Any, other: Any) -> bool:
    if one is None or other in (None, ""):
        return one is None and other in (None, "")
    return _close(one, other) if isinstance(other, (int, float)) else fold(str(one)) == fold(str(other))


def signs_of(text: str) -> str:
    """Return the letters, digits and signs of a name, small, without blanks; all hyphens are one."""
    return "".join(re.findall(r"\w|[+-]", _one_hyphen(text).lower()))


def _one_hyphen(text: str) -> str:
    return re.sub("[‐‑‒–−]", "-", text)


def typed_torque(row: Row) -> str:
    """Return the torque of a true row as a person types it."""
    low, high = row["torque_min_nm"], row["torque_max_nm"]
    if low is None or high is None:
        return f"{'max.' if low is None else 'min.'} {high if low is None else low} Nm"
    return f"{low} Nm" if low == high else f"{low}-{high} Nm"


def typed_size(row: Row) -> str | None:
    """Return the conductor sizes of a true row as a person types them, in the first system it has; None for none."""
    for unit, names in (("mm²", ("min_mm2", "max_mm2")), ("AWG", ("min_awg", "max_awg"))):
        low, high = (row.get(f"conductor_{name}") for name in names)
        if high not in (None, "") or low not in (None, ""):
            told = [str(one) for one in (low, high) if one not in (None, "")]
            ends = [one if "kcmil" in one else f"{one} {unit}" for one in told]
            return ends[0] if low == high else f"max. {ends[-1]}" if low in (None, "") else " - ".join(ends)
    return None


def same_label(label: str, row: Row) -> bool:
    """Tell whether a label is the row's, or one a part of the other."""
    also = (row.get("extra") or {}).get("other_names") or []
    wanted = [row["terminal"], *([also] if isinstance(also, str) else also)]
    mine = signs_of(label)
    return any(mine and name and (signs_of(name) in mine or mine in signs_of(name)) for name in wanted)


def same_device(setting: Row, row: Row) -> bool:
    """Tell whether a setting names the row's device, in its names or the texts over it."""
    device = (row.get("extra") or {}).get("device")
    parts = [setting[name] or "" for name in ("device_printed", "model", "series", "terminal_printed")]
    return not device or any(_stands_in(device, text) for text in (*parts, *_scope(setting)))


def _scope(setting: Row) -> Iterator[str]:
    yield from (one["text"] for one in setting["scope"] or () if one["kind"] != "note")


def _stands_in(name: str, text: str) -> bool:
    signs = r"[\W_]*".join(map(re.escape, signs_of(name)))
    return bool(signs and re.search(rf"(?<!\w){signs}(?!\w)", _one_hyphen(text).lower()))
