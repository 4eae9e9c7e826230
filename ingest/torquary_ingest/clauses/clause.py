"""The value that running text comes to: one figure with all that is said of it, each as a stretch of the text."""

from __future__ import annotations

from dataclasses import dataclass

from torquary_ingest.document import Doubt


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A printed text and where it stands in its item.

    `unit` is the unit that stands behind a later number alone, `said` the kinds of conductor told of a size alone.
    """

    start: int
    end: int
    text: str
    unit: str = ""
    said: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Clause:
    """One torque: its prints, the side that it limits, and what is said of it.

    `side` is a field of a torque ("torque", "torque_max", "torque_min"); `bound` a second figure,
    which is not to be exceeded; no `figures` stand for those of the clause before ("the same torque").
    `names` is what tells the terminal from others, `general` a word that does not ("terminal screws"); `again` tells
    that it is what was named last ("the same terminals").
    `quantity` the words that speak of tightening, `devices` those of the sheet that it is for, where the item says so.
    `start` and `end` are offsets of the whole in the item's text.
    """

    start: int
    end: int
    figures: tuple[Stretch, ...]
    side: str = "torque"
    bound: tuple[Stretch, ...] = ()
    names: tuple[Stretch, ...] = ()
    general: Stretch | None = None
    again: bool = False
    quantity: str = ""
    sizes: tuple[Stretch, ...] = ()
    kinds: tuple[Stretch, ...] = ()
    threads: tuple[Stretch, ...] = ()
    drives: tuple[Stretch, ...] = ()
    devices: tuple[Stretch, ...] = ()
    doubts: tuple[Doubt, ...] = ()
