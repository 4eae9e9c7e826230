"""The columns that hold a name as a person gives it: a device, a terminal, the size of a conductor."""

from __future__ import annotations

from typing import Any


def device_columns(label: str) -> dict[str, Any]:
    """Return the columns of a device by its name."""
    from torquary_schema.words import spot

    return {"device_printed": label, "family": next((match.concept for match in spot("family", label)), None)}


def terminal_columns(label: str) -> dict[str, Any]:
    """Return the columns of a terminal by its label."""
    from torquary_catalogue.store.rows import names_any_terminal
    from torquary_schema.roles import roles_of_label
    from torquary_schema.values import Terminal

    terminal = Terminal(printed=label, roles=roles_of_label(label))
    return {"terminal_printed": label, "roles": list(terminal.roles), "any_terminal": names_any_terminal(terminal)}


def conductor_columns(printed: str, unit: str = "") -> tuple[dict[str, Any], str]:
    """Return the columns of one size or range, printed with its unit or in `unit`; else none, and why."""
    from torquary_ingest.figures import read_conductor

    reading = read_conductor(printed, unit=unit)
    if reading.doubts or len(reading.conductors) != 1 or reading.conductors[0].system is None:
        return {}, reading.doubts[0].message if reading.doubts else "not one size or range with its unit"
    one = reading.conductors[0]
    return {
        "conductor_printed": " ".join(printed.split()),
        "system": one.system,
        "min_mm2": one.min_mm2,
        "max_mm2": one.max_mm2,
        "min_awg": one.min_awg,
        "max_awg": one.max_awg,
        "material": list(one.material),
        "stranding": list(one.stranding),
        "ferrule": one.ferrule,
        "conductor_count": one.count,
    }, ""
