"""The form that asks once for what many readings lack, with how far the answer goes."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from torquary_catalogue.questions import AS_READ_HERE, COLUMN, Question, lacks_alike, reached
from torquary_catalogue.show.held_cards import write_choices, write_picture, write_purposes
from torquary_catalogue.show.sheets import write_list_place
from torquary_catalogue.show.visible import to_json
from torquary_catalogue.show.web_page import keep, write
from torquary_catalogue.store.answered_columns import REACH_WORDS
from torquary_catalogue.store.answers import COLUMN_REACHES, REACHES, Reach
from torquary_schema.findings import WANTED

_Row = Mapping[str, Any]
_CHOICES = ("leave", "answer", "reject")
_AS_READ = {
    "device": "the device is", "terminal": "the terminal is", "blank": "blank cells are",
    "condition": "the figures are",
}  # fmt: skip
_MOST_TEXTS = 3


def write_form(question: Question, rows: Sequence[_Row]) -> str:
    """Return the form of a question; `rows` are all held readings, among which its answer has its reach."""
    row = question.first
    asked = (
        f"The {len(question.rows)} rows of {row['file']}, {write_list_place(row)}: {WANTED[question.field]}? "
        f"{question.alone} of them lack nothing else."
    )
    asked = " ".join((asked, *(f"{message[:1].upper()}{message[1:]}." for message in question.unread)))
    return _write(question, rows, asked)


def write_column_form(question: Question, rows: Sequence[_Row]) -> str:
    """Return the form that asks of a column (`ask_columns`) whether it is torques at all."""
    row = question.first
    figures = list(dict.fromkeys(one["torque_printed"] or "" for one in question.rows))
    shown = ", ".join(figures[:_MOST_TEXTS]) + (" …" if len(figures) > _MOST_TEXTS else "")
    asked = (
        f"Column {row['column_number']} of {row['file']}, {write_list_place(row)} ({shown}): other torques of the "
        "sheet speak against it. Is it no torques at all, but sizes or the like?"
    )
    return _write(question, rows, asked)


def _write(question: Question, rows: Sequence[_Row], asked: str) -> str:
    row, name = question.first, f"{question.field}-{question.first['id']}"
    lacking = [field for field in WANTED if any(field in one["lacks"] for one in question.rows)]
    fields = "".join(part for field in lacking for part in _write_field(field, question))
    if question.field == COLUMN:
        told = "none of these figures is a torque, and none speaks against one"
        fields = _write_tick("no_torque", told, checked=True)
    return (
        f'<form class="question" data-id="{write(row["id"])}" data-key="{write(name)}" '
        f'data-printed="{keep(to_json(row["torque_printed"] or ""))}" aria-label="{write(asked)}">'
        f"<p><strong>{write(asked)}</strong></p>{write_picture(row)}{write_choices(name, _CHOICES, {})}"
        f"<p>{_write_reaches(question, rows)}</p>"
        f'<div class="fields" hidden>{fields}</div></form>'
    )


def _write_reaches(question: Question, rows: Sequence[_Row]) -> str:
    options = []
    for reach in _reaches_of(question.field):
        ids = _ids_of(question, rows, reach)
        told = f"{REACH_WORDS[reach]}: {len(ids)} reading(s)"
        options.append(f'<option value="{reach}" data-ids="{keep(json.dumps(ids))}">{write(told)}</option>')
    return f'<label>for <select name="reach">{"".join(options)}</select></label>'


def _reaches_of(field: str) -> Sequence[Reach]:
    """Return how far an answer may go, the usual reach first."""
    if field == COLUMN:
        return COLUMN_REACHES
    here = (one for one in REACHES if field not in AS_READ_HERE or one != "maker")
    return sorted(here, key=lambda one: one != "list")


def _ids_of(question: Question, rows: Sequence[_Row], reach: Reach) -> list[str]:
    every = reached(rows, question.first, reach)
    return [
        one["id"] for one in every
        if question.field == COLUMN or lacks_alike(one, question.first, {question.field})
    ]


def _write_field(field: str, question: Question) -> Iterator[str]:
    """Yield the inputs that give a field."""
    if field in ("device", "terminal"):
        yield _write_text(field, field, "as it is printed")
        yield _write_columns(field, question)
    elif field == "screw":
        yield f"<div>{write_purposes('', first='not answered')}</div>"
    elif field == "quantity":
        yield _write_tick("tightening", "it is a tightening torque")
    elif field == "unit":
        yield _write_text("unit", "unit of the torques", "N·m")
    elif field == "size":
        options = "".join(f'<option value="{one}">{one}</option>' for one in ("", "mm2", "AWG", "kcmil"))
        yield f'<div><label>unit of the sizes <select name="size_unit">{options}</select></label></div>'
    named = field in ("device", "terminal") and all(row[f"{field}_printed"] for row in question.rows)
    if named or field in ("blank", "condition"):
        yield _write_tick("as_read", f"{_AS_READ[field]} right as read, in every row", field)


def _write_text(name: str, label: str, hint: str) -> str:
    return (
        f'<div><label>{write(label)} <input type="text" name="{name}" placeholder="{write(hint)}"></label>'
        '<p class="note" role="alert"></p></div>'
    )


def _write_tick(name: str, label: str, value: str = "on", *, checked: bool = False) -> str:
    box = f'<input type="checkbox" name="{name}" value="{value}"{" checked" if checked else ""}>'
    return f'<div><label class="tick">{box} {write(label)}</label></div>'


def _write_columns(field: str, question: Question) -> str:
    """Return the columns that print something in each row, to choose the one that names it."""
    if not question.beside:
        return ""
    options = "".join(
        f'<option value="{keep(heading)}">{write(heading)}: {write(_say(question, heading))}</option>'
        for heading in question.beside
    )
    choices = f'<select name="{field}_from"><option value="">no column</option>{options}</select>'
    return f"<div><label>or each row prints its {field} under {choices}</label></div>"


def _say(question: Question, heading: str) -> str:
    shown = question.texts_under(heading)
    return ", ".join(shown[:_MOST_TEXTS]) + (" …" if len(shown) > _MOST_TEXTS else "")
