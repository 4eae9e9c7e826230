"""An answer kept as a layout profile: what a heading means, for the maker's next sheet."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from torquary_catalogue.decide.answer import Answered
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.answers import Given

_OTHER_HALF = re.compile(r"page \d+: ")
"""How the headings of the other half of a table begin that the edge of a page cut in two."""
_FIND = """
SELECT h.file, h.maker, s.scope, list_concat(f.makers, f.head) AS lines
FROM setting AS s JOIN sheet AS h ON h.digest = s.sheet LEFT JOIN sheet_face AS f ON f.sheet = s.sheet
WHERE s.sheet = $sheet AND s.id = $id"""


def check_kept(given: Given) -> None:
    """Refuse to keep an answer that says of no heading what it means; `TorquaryError` (status 2)."""
    headings = [one for one in (given.device_from, given.terminal_from) if one]
    if not headings and not given.unit:
        message = "--profile keeps what a heading means: give --device-from, --terminal-from or --unit"
        raise TorquaryError(message, status=WRONG_USE)
    if any(_OTHER_HALF.match(one) for one in headings):
        message = "--profile cannot keep a column of another page: answer without it"
        raise TorquaryError(message, status=WRONG_USE)


def write_profile(catalogue: Catalogue, done: Answered, given: Given, file: Path) -> None:
    """Write what an answer says of headings as a profile of the sheet's maker.

    Raises `TorquaryError` (status 2): the maker or the torque's heading is not known, or the file cannot be written.
    """
    (row,) = catalogue.rows(_FIND, {"sheet": done.sheet, "id": done.id})
    maker = row["maker"] or _propose_maker(row["lines"] or ())
    if not maker:
        message = f"{row['file']}: no maker is known: say it with torquary sheet … --maker"
        raise TorquaryError(message, status=WRONG_USE)
    profile = {
        "torquary_profile": 1, "made_from": row["file"], "maker": maker, "headings": _headings(row, given)
    }  # fmt: skip
    try:
        with file.open("x", encoding="utf-8") as target:
            json.dump(profile, target, indent=1, ensure_ascii=False)
    except OSError as error:
        message = f"{file} cannot be written ({error.strerror}): name another file"
        raise TorquaryError(message, status=WRONG_USE) from None


def _propose_maker(lines: Iterable[str]) -> str:
    """Return the name that stands at the head of the sheet; "" for none."""
    from torquary_ingest.profiles.names import propose_name

    return next((name for line in lines if (name := propose_name(line))), "")


def _headings(row: dict[str, Any], given: Given) -> list[dict[str, str]]:
    headings = [
        {"printed": heading, "means": means, "unit": ""}
        for heading, means in ((given.device_from, "device"), (given.terminal_from, "terminal"))
        if heading
    ]
    if given.unit:
        torque = next((one["text"] for one in row["scope"] or () if one["kind"] == "heading"), None)
        if torque is None:
            raise TorquaryError(f"{row['file']}: the torque stands under no heading to keep", status=WRONG_USE)
        headings.append({"printed": torque, "means": "torque", "unit": given.unit})
    return headings
