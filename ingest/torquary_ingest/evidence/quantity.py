"""Is the figure a tightening torque? What says so, or what speaks against it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from torquary_ingest.scope import Level
from torquary_schema.torque_kinds import names_machine, names_other_torque, names_rated_torque, tightening_words


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """`proof` is the printed text that makes the figure a tightening torque, "" if none does.

    `other` tells that print makes it a torque that no screw is set to.
    """

    proof: str = ""
    other: str = ""


def find_quantity(
    levels: Sequence[Level], around: Sequence[str], *, unit: str, screw: bool, conductor: bool
) -> Quantity:
    """Return what the nearest text that names a kind of torque says of it.

    A bare "torque", or a unit alone, is one to tighten with where the screw of a terminal is proved (`screw`), and
    no speed or inertia stands `around` it; beside a conductor's size it is a terminal's whatever stands around.
    """
    for level in levels:
        for text in level.texts:
            if tightening_words(text) and not names_other_torque(text):
                return Quantity(proof=text)
            if names_other_torque(text) and level.kind in ("row", "heading"):
                return Quantity(other=text)
            if names_rated_torque(text) and level.kind in ("row", "heading"):
                return Quantity(other="" if screw else text)
    machine = next((text for text in around if names_machine(text)), "")
    if machine and not conductor:
        return Quantity(other=machine)
    return Quantity(proof=unit) if screw else Quantity()

