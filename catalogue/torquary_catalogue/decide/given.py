"""What a person types as right: a torque, a device, the label of a terminal, the size of a conductor."""

from __future__ import annotations

from typing import Any

from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.find.row import Figures


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


def read_typed_names(device: str | None, terminal: str | None, conductor: str | None) -> dict[str, Any]:
    """Return the columns of table name_given for a typed device, terminal and conductor; empty when none is given.

    Raises `TorquaryError` (status 2) for a blank device or terminal, or a conductor that is not one size or range.
    """
    if device is terminal is conductor is None:
        return {}
    made: dict[str, Any] = {"material": [], "stranding": []}
    if device is not None:
        made |= _read_device(device)
    if terminal is not None:
        made |= _read_terminal(terminal)
    if conductor is not None:
        made |= _read_conductor(conductor)
    return made


def _read_label(text: str, option: str) -> str:
    label = " ".join(text.split())
    if not label:
        raise TorquaryError(f"--{option} is blank: write it as it is printed", status=WRONG_USE)
    return label


def _read_device(text: str) -> dict[str, Any]:
    from torquary_schema.words import spot

    label = _read_label(text, "device")
    family = next((match.concept for match in spot("family", label)), None)
    return {"device_printed": label, "family": family}


def _read_terminal(text: str) -> dict[str, Any]:
    from torquary_catalogue.store.rows import names_any_terminal
    from torquary_schema.roles import roles_of_label
    from torquary_schema.values import Terminal

    label = _read_label(text, "terminal")
    terminal = Terminal(printed=label, roles=roles_of_label(label))
    return {"terminal_printed": label, "roles": list(terminal.roles), "any_terminal": names_any_terminal(terminal)}


def _read_conductor(text: str) -> dict[str, Any]:
    from torquary_ingest.figures import read_conductor

    reading = read_conductor(text)
    if reading.doubts or len(reading.conductors) != 1 or reading.conductors[0].system is None:
        why = reading.doubts[0].message if reading.doubts else "not one size or range with its unit"
        message = f"--conductor {text!r} cannot be taken ({why}): write it like 1.5–6 mm² or 14–10 AWG"
        raise TorquaryError(message, status=WRONG_USE)
    one = reading.conductors[0]
    return {
        "conductor_printed": " ".join(text.split()),
        "system": one.system,
        "min_mm2": one.min_mm2,
        "max_mm2": one.max_mm2,
        "min_awg": one.min_awg,
        "max_awg": one.max_awg,
        "material": list(one.material),
        "stranding": list(one.stranding),
        "ferrule": one.ferrule,
        "conductor_count": one.count,
    }
