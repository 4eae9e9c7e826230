"""The answer to a question: one of six kinds, never a figure that was not printed and released."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from torquary_catalogue.find.choices import Choice, list_choices, names_device, names_terminal
from torquary_catalogue.find.difference import Difference, tell_apart
from torquary_catalogue.find.limits_for_all import say_limits
from torquary_catalogue.find.look import Look, say_where_to_look
from torquary_catalogue.find.nearest import choose_nearest
from torquary_catalogue.find.query import MOST_BESIDE, ask, count_reach
from torquary_catalogue.find.question import Question
from torquary_catalogue.find.remarks import note_figures, say_first
from torquary_catalogue.find.row import Row
from torquary_catalogue.find.spelling import Offer, offer_spellings
from torquary_catalogue.find.words import find_printed
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
    `not_understood` are words that no sheet in force prints and nobody knows: the figures are those of the question
    without them, and stand only where the other words name device and terminal. `offers` are questions with the
    nearest known words in their place, `choices` what can be added, without figures. `look_at` tells where to look
    for what is held.
    """

    kind: Kind
    question: Question
    rows: tuple[Row, ...] = ()
    held: tuple[Row, ...] = ()
    differences: tuple[Difference, ...] = ()
    correspondence: str = ""
    said_first: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    not_understood: tuple[str, ...] = ()
    offers: tuple[Offer, ...] = ()
    choices: tuple[Choice, ...] = ()
    look_at: tuple[Look, ...] = ()

    @property
    def answered(self) -> bool:
        """Whether there is a figure for exactly what was asked."""
        return self.kind in ("one", "agree", "differ") and not self.not_understood


def find(catalogue: Catalogue, question: Question) -> Answer:
    """Answer a question from the catalogue; matching is done by the macro find_setting."""
    strange = _find_strange(catalogue, question)
    # A word that stands in no sheet leaves no row, which need not be asked.
    rows = () if strange else ask(catalogue, question)
    answer = _answer_rest(catalogue, question, strange) if strange else _answer(catalogue, question, rows)
    held = answer.rows if answer.kind == "held" else answer.held
    notes = (*answer.notes, *say_limits(catalogue, answer.rows))
    return replace(answer, notes=notes, look_at=say_where_to_look(catalogue, held))


def _find_strange(catalogue: Catalogue, question: Question) -> tuple[str, ...]:
    """Return the free words that no name of a sheet in force has."""
    words = (question.words or "").split()
    printed = find_printed(catalogue, words) if words else set()
    return tuple(word for word in words if word not in printed)


def _answer_rest(catalogue: Catalogue, question: Question, strange: tuple[str, ...]) -> Answer:
    """Answer the question without its strange words where these can name neither device nor terminal."""
    rest = question.without_words(strange)
    offers = offer_spellings(catalogue, question, strange)
    reach = count_reach(catalogue, rest)
    rows = ask(catalogue, rest) if rest.parts() and reach <= MOST_BESIDE else ()
    if names_device(rest, strange) and names_terminal(rest, rows) and any(row.fit in _FITTING for row in rows):
        answer = _answer(catalogue, rest, rows)
        return replace(answer, not_understood=strange, offers=offers)
    from torquary_catalogue.find.known import say_strange

    notes, choices = say_strange(catalogue, question, rest, rows, strange)
    if rest.parts() and reach > MOST_BESIDE:
        notes = (*notes, f"Without it the question is for sheets with {reach:,} settings: {rest.command}")
    return Answer(
        kind="unknown", question=question, not_understood=strange, offers=offers, choices=choices, notes=notes
    )


def _answer(catalogue: Catalogue, question: Question, rows: tuple[Row, ...]) -> Answer:
    fitting = tuple(row for row in rows if row.fit in _FITTING and row.state == "released")
    held = tuple(row for row in rows if row.fit in _FITTING and row.state == "held")
    if fitting:
        return _answer_figures(question, fitting, held, sum(row.fit == "other_system" for row in rows))
    from torquary_catalogue.find.known import say_known, say_other_terminals, say_where_held

    if held:
        notes = (*say_where_held(held), *say_other_terminals(catalogue, question))
        return Answer(kind="held", question=question, rows=held, said_first=say_first(question, held, ()), notes=notes)
    others = tuple(row for row in rows if row.state == "released" and row.fit in ("outside", "other_system"))
    if others:
        return _answer_outside(question, others, _note_held_near(rows))
    notes, choices = say_known(catalogue, question, rows)
    return Answer(kind="unknown", question=question, notes=notes, choices=choices)


def _answer_figures(question: Question, rows: tuple[Row, ...], held: tuple[Row, ...], others: int) -> Answer:
    if len({row.figures for row in rows}) > 1 or _holds_others(rows, held):
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
        choices=list_choices(rows) if kind == "differ" else (),
    )


def _holds_others(rows: tuple[Row, ...], held: tuple[Row, ...]) -> bool:
    """Tell whether other terminals or devices that were asked for as well are held: theirs may be another figure."""
    named = {(row.sheet, row.device_printed, row.terminal_printed) for row in rows}
    return any((row.sheet, row.device_printed, row.terminal_printed) not in named for row in held)


def _note_held_near(rows: tuple[Row, ...]) -> tuple[str, ...]:
    count = sum(row.state == "held" for row in rows)
    if not count:
        return ()
    are = "reading for another size waits" if count == 1 else "readings for other sizes wait"
    return (f"{count} more {are} for a decision: torquary held",)


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
