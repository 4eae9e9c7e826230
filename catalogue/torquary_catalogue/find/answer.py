"""The answer to a question: one of six kinds, never a figure that was not printed and released."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

from torquary_catalogue.find.difference import Difference, tell_apart
from torquary_catalogue.find.nearest import choose_nearest
from torquary_catalogue.find.question import Question
from torquary_catalogue.find.row import Row, read_row
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

    `kind`: "one" figure; several that "agree"; several that "differ" (`differences` say in what); size
    "outside" what is printed (`rows` are the nearest, nothing is interpolated); "held", not given; nothing
    known ("unknown"). `rows` are released, except for "held". `held` are further rows that would fit and
    wait for a decision. `correspondence` says how a size was carried into another system, "" if it was not.
    """

    kind: Kind
    question: Question
    rows: tuple[Row, ...] = ()
    held: tuple[Row, ...] = ()
    differences: tuple[Difference, ...] = ()
    correspondence: str = ""
    notes: tuple[str, ...] = ()

    @property
    def answered(self) -> bool:
        """Whether there is a figure for exactly what was asked."""
        return self.kind in ("one", "agree", "differ")


def write_query(question: Question) -> str:
    """Return the question as SQL that any DuckDB client can put to the catalogue."""
    return f"FROM find_setting({', '.join(f'{n} := {_literal(v)}' for n, v in question.parts().items())})"


def _literal(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return f"{value:f}" if not isinstance(value, str | int) else _quote(value)


def _quote(value: str | int) -> str:
    return str(value) if isinstance(value, int) else "'" + value.replace("'", "''") + "'"


def find(catalogue: Catalogue, question: Question) -> Answer:
    """Answer a question from the catalogue; matching is done by the macro find_setting."""
    rows = _prefer_named([read_row(columns) for columns in catalogue.rows(write_query(question))])
    fitting = tuple(row for row in rows if row.fit in _FITTING and row.state == "released")
    held = tuple(row for row in rows if row.fit in _FITTING and row.state == "held")
    if fitting:
        return _answer_figures(question, fitting, held, sum(row.fit == "other_system" for row in rows))
    if held:
        return Answer(kind="held", question=question, rows=held)
    others = tuple(row for row in rows if row.state == "released" and row.fit in ("outside", "other_system"))
    if others:
        return _answer_outside(question, others, _note_held_near(rows))
    return Answer(kind="unknown", question=question, notes=_say_why_unknown(catalogue, question, rows))


def _prefer_named(rows: Sequence[Row]) -> tuple[Row, ...]:
    """Leave out "any terminal" of a device where the sheet names the terminal asked for."""
    named = {(row.sheet, row.device_printed, row.model) for row in rows if row.terminal_named}
    return tuple(row for row in rows if row.terminal_named or (row.sheet, row.device_printed, row.model) not in named)


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
        notes=_note(rows, held, others),
    )


def _note(rows: tuple[Row, ...], held: tuple[Row, ...], others: int) -> tuple[str, ...]:
    notes = []
    if any(row.fit == "unsized" for row in rows):
        notes.append("No conductor size is printed for the figure: check that the terminal takes yours.")
    if any(not row.terminal_named for row in rows):
        notes.append("The sheet names no terminal in particular: the figure stands for all of the device.")
    if held:
        notes.append(f"{len(held)} more reading(s) would fit and are held for a decision: see torquary held.")
    if others:
        notes.append(f"{others} more row(s) print conductor sizes in another system; they were not compared.")
    return tuple(notes)


def _note_held_near(rows: tuple[Row, ...]) -> tuple[str, ...]:
    count = sum(row.state == "held" for row in rows)
    return (f"{count} more reading(s), for other sizes, are held for a decision: see torquary held.",) if count else ()


def _answer_outside(question: Question, rows: tuple[Row, ...], notes: tuple[str, ...]) -> Answer:
    printed = tuple(row for row in rows if row.fit == "outside")
    if printed:
        return Answer(kind="outside", question=question, rows=choose_nearest(question, printed), notes=notes)
    from torquary_catalogue.find.across import carry_across

    across = carry_across(question, rows)
    chosen = tuple(row for row in rows if row.id in across.ids)
    if not chosen:
        notes = ("No row would hold it by this correspondence; all that are printed are shown.", *notes)
    return Answer(kind="outside", question=question, rows=chosen or rows, correspondence=across.text, notes=notes)


def _say_why_unknown(catalogue: Catalogue, question: Question, rows: tuple[Row, ...]) -> tuple[str, ...]:
    if rows:
        return ("Only held readings come near, for other conductors: see torquary held.",)
    notes = []
    for word in (question.words or "").split():
        if not catalogue.rows("SELECT 1 FROM current_setting WHERE has_words(all_words, ?) LIMIT 1", [word]):
            notes.append(f"No sheet in the catalogue has the word {word!r}.")
    if notes:
        return tuple(notes)
    parts = question.parts()
    for name, value in parts.items():
        rest = Question(**{other: parts[other] for other in parts if other != name})
        count = len(catalogue.rows(write_query(rest))) if rest.parts() else 0
        if count:
            notes.append(f"Without {name.replace('mm2', 'conductor')} {value} there would be {count} row(s).")
    return tuple(notes)
