"""Between the values of a record and the rows of the tables."""

from __future__ import annotations

from typing import Any

from torquary_catalogue.decimals import shorten
from torquary_schema.values import (
    Beside,
    Box,
    Conductor,
    Device,
    Drive,
    Evidence,
    Finding,
    Missing,
    Place,
    ScopeText,
    Setting,
    SheetReport,
    Terminal,
    Torque,
)

_PLACE: dict[str, Any] = {
    "page": "INTEGER",
    "table_number": "INTEGER",
    "row_number": "INTEGER",
    "column_number": "INTEGER",
    "box": ["DOUBLE"],
    "place_text": "VARCHAR",
}
_TEXTS = """
sheet id state purpose device_printed maker family series model rated_current terminal_printed clamp
thread conductor_printed system min_awg max_awg torque_printed unit_printed
"""
_FIGURES = ("min_nm", "nominal_nm", "max_nm", "limit_nm")
_DECIMALS = ("min_mm2", "max_mm2", *_FIGURES, *(f"read_{name}" for name in _FIGURES))

SETTING_TYPES: dict[str, Any] = {
    "number": "INTEGER",
    **dict.fromkeys(_TEXTS.split(), "VARCHAR"),
    **dict.fromkeys(_DECIMALS, "DECIMAL(38,24)"),
    "roles": ["VARCHAR"],
    "any_terminal": "BOOLEAN",
    "drive": [{"kind": "VARCHAR", "size": "VARCHAR"}],
    "evidence": [{"field": "VARCHAR", "printed": "VARCHAR", "page": "INTEGER"}],
    "missing": [{"field": "VARCHAR", "looked": "VARCHAR"}],
    "scope": [{"kind": "VARCHAR", "text": "VARCHAR", "page": "INTEGER"}],
    "conditions": ["VARCHAR"],
    "beside": [{"heading": "VARCHAR", "text": "VARCHAR"}],
    "material": ["VARCHAR"],
    "stranding": ["VARCHAR"],
    "ferrule": "BOOLEAN",
    "conductor_count": "INTEGER",
    **_PLACE,
}
"""Types of a setting row for DuckDB's from_json."""

FINDING_TYPES: dict[str, Any] = {
    **dict.fromkeys(("sheet", "setting", "code", "scope", "message", "printed", "other"), "VARCHAR"),
    "number": "INTEGER",
    **_PLACE,
}
"""Types of a finding row for DuckDB's from_json."""


def setting_row(report: SheetReport, setting: Setting, number: int) -> dict[str, Any]:
    """Return the row of one setting; a figure goes into the released columns only if it is released."""
    torque, conductor = setting.torque, setting.conductor
    read = {name: getattr(torque, name) if torque else None for name in _FIGURES}
    shown = read if setting.state == "released" else dict.fromkeys(_FIGURES)
    return {
        "sheet": report.digest,
        "number": number,
        "id": setting.id,
        "state": setting.state,
        "purpose": setting.purpose,
        **_device_columns(setting.device),
        **_terminal_columns(setting.terminal),
        "conductor_printed": conductor.printed,
        "system": conductor.system,
        "min_mm2": conductor.min_mm2,
        "max_mm2": conductor.max_mm2,
        "min_awg": conductor.min_awg,
        "max_awg": conductor.max_awg,
        "material": conductor.material,
        "stranding": conductor.stranding,
        "ferrule": conductor.ferrule,
        "conductor_count": conductor.count,
        "torque_printed": torque.printed if torque else None,
        "unit_printed": torque.unit_printed if torque else None,
        **shown,
        **{f"read_{name}": figure for name, figure in read.items()},
        **place_columns(setting.place),
        "evidence": [_columns(one) for one in setting.evidence],
        "missing": [_columns(one) for one in setting.missing],
        "scope": [_columns(one) for one in setting.scope],
        "conditions": setting.conditions,
        "beside": [_columns(one) for one in setting.beside],
    }


def _columns(value: Evidence | Missing | ScopeText | Beside) -> dict[str, Any]:
    """Return the parts of a value that holds no others; `asdict` copies each, ten times slower."""
    return {name: getattr(value, name) for name in value.__slots__}


def _device_columns(device: Device) -> dict[str, Any]:
    return {
        "device_printed": device.printed,
        "maker": device.maker,
        "family": device.family,
        "series": device.series,
        "model": device.model,
        "rated_current": device.rated_current,
    }


