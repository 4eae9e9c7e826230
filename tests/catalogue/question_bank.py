"""The bank of questions, written by somebody who had not read the code, and how an answer to one is judged."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.find import Answer, find, read_question
from torquary_catalogue.store import Catalogue

FOLDER = Path(__file__).parent / "bank"
SAMPLES = Path(__file__).parents[2] / "sample_sheets"
SHEET_KINDS = (".csv", ".tsv", ".html", ".ods", ".xlsx", ".pdf")

_KINDS = {
    "one": ("one", "agree"),
    "agree": ("one", "agree"),
    "several": ("differ",),
    "none": ("outside", "unknown", "refused"),
    "held": ("held",),
}
"""Kind that the bank wants → kinds of answer that are it."""

_NM = {"N·m": Decimal(1), "lb·in": Decimal("0.1129848290276167")}
_NEAR = Decimal("0.005")
"""Part of a figure by which it may differ: both are printed figures, converted once."""

Figure = tuple[Decimal, Decimal]


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """How one answer is judged: `false` gives a figure that is not for what was asked."""

    number: str
    words: str
    wanted: str
    got: str
    right_kind: bool
    false: bool
    dead_end: bool
    complete: bool
    offered: bool = False

    def __str__(self) -> str:
        """One line, for people."""
        marks = [name for name in ("false", "dead_end", "offered") if getattr(self, name)]
        marks += [] if self.complete else ["incomplete"]
        return f"{self.number} {self.words!r}: {self.got}, wanted {self.wanted} {' '.join(marks)}"


def sheets() -> list[Path]:
    """Return the sheets that the questions are about: those of the bank and the samples."""
    found = [*FOLDER.joinpath("sheets").iterdir(), *SAMPLES.iterdir()]
    return sorted(path for path in found if path.suffix in SHEET_KINDS)


@cache
def questions() -> tuple[dict[str, Any], ...]:
    """Return the questions of the bank."""
    return tuple(json.loads((FOLDER / "questions.json").read_text("utf-8")))


def is_kept_apart(question: dict[str, Any]) -> bool:
    """Tell whether a question is of the third that nothing was mended on."""
    return int(question["id"][1:]) % 3 == 0


def judge_all(catalogue: Catalogue) -> Iterator[Verdict]:
    """Ask every question, one after the other."""
    for question in questions():
        yield judge(catalogue, question)


def judge(catalogue: Catalogue, question: dict[str, Any]) -> Verdict:
    """Ask one question; where words were not understood and others offered, the first offer is taken once."""
    answer = _ask(catalogue, question["words"])
    offered = False
    wanted = question.get("kind_here", question["kind"])
    kinds = (*_KINDS[wanted], *(("held",) if "may_be_held" in question else ()))
    if answer is not None and answer.kind not in kinds and answer.offers:
        answer, offered = _ask(catalogue, answer.offers[0].words), True
    kind = "refused" if answer is None else answer.kind
    shown = _shown(answer)
    right = [_read(text) for text in question["figures"]]
    allowed = [*right, *(_read(text) for text in question.get("may", ()))]
    given = kind in ("one", "agree", "differ")
    strange = [one for one in shown if not any(_same(one, other) for other in allowed)]
    false = bool(given and (not right or (strange and kind != "differ") or len(strange) == len(shown)))
    return Verdict(
        number=question["id"],
        words=question["words"],
        wanted=wanted,
        got=kind,
        right_kind=kind in kinds,
        false=false,
        dead_end=answer is not None and not answer.rows and not answer.notes and not answer.choices,
        complete=not given or (not strange and all(any(_same(one, other) for other in shown) for one in right)),
        offered=offered,
    )


def _ask(catalogue: Catalogue, words: str) -> Answer | None:
    try:
        return find(catalogue, read_question(catalogue, words))
    except TorquaryError:
        return None


def _shown(answer: Answer | None) -> list[Figure]:
    rows = answer.rows if answer else ()
    ends = ((row.min_nm, row.max_nm if row.max_nm is not None else row.limit_nm) for row in rows)
    return [(low if low is not None else high, high) for low, high in ends if high is not None]


def _read(text: str) -> Figure:
    digits, unit = text.split(" ")
    ends = [Decimal(end) * _NM[unit] for end in digits.split("–")]
    return ends[0], ends[-1]


def _same(one: Figure, other: Figure) -> bool:
    return all(abs(a - b) <= _NEAR * b for a, b in zip(one, other, strict=True))
