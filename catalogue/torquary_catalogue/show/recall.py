"""What was given out, and what does not stand any more of it, as lines of text and as a mapping."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from torquary_catalogue.show.figures import write_figures
from torquary_catalogue.show.visible import put_on_one_line

if TYPE_CHECKING:
    from torquary_catalogue.recall import GivenOut, Recalled

_SAID = {"gone": "not read any more", "held": "held since", "changed": "read otherwise since"}
MOST_SHOWN = 12
"""Figures of one thing that are shown unless all are asked for: an export has thousands."""


def write_recall(given: Iterable[GivenOut], *, every: bool = False) -> list[str]:
    """Return what was given out, each with the figures that do not stand any more, the others counted."""
    lines = []
    for one in given:
        count, recalled = len(one.figures), one.recalled
        asked = f", {one.question}" if one.question else ""
        head = f"{one.number}  {one.given_at:%Y-%m-%d %H:%M}  {one.who}: {one.kind}, {put_on_one_line(one.what_for)}"
        lines.append(f"{head}{asked}: {len(recalled)} of {count} figure(s) do not stand any more")
        shown = recalled if every else recalled[:MOST_SHOWN]
        lines += [f"    {_write_figure(figure)}" for figure in shown]
        lines += [f"    and {len(recalled) - len(shown)} more: --all shows them"] if len(shown) < len(recalled) else []
    return lines


def _write_figure(one: Recalled) -> str:
    then, now = write_figures(one.then), write_figures(one.now) if one.now is not None else "no figure"
    told = f" ({one.told})" if one.told else ""
    same = "the same figure" if one.now == one.then else now
    named = put_on_one_line(one.named) or one.setting
    page = f" page {one.page}" if one.page else ""
    return f"{one.file}{page}, {named}: {then} then, {_SAID.get(one.reason, one.reason)}{told}, {same} now"


def recall_to_dict(one: GivenOut) -> dict[str, Any]:
    """Return what was given out for --json; torques in N·m: lowest, nominal, highest, limit."""
    told = asdict(one) | {"given_at": one.given_at.isoformat(), "recalled": len(one.recalled)}
    return told | {"figures": [asdict(figure) for figure in one.figures]}
