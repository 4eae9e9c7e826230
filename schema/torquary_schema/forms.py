"""Files that a person fills in: JSON, read whole or refused in one line."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any


class FormWrong(Exception):  # noqa: N818  (a fact, not a fault of ours)
    """A form cannot be used. `message` is one line: which file, where in it, what to do."""

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message


def read_form(path: Path, *, largest: int, kind: str) -> Any:
    """Return what a JSON file of at most `largest` bytes holds, a field twice in one item being a fault.

    `kind` is what messages call it ("the profile"). Raises `FormWrong`.
    """
    try:
        with path.open("rb") as file:
            raw = file.read(largest + 1)
    except OSError as error:
        why = error.strerror or str(error)
        raise FormWrong(f"{path}: {kind} cannot be opened ({why}): check its name and rights") from None
    if len(raw) > largest:
        raise FormWrong(f"{path}: is larger than {kind} may be ({largest // 1024**2} MB): name the right file")
    try:
        return json.loads(raw.decode("utf-8-sig"), object_pairs_hook=_take_once, parse_constant=_no_number)
    except UnicodeDecodeError:
        raise FormWrong(f"{path}: is not UTF-8 text; save it again with the encoding UTF-8") from None
    except json.JSONDecodeError as error:
        raise FormWrong(
            f"{path}: line {error.lineno}, column {error.colno}: {error.msg}; JSON wants plain quotes and a comma "
            "between the items, none behind the last"
        ) from None
    except (RecursionError, ValueError) as error:
        raise FormWrong(f"{path}: {str(error)[:120] or 'is not JSON'}; take it out of the file") from None


def _take_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    names = [name for name, _ in pairs]
    double = next((name for name in names if names.count(name) > 1), None)
    if double is not None:
        raise ValueError(f"the field {double[:60]!r} stands twice in one item")
    return dict(pairs)


def _no_number(text: str) -> Any:
    raise ValueError(f"{text} is no number")
