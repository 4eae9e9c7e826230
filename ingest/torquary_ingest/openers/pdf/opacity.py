"""The part of the graphics state that decides what shows: clip, opacity, blending, layer."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from pdfminer.pdftypes import resolve1

from torquary_ingest.openers.pdf.layers import read_name
from torquary_ingest.openers.pdf.paint import Bounds

_MIXED = 0.9
"""Opacity that counts for what blends or is masked: never a cover for certain."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """Clip, opacity, blending and layer in force (ISO 32000-1, 11.3 to 11.6 and 8.11).

    `fill` and `stroke` are the constant alphas 0 to 1 (`ca`, `CA`), `group` the product of those with which the
    transparency groups around are painted. `blends`, `masked`: a blend mode that mixes colours, a soft mask;
    `around`: one of them applies to a group around.
    """

    clip: Bounds
    fill: float = 1.0
    stroke: float = 1.0
    group: float = 1.0
    blends: bool = False
    masked: bool = False
    around: bool = False
    shown: bool = True

    @property
    def mixes(self) -> bool:
        """Whether colours mix with what lies beneath, or show in part only: nothing is covered for certain."""
        return self.blends or self.masked or self.around

    @property
    def fill_alpha(self) -> float:
        """Opacity of fills, text and pictures on the page."""
        return self.fill * self.group

    @property
    def stroke_alpha(self) -> float:
        """Opacity of strokes on the page."""
        return self.stroke * self.group

    @property
    def ground_alpha(self) -> float:
        """Opacity of a fill as a ground or cover."""
        return min(self.fill_alpha, _MIXED) if self.mixes else self.fill_alpha

    def changed(self, **changes: Any) -> Look:
        """Return a copy with the named fields replaced."""
        return replace(self, **changes)

    def in_group(self) -> Look:
        """Return the look at the start of a transparency group painted with this one (ISO 32000-1, 11.6.6)."""
        return Look(clip=self.clip, group=self.fill_alpha, around=self.mixes, shown=self.shown)

    def in_state(self, state: dict[str, Any]) -> Look:
        """Return the look with what a graphics state dictionary sets (ISO 32000-1, table 58)."""
        changes: dict[str, Any] = {}
        if "BM" in state:
            changes["blends"] = _read_mode(state["BM"]) not in ("Normal", "Compatible")
        if "SMask" in state:
            changes["masked"] = isinstance(resolve1(state["SMask"]), dict)
        for key, where in (("ca", "fill"), ("CA", "stroke")):
            number = resolve1(state.get(key))
            if isinstance(number, int | float):
                changes[where] = min(1.0, max(0.0, float(number)))
        return self.changed(**changes)


def _read_mode(value: Any) -> str:
    """Return the blend mode; of a list the first, as every viewer knows them all."""
    found = resolve1(value)
    if isinstance(found, list):
        found = found[0] if found else None
    return read_name(found) or "Normal"


def is_group(form: Any) -> bool:
    """Tell whether a form is a transparency group, which starts with an opacity of its own."""
    group = resolve1(form.get("Group"))
    return isinstance(group, dict) and read_name(group.get("S")) == "Transparency"
