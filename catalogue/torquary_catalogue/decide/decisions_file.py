"""A file of decisions, as the page of held readings saves it."""

from __future__ import annotations

from pathlib import Path

from torquary_catalogue.decide.decision import Wish
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_schema.forms import FormWrong, read_form

LARGEST_BYTES = 4 * 1024 * 1024


def read_decisions(path: Path) -> tuple[Wish, ...]:
    """Return the decisions in a file (`decisions.schema.json`); `TorquaryError` (status 2) says where it is wrong."""
    from torquary_schema.validation import check_decisions

    try:
        record = read_form(path, largest=LARGEST_BYTES, kind="a file of decisions")
    except FormWrong as wrong:
        raise TorquaryError(wrong.message, status=WRONG_USE) from None
    fault = check_decisions(record)
    if fault:
        raise TorquaryError(f"{path}: {fault}", status=WRONG_USE)
    return tuple(
        Wish(
            setting=one["id"],
            verdict=one["verdict"],
            who=record["who"],
            why=one.get("why") or record["why"],
            torque=one.get("torque"),
            device=one.get("device"),
            terminal=one.get("terminal"),
            conductor=one.get("conductor"),
            printed=one.get("printed"),
        )
        for one in record["decisions"]
    )
