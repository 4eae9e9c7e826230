"""A question as SQL, and the rows it gets."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from torquary_catalogue.find.question import Question
from torquary_catalogue.find.row import COLUMNS, Row, read_row
from torquary_catalogue.store import Catalogue

MOST_BESIDE = 10_000
"""Settings that are looked through for a question beside the one asked; more take longer than a person waits for
what is only a hint (about a tenth of a second on one core)."""

SETTING_PARTS = (
    "words", "family", "maker", "series", "terminal", "roles", "or_roles", "part", "mm2", "awg", "conductors", "amps",
    "curve", "material", "stranding", "ferrule", "purpose", "state",
)  # fmt: skip
"""Arguments of the macro find_setting."""

_REACH = """
SELECT coalesce(sum(c.settings), 0)::BIGINT AS settings
FROM sheet_count AS c JOIN sheet AS h ON h.number = c.sheet_number
WHERE h.state = 'read' AND c.kind = 'sheet' AND (len($words) = 0 OR c.sheet_number IN (
    SELECT w.sheet_number FROM sheet_word AS w WHERE w.word IN (SELECT unnest($words::VARCHAR[]))
    GROUP BY w.sheet_number HAVING count(*) = len($words)))"""


def write_query(question: Question, **more: str) -> str:
    """Return the question as SQL that any DuckDB client can put to the catalogue; `more` are further arguments."""
    return _write_parts({**question.parts(), **more})


def _write_parts(parts: Mapping[str, Any]) -> str:
    return f"FROM find_setting({', '.join(f'{name} := {_literal(value)}' for name, value in parts.items())})"


def ask(catalogue: Catalogue, question: Question, **more: str) -> tuple[Row, ...]:
    """Return the rows that bear on the question, in the order of the macro find_setting."""
    parts = {**question.parts(), **more}
    query = f"SELECT {', '.join(COLUMNS)} {_write_parts(parts)}"
    return tuple(map(read_row, catalogue.find_settings(query, parts)))


def count_reach(catalogue: Catalogue, question: Question) -> int:
    """Return how many settings the sheets have that the question looks into, told from counts."""
    return count_reach_of(catalogue, question.words, question.family)


def count_reach_of(catalogue: Catalogue, words: str | None, family: str | None) -> int:
    """Return how many settings the sheets have that print these words and have this family."""
    asked = dict.fromkeys([*(words or "").split(), *(family or "").split()])
    return int(catalogue.rows(_REACH, {"words": list(asked)})[0]["settings"])


def _literal(value: Any) -> str:
    if isinstance(value, tuple):
        return f"[{', '.join(map(_literal, value))}]"
    if isinstance(value, bool):
        return "true" if value else "false"
    return f"{value:f}" if not isinstance(value, str | int) else _quote(value)


def _quote(value: str | int) -> str:
    return str(value) if isinstance(value, int) else "'" + value.replace("'", "''") + "'"
