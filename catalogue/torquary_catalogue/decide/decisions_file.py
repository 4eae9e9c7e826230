"""A file of decisions, as the page of held readings saves it."""

from __future__ import annotations

from pathlib import Path

from torquary_catalogue.decide.answer import Answered, AnswerWish
from torquary_catalogue.decide.decision import Decided, Wish, WishWrong, decide
from torquary_catalogue.decide.wishes import make_wish
from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.store import Catalogue
from torquary_catalogue.written_forms import read_written, wrong_at


def carry_out_file(catalogue: Catalogue, path: Path) -> tuple[Decided | Answered, ...]:
    """Carry out the decisions in a file (`decisions.schema.json`), all or none.

    Raises `TorquaryError` (status 2) that names the line of the file that is at fault.
    """
    try:
        return decide(catalogue, read_decisions(path))
    except WishWrong as wrong:
        raise wrong_at(path, ("decisions", wrong.at), wrong.message) from None


def read_decisions(path: Path) -> tuple[Wish | AnswerWish, ...]:
    """Return the decisions in a file; `TorquaryError` (status 2) says in which line it is wrong."""
    record = read_written(path, "decisions")
    wishes = []
    for at, one in enumerate(record["decisions"]):
        parts = {**one, "setting": one["id"], "who": record["who"], "why": one.get("why") or record["why"]}
        verdict = parts.pop("verdict")
        del parts["id"]
        try:
            wishes.append(make_wish(verdict, parts))
        except TorquaryError as wrong:
            raise wrong_at(path, ("decisions", at), wrong.message) from None
    return tuple(wishes)
