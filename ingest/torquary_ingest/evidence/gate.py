"""The gate: a reading is released as a terminal's setting only with each of its proofs, each from print."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from torquary_ingest.evidence.quantity import find_quantity
from torquary_ingest.evidence.screws import TERMINAL, find_screw
from torquary_ingest.scope import Level
from torquary_schema.values import Evidence, Missing


@dataclass(frozen=True, slots=True, kw_only=True)
class Claimed:
    """What a reading claims, as printed: to be weighed against the texts that speak for it.

    `unit` is the unit's spelling, `conductor` the size in a system of conductors in its row, `label` the terminal's
    name, `device` the device's; `unnamed` tells that the sheet prints no product at all, `bare` that its row prints a
    dash for the conductor. "" for what is not printed.
    """

    page: int | None
    unit: str
    conductor: str
    label: str
    device: str
    unnamed: bool = False
    bare: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """The proofs found and missing; `other` is the print that makes the figure a torque that no screw is set to.

    Beside a conductor's size it is held instead.
    """

    purpose: str
    evidence: tuple[Evidence, ...]
    missing: tuple[Missing, ...]
    other: str = ""


def weigh(claimed: Claimed, levels: Sequence[Level], around: Sequence[str]) -> Weighed:
    """Return what proves a claimed setting; `around` are the texts of its table or list beside it."""
    screw = find_screw(levels, claimed.conductor, bare=claimed.bare)
    quantity = find_quantity(
        levels,
        around,
        unit=claimed.unit,
        screw=bool(screw.proof) and not screw.weak,
        conductor=bool(claimed.conductor),
    )
    proofs = {
        "unit": claimed.unit,
        "quantity": quantity.proof,
        "screw": screw.proof,
        "terminal": claimed.label,
        "device": claimed.device,
    }
    evidence = tuple(
        Evidence(field=field, printed=printed, page=claimed.page) for field, printed in proofs.items() if printed
    )
    looked = _looked_at(levels)
    missing = [Missing(field=field, looked=looked) for field in ("quantity", "screw", "terminal") if not proofs[field]]
    if screw.against:
        missing = [Missing(field="screw", looked=f"{screw.against!r} has no screw")]
    if not claimed.device and not claimed.unnamed:
        missing.append(Missing(field="device", looked=looked))
    if screw.purpose != TERMINAL:
        missing = [one for one in missing if one.field == "quantity"]
    other = "" if claimed.conductor else quantity.other
    return Weighed(purpose=screw.purpose, evidence=evidence, missing=tuple(missing), other=other)


_MOST_LOOKED = 4
_MOST_LETTERS = 60


def _looked_at(levels: Sequence[Level]) -> str:
    """Return the texts in which a proof was looked for, nearest first, in one line."""
    texts = list(dict.fromkeys(text for level in levels for text in level.texts))
    shown = [text if len(text) <= _MOST_LETTERS else f"{text[: _MOST_LETTERS - 1]}…" for text in texts[:_MOST_LOOKED]]
    more = f" and {len(texts) - _MOST_LOOKED} more" if len(texts) > _MOST_LOOKED else ""
    return " | ".join(shown) + more if shown else "no text stands beside or over the figure"