def _terminal_columns(terminal: Terminal) -> dict[str, Any]:
    return {
        "terminal_printed": terminal.printed,
        "roles": terminal.roles,
        "any_terminal": names_any_terminal(terminal),
        "clamp": terminal.clamp,
        "thread": terminal.thread,
        "drive": [{"kind": drive.kind, "size": drive.size} for drive in terminal.drive],
    }


def names_any_terminal(terminal: Terminal) -> bool:
    """Tell whether the sheet names no terminal in particular: no role, and no label but a word for all of them."""
    from torquary_schema.roles import names_any_terminal as means_any

    return not terminal.roles and means_any(terminal.printed)


def place_columns(place: Place | None) -> dict[str, Any]:
    """Return the columns of a place; all None without one."""
    if place is None:
        return dict.fromkeys(_PLACE)
    box = place.box
    return {
        "page": place.page,
        "table_number": place.table,
        "row_number": place.row,
        "column_number": place.column,
        "box": [box.x0, box.top, box.x1, box.bottom] if box else None,
        "place_text": place.text,
    }


def finding_row(
    sheet: str, setting: str | None, finding: Finding, number: int, other: str | None = None
) -> dict[str, Any]:
    """Return the row of one finding of a sheet (its digest); `setting` is the id of the setting it belongs to.

    `other` is the digest of the other sheet that it is about.
    """
    return {
        "sheet": sheet,
        "setting": setting,
        "number": number,
        "code": finding.code,
        "scope": finding.scope,
        "message": finding.message,
        "printed": finding.printed,
        "other": other,
        **place_columns(finding.place),
    }


def read_place(row: dict[str, Any]) -> Place:
    """Return the place that the columns of a row hold."""
    box = row["box"]
    return Place(
        page=row["page"],
        table=row["table_number"],
        row=row["row_number"],
        column=row["column_number"],
        box=Box(x0=box[0], top=box[1], x1=box[2], bottom=box[3]) if box else None,
        text=row["place_text"] or "",
    )


def read_finding(row: dict[str, Any]) -> Finding:
    """Return the finding of a row."""
    return Finding(
        code=row["code"],
        message=row["message"],
        scope=row["scope"],
        place=None if row["place_text"] is None else read_place(row),
        printed=row["printed"],
    )


def read_setting(row: dict[str, Any], findings: tuple[Finding, ...]) -> Setting:
    """Return the record of a row. A released one has its released figures (a correction, if there is one)."""
    return Setting(
        id=row["id"],
        state=row["state"],
        purpose=row["purpose"],
        device=Device(
            printed=row["device_printed"],
            maker=row["maker"],
            family=row["family"],
            series=row["series"],
            model=row["model"],
            rated_current=row["rated_current"],
        ),
        terminal=Terminal(
            printed=row["terminal_printed"],
            roles=tuple(row["roles"]),
            clamp=row["clamp"],
            thread=row["thread"],
            drive=tuple(Drive(kind=drive["kind"], size=drive["size"]) for drive in row["drive"]),
        ),
        conductor=_read_conductor(row),
        torque=_read_torque(row),
        place=read_place(row),
        findings=findings,
        evidence=tuple(Evidence(**one) for one in row["evidence"]),
        missing=tuple(Missing(**one) for one in row["missing"]),
        scope=tuple(ScopeText(**one) for one in row["scope"] or ()),
        conditions=tuple(row["conditions"] or ()),
        beside=tuple(Beside(**one) for one in row["beside"] or ()),
    )


def _read_conductor(row: dict[str, Any]) -> Conductor:
    return Conductor(
        printed=row["conductor_printed"],
        system=row["system"],
        min_mm2=shorten(row["min_mm2"]),
        max_mm2=shorten(row["max_mm2"]),
        min_awg=row["min_awg"],
        max_awg=row["max_awg"],
        material=tuple(row["material"]),
        stranding=tuple(row["stranding"]),
        ferrule=row["ferrule"],
        count=row["conductor_count"],
    )


def _read_torque(row: dict[str, Any]) -> Torque | None:
    which = "" if row["state"] == "released" else "read_"
    figures = {name: shorten(row[f"{which}{name}"]) for name in _FIGURES}
    if row["torque_printed"] is None and not any(figure is not None for figure in figures.values()):
        return None
    return Torque(
        printed=row["torque_printed"] or "",
        unit_printed=row["unit_printed"] or "",
        **figures,
    )
