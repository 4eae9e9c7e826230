"""A question as SQL, and the rows it gets."""

from __future__ import annotations

from typing import Any

from torquary_catalogue.find.question import Question
from torquary_catalogue.find.row import Row, read_row
from torquary_catalogue.store import Catalogue


def write_query(question: Question, **more: str) -> str:
    """Return the question as SQL that any DuckDB client can put to the catalogue; `more` are further arguments."""
    parts = {**question.parts(), **more}
    return f"FROM find_setting({', '.join(f'{name} := {_literal(value)}' for name, value in parts.items())})"


def ask(catalogue: Catalogue, question: Question, **more: str) -> tuple[Row, ...]:
    """Return the rows that bear on the question, in the order of the macro find_setting."""
    return tuple(read_row(columns) for columns in catalogue.rows(write_query(question, **more)))


def _literal(value: Any) -> str:
    if isinstance(value, tuple):
        return f"[{', '.join(map(_literal, value))}]"
    if isinstance(value, bool):
        return "true" if value else "false"
    return f"{value:f}" if not isinstance(value, str | int) else _quote(value)


def _quote(value: str | int) -> str:
    return str(value) if isinstance(value, int) else "'" + value.replace("'", "''") + "'"
