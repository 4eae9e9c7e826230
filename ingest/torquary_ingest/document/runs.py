"""Text of a cell in runs, each with the way it is set: raised, struck out. Shared by workbooks, web pages and scans."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from torquary_ingest.document import Doubt, Mark
from torquary_ingest.lexis.note_marks import split_tail, takes_exponent, takes_power

_SLASH = ("/", "⁄", "∕")
_EXPONENTS = {"2": "²", "3": "³"}
_BLANKS = re.compile(r"[ \t\r\f\v\u00a0\u202f]+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Characters set alike. `raised` is superscript, `struck` a line through them."""

    text: str
    raised: bool = False
    struck: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Spoken:
    """What runs say: the live text, note marks apart from it, doubts, and the texts that are struck out."""

    text: str
    marks: tuple[Mark, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    struck: tuple[str, ...] = ()


def join_runs(runs: Sequence[Run]) -> Spoken:
    """Return the live text of the runs; lines stay lines, blanks are single.

    Struck text is left out; where it touches a live letter or figure, what is left is doubted. A raised 2 or 3
    behind a unit of length is its exponent, raised figures before a fraction's slash its numerator.
    """
    text = ""
    marks: list[str] = []
    doubts: list[Doubt] = []
    struck = tuple(run.text.strip() for run in runs if run.struck and run.text.strip())
    for at, run in enumerate(runs):
        if run.struck:
            if _touches(runs, at):
                doubts.append(_struck_doubt(run.text))
            continue
        if not run.raised or not run.text.strip():
            text += run.text
            continue
        exponent, note = _read_raised(text, run.text.strip(), runs[at + 1 :])
        text += exponent
        marks += note
    text, more = split_tail(_tidy(text))
    return Spoken(
        text=text,
        marks=tuple(Mark(text=mark) for mark in (*more, *marks)),
        doubts=tuple(doubts),
        struck=struck,
    )


def _read_raised(before: str, raised: str, after: Sequence[Run]) -> tuple[str, tuple[str, ...]]:
    """Return what a raised run adds to the text, and the note marks it is."""
    following = next((run.text.lstrip() for run in after if run.text.strip() and not run.struck), "")
    if raised.isdigit() and following.startswith(_SLASH):
        return (" " if before[-1:].isdigit() else "") + raised, ()
    if raised in _EXPONENTS and takes_exponent(before.rstrip()):
        return _EXPONENTS[raised], ()
    if raised in ("o", "°", "º") or takes_power(before) or raised.upper() in ("TM", "®"):
        return {"o": "°"}.get(raised, f"^{raised}" if takes_power(before) else raised), ()
    return "", tuple(part.strip() for part in re.split(r"[,;\s]+", raised) if part.strip())


def _touches(runs: Sequence[Run], at: int) -> bool:
    """Tell whether a struck run stands hard against live letters or figures: one of both may be meant."""
    text = runs[at].text
    before = runs[at - 1] if at else None
    after = runs[at + 1] if at + 1 < len(runs) else None
    left = before is not None and not before.struck and _joined(before.text[-1:], text[:1])
    right = after is not None and not after.struck and _joined(text[-1:], after.text[:1])
    return left or right


def _joined(one: str, other: str) -> bool:
    return all(part and (part.isalnum() or part in ".,-–/") for part in (one, other))


def _struck_doubt(text: str) -> Doubt:
    message = f"{text.strip()!r} is struck out and stands against what is left; look at the sheet"
    return Doubt(code="text_struck_out", message=message)


def _tidy(text: str) -> str:
    """Single the blanks of each line and drop blank lines at both ends."""
    lines = (_BLANKS.sub(" ", line).strip() for line in text.replace("\r\n", "\n").split("\n"))
    return "\n".join(line for line in lines if line)
