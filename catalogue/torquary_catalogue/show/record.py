"""An answer as a mapping for --json."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from torquary_catalogue.find import Answer, Row
from torquary_catalogue.find.answer import CAUTIONS
from torquary_catalogue.find.query import write_query
from torquary_catalogue.find.remarks import not_stated

ANSWER_VERSION = 1
"""Number of the form of an answer (`answer.schema.json`); README says what may change within it."""


def answer_to_dict(answer: Answer) -> dict[str, Any]:
    """Return the answer with its rows; torques in N·m, areas in mm², both Decimal."""
    return {
        "torquary_answer": ANSWER_VERSION,
        "answer": answer.kind,
        "question": answer.question.parts(),
        "query": write_query(answer.question),
        "rows": [row_to_dict(row) | {"not_stated": list(not_stated(answer.question, row))} for row in answer.rows],
        "held": [row_to_dict(row) for row in answer.held],
        "differences": [asdict(difference) for difference in answer.differences],
        "correspondence": answer.correspondence,
        "said_first": list(answer.said_first),
        "notes": list(answer.notes),
        "not_understood": list(answer.not_understood),
        "offers": [asdict(offer) for offer in answer.offers],
        "choices": [asdict(choice) for choice in answer.choices],
        "look_at": [asdict(place) for place in answer.look_at],
        "cautions": list(CAUTIONS),
    }


def row_to_dict(row: Row) -> dict[str, Any]:
    """Return one row under the names of the catalogue's columns."""
    columns = asdict(row)
    columns["drive"] = [{"kind": kind, "size": size} for kind, size in row.drive]
    columns["findings"] = [{"code": code, "message": message} for code, message in row.findings]
    columns["decided_at"] = row.decided_at.isoformat() if row.decided_at else None
    return columns
