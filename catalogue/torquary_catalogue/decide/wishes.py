"""What a person asks for by words and options, or by an item of a file, as a wish."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from torquary_catalogue.decide.answer import AnswerWish
from torquary_catalogue.decide.decision import VERDICTS, Wish
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.store.answers import Given

ANSWER = "answer"
DEEDS = (*VERDICTS, ANSWER)
_OF_ANSWERS = tuple(name for name in Given.__slots__ if name != "rejects")
_OF_CORRECTIONS = ("torque", "device", "terminal", "conductor", "drive", "purpose", "conditions")


def make_wish(verdict: str, parts: Mapping[str, Any]) -> Wish | AnswerWish:
    """Return the wish that `verdict` and its parts mean: `setting`, `who`, `why` and what is given.

    An answer, and a rejection that names its reach, are for many readings. Raises `TorquaryError` (status 2) for a
    part that the verdict does not take.
    """
    given = {name: value for name, value in parts.items() if value not in (None, "", False, ())}
    common = {name: given.pop(name, "") for name in ("setting", "who", "why")}
    common["printed"] = parts.get("printed")
    given.pop("printed", None)
    if verdict == ANSWER or (verdict == "reject" and "reach" in given):
        reach = given.pop("reach", "column" if "no_torque" in given else "list")
        _refuse_others(common["setting"], verdict, given, _OF_ANSWERS if verdict == ANSWER else ())
        given["as_read"] = tuple(given.get("as_read", ()))
        return AnswerWish(given=Given(**given, rejects=verdict == "reject"), reach=reach, **common)
    _refuse_others(common["setting"], verdict, given, _OF_CORRECTIONS)
    chosen = next(one for one in VERDICTS if one == verdict)
    if "conditions" in given:
        given["conditions"] = tuple(given["conditions"])
    return Wish(verdict=chosen, **given, **common)


def _refuse_others(setting: str, verdict: str, given: Mapping[str, Any], taken: tuple[str, ...]) -> None:
    strange = [name for name in given if name not in taken]
    if strange:
        options = ", ".join(f"--{name.replace('_', '-')}" for name in strange)
        raise TorquaryError(f"{setting}: {verdict} takes no {options}: leave it out", status=WRONG_USE)
