"""A page that shows what held readings lack, and each of them beside its picture, for a person to decide."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from string import Template
from typing import Any

from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.questions import Question, ask, ask_columns
from torquary_catalogue.show.held_cards import write_card
from torquary_catalogue.show.held_forms import write_column_form, write_form
from torquary_catalogue.show.sheets import write_list_place
from torquary_catalogue.show.web_page import keep, read_parts, read_script, read_style, write
from torquary_schema.findings import WANTED, codes

NAME = "held.html"
_HERE = "torquary_catalogue.show"
_UNITS = (
    "N·m", "Nm", "N m", "N-m", "N.m", "cN·m", "cNm", "dNm", "kgf·cm", "kgf·m", "kgf cm", "kgf m", "kgfcm", "kgfm",
    "lbf·in", "lbf-in", "lb-in", "lb·in", "lbf in", "lb in", "in-lb", "in·lb", "in lb", "in-lbs", "lbf·ft", "lbf-ft",
    "lb-ft", "lb·ft", "lb ft", "ft-lb", "ft·lb", "ft lb", "ozf·in", "oz-in",
)  # fmt: skip
"""Units that may be typed on the page: torquary takes more, which people do not type."""

_Row = Mapping[str, Any]


def write_held_page(rows: Sequence[_Row], folder: Path) -> Path:
    """Write FOLDER/held.html for held readings (rows of `read_held` with `picture`) and return its path.

    What is decided on it the browser keeps and saves as decisions.json (`decisions.schema.json`), which it opens
    again; the page itself changes nothing. Raises `TorquaryError` when the file cannot be written.
    """
    groups = _group(rows)
    causes = {_cause_of(question, group): None for question, group in groups}
    parts = {
        "style": read_style(_HERE, "held_page.css"),
        "script": read_script(_HERE, "held_page.js"),
        "key": write(_key(rows)),
        "units": keep(json.dumps(sorted(_UNITS, key=len, reverse=True), ensure_ascii=False)),
        "causes": "".join(f'<option value="{write(cause)}">{write(cause)}</option>' for cause in causes),
        "groups": "\n".join(_write_group(at, question, group, rows) for at, (question, group) in enumerate(groups)),
    }
    file = folder / NAME
    try:
        file.write_text(Template(read_parts(_HERE, "held_page.html")).substitute(parts), encoding="utf-8")
    except OSError as error:
        raise TorquaryError(f"{file} cannot be written ({error.strerror}): name another folder") from None
    return file


def _key(rows: Sequence[_Row]) -> str:
    """Return the name under which the browser keeps what is decided: that of the first sheet's readings."""
    sheets = " ".join(sorted({row["sheet"] for row in rows}))
    return f"torquary-held-{hashlib.sha256(sheets.encode()).hexdigest()[:16]}"


def _group(rows: Sequence[_Row]) -> list[tuple[Question | None, list[_Row]]]:
    """Return the readings with the question that they lack most, those of one other cause together behind them."""
    groups: list[tuple[Question | None, list[_Row]]] = []
    left = {(row["sheet"], row["id"]): row for row in rows}
    for question in ask(rows):
        mine = [row for row in question.rows if (row["sheet"], row["id"]) in left]
        if mine:
            groups.append((question, mine))
            left = {key: row for key, row in left.items() if row not in mine}
    others: dict[str, list[_Row]] = {}
    for row in left.values():
        others.setdefault(_first_cause(row), []).append(row)
    return [*groups, *((None, group) for group in others.values())]


def _first_cause(row: _Row) -> str:
    found = (reason["code"] for reason in row["reasons"])
    held = (code for code in found if code not in codes() or codes()[code].holds)
    code = next(held, "")
    return codes()[code].meaning if code in codes() else code or "No reason is kept."


def _cause_of(question: Question | None, group: Sequence[_Row]) -> str:
    return f"{WANTED[question.field]}?".capitalize() if question is not None else _first_cause(group[0])


def _write_group(at: int, question: Question | None, group: Sequence[_Row], rows: Sequence[_Row]) -> str:
    cause = _cause_of(question, group)
    where = f" {group[0]['file']}, {write_list_place(group[0])}" if question is not None else ""
    head = f"{cause}{where} ({len(group)})"
    return f'<section data-cause="{write(cause)}" aria-labelledby="group-{at}">' + "\n".join(
        _write_parts(at, head, question, group, rows)
    ) + "</section>"


def _write_parts(
    at: int, head: str, question: Question | None, group: Sequence[_Row], rows: Sequence[_Row]
) -> Iterator[str]:
    yield f'<h2 id="group-{at}">{write(head)}</h2>'
    if question is not None and len(question.rows) > 1:
        yield write_form(question, rows)
    yield from (write_column_form(one, rows) for one in ask_columns(group))
    yield from (write_card(row) for row in group)
