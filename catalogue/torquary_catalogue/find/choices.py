"""What a question can go on with: choices to add to it, each with how many rows it has. Never with a figure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from torquary_catalogue.find.named_size import name_conductor
from torquary_catalogue.find.question import Question
from torquary_catalogue.find.row import Row
from torquary_catalogue.store import Catalogue
from torquary_schema.vocabulary import vocabulary

MOST = 8
"""Choices listed: more are no help on one screen."""

_LOADED = """
SELECT t.term, sum(c.settings)::BIGINT AS count
FROM sheet_count AS c JOIN sheet AS h ON h.number = c.sheet_number
JOIN asked_term AS t ON t.kind = 'family' AND t.key = c.name
WHERE h.state = 'read' AND c.kind = 'family' GROUP BY t.key, t.term ORDER BY count DESC, t.key"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One thing to add: `what` it is (device, terminal, conductor, sheet), its `name`, and its number of rows."""

    what: str
    name: str
    count: int


_ASPECTS: tuple[tuple[str, Callable[[Row], str]], ...] = (
    ("device", lambda row: row.device_printed or row.model or ""),
    ("terminal", lambda row: row.terminal_printed),
    ("conductor", name_conductor),
    ("sheet", lambda row: row.file),
)


def list_choices(rows: Sequence[Row]) -> tuple[Choice, ...]:
    """Return what tells the rows apart first: their devices, else terminals, else conductors, else sheets."""
    for what, name in _ASPECTS:
        counts = Counter(name(row) for row in rows if name(row))
        if len(counts) > 1 or (what == "terminal" and counts):
            return tuple(Choice(what=what, name=one, count=count) for one, count in counts.most_common())
    return ()


def list_loaded(catalogue: Catalogue) -> tuple[Choice, ...]:
    """Return the kinds of device that sheets in force have, with their rows."""
    return tuple(
        Choice(what="kind of device", name=row["term"], count=row["count"]) for row in catalogue.rows(_LOADED)
    )


def names_device(question: Question, strange: Sequence[str]) -> bool:
    """Tell whether the question names a device by its type, so that none of the strange words can."""
    printed = (question.words or "").split()
    return any(map(_is_type, printed)) and not any(map(_is_type, strange))


def names_terminal(question: Question, rows: Sequence[Row]) -> bool:
    """Tell whether the question names the terminal of these rows, by a known word or one of their labels."""
    if question.terminal is not None or question.part is not None:
        return True
    words = set((question.words or "").split())
    return bool(rows) and all(words & set(row.terminal_printed.lower().split()) for row in rows)


def _is_type(word: str) -> bool:
    return any(sign.isdigit() for sign in word) and any(sign.isalpha() for sign in word)


def name_part(part: str) -> str:
    """Return what people call a part."""
    return {"pulse_output": "pulse output"}.get(part, part)


def name_kind(family: str) -> str:
    """Return what people call a kind of device."""
    known = vocabulary("family")
    return known[family].term if family in known else family.replace("_", " ")
