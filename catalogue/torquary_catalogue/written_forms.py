"""Forms that are written in files (JSON): read whole and checked against their schema, or refused in one line."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_schema.forms import FormWrong, line_of, read_form

if TYPE_CHECKING:
    from torquary_schema.validation import FormName

_MB = 1024 * 1024
_KINDS: dict[FormName, tuple[str, int]] = {
    "decisions": ("a file of decisions", 4 * _MB),
    "driver": ("the file of a driver", _MB),
    "list_profile": ("a profile of board lists", _MB),
    "plan": ("a plan", 64 * _MB),
    "work_record": ("a record", 16 * _MB),
}
"""Form → what messages call it, and its bytes at most."""


def read_written(path: Path, name: FormName) -> Any:
    """Return a form as it is written in a file, numbers that are not whole as `Decimal`.

    Raises `TorquaryError` (status 2) that names the file, and the line and part that do not fit.
    """
    from torquary_schema.validation import find_form_fault

    kind, largest = _KINDS[name]
    try:
        form = read_form(path, largest=largest, kind=kind)
    except FormWrong as wrong:
        raise TorquaryError(wrong.message, status=WRONG_USE) from None
    fault = find_form_fault(name, form)
    if fault is not None:
        raise wrong_at(path, fault.path, fault.message)
    return form


def wrong_at(path: Path, place: Sequence[str | int], message: str) -> TorquaryError:
    """Return the error for a part of a form (`place` as for `line_of`) that is wrong in itself."""
    return TorquaryError(f"{path}, line {line_of(path, place)}: {message}", status=WRONG_USE)
