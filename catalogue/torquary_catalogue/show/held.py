"""Held readings as lines of text: first what they lack, asked once for each list, then one by one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from torquary_catalogue.questions import COLUMN, Question, ask, ask_columns
from torquary_catalogue.show.sheets import write_list_place, write_row_place
from torquary_catalogue.show.visible import put_on_one_line
from torquary_schema.findings import WANTED

Rows = Sequence[Mapping[str, Any]]

_HEADINGS = {
    "device": "Which device it is for is missing",
    "terminal": "Which terminal it is for is missing",
    "screw": "That the screw is an electrical terminal's is missing",
    "quantity": "That it is a tightening torque is missing",
}
"""Part of a setting that may be missing → heading, in the order in which a person would ask."""
_OTHER = "Other reasons"
_ID = 10
"""Signs of a reading's id that are shown in a command."""
_MOST_BESIDE = 3
"""Texts of a column that are shown with a question."""
_IS_TORQUE = "are the figures of this column torques"
"""What is asked of a column that other torques of the sheet speak against."""

OPTIONS = {
    "device": "--device '…'", "terminal": "--terminal '…'", "screw": "--purpose electrical_terminal",
    "quantity": "--tightening", "unit": "--unit '…'", "size": "--size-unit '…'", "blank": "--as-read blank",
    "condition": "--as-read condition",
}  # fmt: skip
"""What a reading may lack → the option of torquary decide that gives it."""


def write_held(rows: Rows) -> list[str]:
    """Return the held readings (rows of `read_held`): what they lack, then a few lines each, under one heading.

    A reading that lacks several parts stands under the first of them, and its reasons name the others.
    """
    lines = [*write_questions(ask(rows)), *_write_columns(ask_columns(rows))]
    for heading, group in _group(rows):
        lines += ["", f"{heading}: {len(group)} reading(s)"]
        for row in group:
            lines += _write_reading(row)
    return lines


def write_questions(questions: Sequence[Question]) -> list[str]:
    """Return the questions of more than one reading, a few lines each, with the command that answers."""
    many = [one for one in questions if len(one.rows) > 1]
    lines = ["", f"Asked once for many: {len(many)} question(s)"] if many else []
    for one in many:
        row = one.first
        lines.append(
            f"{WANTED[one.field]}? {len(one.rows)} reading(s) of {row['file']} {write_list_place(row)}, "
            f"{one.alone} lack nothing else"
        )
        lines += [f"    {message}" for message in one.unread]
        lines += [f"    each row prints under “{heading}”: {_say_beside(one, heading)}" for heading in one.beside]
        lines.append(f"    torquary decide {row['id'][:_ID]} answer {OPTIONS[one.field]} --why …")
    return lines


def _write_columns(columns: Sequence[Question]) -> Iterator[str]:
    """Yield the columns that other torques speak against, with the command that says of one that it is none."""
    if columns:
        yield from ("", f"May be no torques at all: {len(columns)} column(s) that other torques speak against")
    for one in columns:
        row = one.first
        yield f"column {row['column_number']} of {row['file']} {write_list_place(row)}, {len(one.rows)} reading(s)"
        yield f"    if it is none: torquary decide {row['id'][:_ID]} answer --no-torque --why …"


def _say_beside(question: Question, heading: str) -> str:
    texts = [put_on_one_line(text) for text in question.texts_under(heading)]
    return " | ".join(texts[:_MOST_BESIDE]) + (" | …" if len(texts) > _MOST_BESIDE else "")


def _group(rows: Rows) -> Iterator[tuple[str, Rows]]:
    groups: dict[str, list[Mapping[str, Any]]] = {heading: [] for heading in (*_HEADINGS.values(), _OTHER)}
    for row in rows:
        missing = {one["field"] for one in row["missing"]}
        first = next((heading for field, heading in _HEADINGS.items() if field in missing), _OTHER)
        groups[first].append(row)
    return ((heading, group) for heading, group in groups.items() if group)


def _write_reading(row: Mapping[str, Any]) -> list[str]:
    what = (row["device_printed"], row["terminal_printed"], row["conductor_printed"])
    printed = "no torque printed" if row["torque_printed"] is None else f"printed “{row['torque_printed']}”"
    lines = [
        f"{row['id']}  {row['file']} {write_row_place(row)}",
        "    " + " | ".join(put_on_one_line(part) for part in (*what, printed) if part),
        *(f"    why: {reason['message']} [{reason['code']}]" for reason in row["reasons"]),
        *(f"    looked at: {put_on_one_line(text)}" for text in dict.fromkeys(one["looked"] for one in row["missing"])),
    ]
    if "picture" in row:
        lines.append(f"    picture: {row['picture'] or 'none was kept; look at the sheet'}")
    return lines


def name_missing(row: Mapping[str, Any]) -> Iterable[str]:
    """Yield each part that print does not prove, with the texts in which its proof was looked for."""
    return (f"{one['field']} (looked at: {one['looked']})" for one in row["missing"])


def question_to_dict(question: Question) -> dict[str, Any]:
    """Return a question for --json; one about a column names it."""
    row = question.first
    asked = WANTED.get(question.field, _IS_TORQUE)
    column = row["column_number"] if question.field == COLUMN else None
    return {
        "id": row["id"], "lacks": question.field, "question": asked, "file": row["file"], "page": row["page"],
        "table_number": row["table_number"], "column_number": column, "readings": [one["id"] for one in question.rows],
        "lack_nothing_else": question.alone, "beside": list(question.beside),
        "unread": list(question.unread),
    }  # fmt: skip
