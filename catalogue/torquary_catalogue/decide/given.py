"""What a person types as right: a torque, a device, the label of a terminal, the size of a conductor, and the like."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Literal

from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.find.row import Figures
from torquary_catalogue.store.name_columns import conductor_columns, device_columns, terminal_columns
from torquary_schema.vocabulary import vocabulary


def read_typed_torque(text: str) -> Figures:
    """Read a typed torque with its unit, an upper bound alone as a limit.

    Raises `TorquaryError` (status 2) unless it means exactly one thing.
    """
    from torquary_ingest.figures import read_torque
    from torquary_ingest.figures.limits import as_limit

    reading = read_torque(text)
    if reading.doubts or len(reading.figures) != 1 or reading.figures[0].condition:
        why = reading.doubts[0].message if reading.doubts else "not one figure with its unit"
        raise TorquaryError(f"--torque {text!r} cannot be taken ({why}): write it like 2.5 Nm", status=WRONG_USE)
    torque = as_limit(reading.figures[0]).torque
    if reading.figures[0].conductor is not None:
        raise TorquaryError(f"--torque {text!r} holds a conductor size: write the torque alone", status=WRONG_USE)
    return torque.min_nm, torque.nominal_nm, torque.max_nm, torque.limit_nm


def read_typed_names(
    device: str | None = None,
    terminal: str | None = None,
    conductor: str | None = None,
    drive: str | None = None,
    purpose: str | None = None,
    conditions: Sequence[str] | None = None,
) -> dict[str, Any]:
    """Return the columns of table name_given for what is typed; empty when nothing is given.

    Raises `TorquaryError` (status 2) for a blank device or terminal, a conductor that is not one size or range, a
    driver bit, purpose or condition that is not known. A dash is no bit, or no condition.
    """
    read: tuple[tuple[Any, Callable[[Any], dict[str, Any]]], ...] = (
        (device, _read_device), (terminal, _read_terminal), (conductor, _read_conductor), (drive, _read_drive),
        (purpose, _read_purpose), (conditions, _read_conditions),
    )  # fmt: skip
    made: dict[str, Any] = {}
    for text, take in read:
        if text is not None:
            made = {"material": [], "stranding": [], **made, **take(text)}
    return made


_NONE = ("-", "–", "—")


def _read_drive(text: str) -> dict[str, Any]:
    from torquary_ingest.figures.drives import read_drive

    found = () if text.strip() in _NONE else read_drive(text, heading="bit")
    if not found and text.strip() not in _NONE:
        raise TorquaryError(f"--drive {text!r} is no driver bit that is known: write it like PZ 2", status=WRONG_USE)
    return {"drive": [{"kind": one.kind, "size": one.size} for one in found]}


def _read_purpose(text: str) -> dict[str, Any]:
    return {"purpose": _take_key("purpose", text, "--purpose")}


def _read_conditions(keys: Sequence[str]) -> dict[str, Any]:
    given = [key for key in keys if key not in _NONE]
    return {"conditions": [_take_key("condition", key, "--condition") for key in given]}


def _take_key(name: Literal["purpose", "condition"], text: str, option: str) -> str:
    known = vocabulary(name)
    if text not in known:
        raise TorquaryError(f"{option} {text!r} is none of {', '.join(known)}", status=WRONG_USE)
    return text


def _read_label(text: str, option: str) -> str:
    label = " ".join(text.split())
    if not label:
        raise TorquaryError(f"--{option} is blank: write it as it is printed", status=WRONG_USE)
    return label


def _read_device(text: str) -> dict[str, Any]:
    return device_columns(_read_label(text, "device"))


def _read_terminal(text: str) -> dict[str, Any]:
    return terminal_columns(_read_label(text, "terminal"))


def _read_conductor(text: str) -> dict[str, Any]:
    columns, why = conductor_columns(text)
    if why:
        message = f"--conductor {text!r} cannot be taken ({why}): write it like 1.5–6 mm² or 14–10 AWG"
        raise TorquaryError(message, status=WRONG_USE)
    return columns
