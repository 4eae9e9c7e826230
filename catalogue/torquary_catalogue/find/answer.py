"""The answer to a question: one of six kinds, never a figure that was not printed and released."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from torquary_catalogue.find.difference import Difference, tell_apart
from torquary_catalogue.find.limits_for_all import say_limits
from torquary_catalogue.find.nearest import choose_nearest
from torquary_catalogue.find.query import ask
from torquary_catalogue.find.question import Question
from torquary_catalogue.find.remarks import note_figures, say_first
from torquary_catalogue.find.row import Row
from torquary_catalogue.store import Catalogue

Kind = Literal["one", "agree", "differ", "outside", "held", "unknown"]

CAUTIONS = (
    "Isolate and prove dead before you work.",
    "Work for a competent person only.",
    "The maker's current instructions and the local codes come first.",
)
"""They stand under every answer."""

_FITTING = ("size", "unasked", "unsized")


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What the catalogue says to a question.

    `kind`: "one" figure, or one limit where no setting is printed; several that "agree"; several that "differ"
    (`differences` say in what); size "outside" what is printed (`rows` are the nearest, nothing is interpolated);
    "held", not given; nothing known ("unknown"). `rows` are released, except for "held". `held` are further rows
    that would fit and wait for a decision. `correspondence` says how a size was carried into another system, "" if
    it was not.
    `said_first` stands before the figures: how a word was taken, what is held for the terminal asked for.
    """

    kind: Kind
    question: Question
    rows: tuple[Row, ...] = ()
    held: tuple[Row, ...] = ()
    differences: tuple[Difference, ...] = ()
    correspondence: str = ""
    said_first: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def answered(self) -> bool:
        """Whether there is a figure for exactly what was asked."""
        return self.kind in ("one", "agree", "differ")


def find(catalogue: Catalogue, question: Question) -> Answer:
    """Answer a question from the catalogue; matching is done by the macro find_setting."""
    answer = _answer(catalogue, question, ask(catalogue, question))
    return replace(answer, notes=(*answer.notes, *say_limits(catalogue, answer.rows)))


def _answer(catalogue: Catalogue, question: Question, rows: tuple[Row, ...]) -> Answer:
    fitting = tuple(row for row in rows if row.fit in _FITTING and row.state == "released")
    held = tuple(row for row in rows if row.fit in _FITTING and row.state == "held")
    if fitting:
        return _answer_figures(question, fitting, held, sum(row.fit == "other_system" for row in rows))
    from torquary_catalogue.find.known import say_known, say_other_terminals

    if held:
        notes = say_other_terminals(catalogue, question)
        return Answer(kind="held", question=question, rows=held, said_first=say_first(question, held, ()), notes=notes)
    others = tuple(row for row in rows if row.state == "released" and row.fit in ("outside", "other_system"))
    if others:
        return _answer_outside(question, others, _note_held_near(rows))
    return Answer(kind="unknown", question=question, notes=say_known(catalogue, question, rows))


def _answer_figures(question: Question, rows: tuple[Row, ...], held: tuple[Row, ...], others: int) -> Answer:
    if len({row.figures for row in rows}) > 1:
        kind: Kind = "differ"
    else:
        kind = "one" if len(rows) == 1 else "agree"
    return Answer(
        kind=kind,
        question=question,
        rows=rows,
        held=held,
        differences=tell_apart(rows) if kind == "differ" else (),
        said_first=say_first(question, rows, held),
        notes=note_figures(question, rows, others),
    )


def _note_held_near(rows: tuple[Row, ...]) -> tuple[str, ...]:
    count = sum(row.state == "held" for row in rows)
    return (f"{count} more reading(s), for other sizes, are held for a decision: see torquary held.",) if count else ()


def _answer_outside(question: Question, rows: tuple[Row, ...], notes: tuple[str, ...]) -> Answer:
    printed = tuple(row for row in rows if row.fit == "outside")
    first = say_first(question, rows, ())
    if printed:
        nearest = choose_nearest(question, printed)
        return Answer(kind="outside", question=question, rows=nearest, said_first=first, notes=notes)
    from torquary_catalogue.find.across import carry_across

    across = carry_across(question, rows)
    chosen = tuple(row for row in rows if row.id in across.ids)
    if not chosen:
        notes = ("No row would hold it by this correspondence; all that are printed are shown.", *notes)
    return Answer(
        kind="outside",
        question=question,
        rows=chosen or rows,
        correspondence=across.text,
        said_first=first,
        notes=notes,
    )
