"""The demonstration: the sample sheets of invented makers, loaded into a catalogue of their own and asked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.find import Answer, find, read_question
from torquary_catalogue.load import Summary, load_sheets
from torquary_catalogue.store import open_catalogue
from torquary_schema.file_kinds import SHEETS, has_ending

QUESTIONS = (
    "spd earth 16mm2",
    "HT6 load 10mm2",
    "mcb 10mm2 outgoing",
    "mcb 50mm2 outgoing",
    "main switch earth 10mm2",
    "afdd 10mm2",
)
"""One for each kind of answer: one figure, several that agree, several that differ, outside, held, unknown."""

NEXT_QUESTION = "earth EB9 16mm2"
"""A question for the person to put next."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Demonstration:
    """What the demonstration did: the load, and each question in words with its answer."""

    summary: Summary
    answers: tuple[tuple[str, Answer], ...]


def find_samples() -> tuple[Path, ...]:
    """Return the sample sheets, installed with the package or beside it in a checkout.

    Raises `TorquaryError` when they are in neither place.
    """
    here = Path(__file__).parent
    for folder in (here / "samples", here.parents[1] / "sample_sheets"):
        sheets = tuple(sorted(path for path in folder.glob("*") if has_ending(path.name, SHEETS)))
        if sheets:
            return sheets
    raise TorquaryError("the sample sheets are not installed: install torquary anew, or run from its folder")


def demonstrate(catalogue: Path) -> Demonstration:
    """Load the samples into `catalogue`, which is made or stays, and ask it every question.

    Done again, it reads them again. Raises `TorquaryError`: the catalogue holds other sheets too (status 2; it is
    left as it is), or cannot be used (status 3).
    """
    samples = find_samples()
    _check_own(catalogue, {sheet.name for sheet in samples})
    summary = load_sheets(catalogue, samples, again=True)
    return Demonstration(summary=summary, answers=tuple(_ask(catalogue)))


def _check_own(catalogue: Path, samples: set[str]) -> None:
    """Keep invented figures out of a catalogue of real ones."""
    if not catalogue.exists():
        return
    with open_catalogue(catalogue, writing=True) as opened:
        others = [row["file"] for row in opened.rows("SELECT file FROM sheet") if row["file"] not in samples]
    if others:
        message = f"{catalogue} holds other sheets ({others[0]}): name another file with --catalogue FILE"
        raise TorquaryError(message, status=WRONG_USE)


def _ask(catalogue: Path) -> Iterator[tuple[str, Answer]]:
    with open_catalogue(catalogue) as opened:
        for question in QUESTIONS:
            yield question, find(opened, read_question(opened, question))
