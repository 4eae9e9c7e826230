"""Records as plain mappings for JSON, and back. Numbers keep their printed digits (`Decimal`).

The shapes are those of `setting.schema.json` and `report.schema.json`. A record made into a mapping and
back is equal to itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any

import simplejson

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

__all__ = [
    "dump_json",
    "load_json",
    "report_from_dict",
    "report_to_dict",
    "reports_to_dict",
    "setting_from_dict",
    "setting_to_dict",
]

_DEVICE = ("printed", "maker", "family", "series", "model", "rated_current")
_CONDUCTOR = ("printed", "system", "min_mm2", "max_mm2", "min_awg", "max_awg", "ferrule", "count")
_TORQUE = ("printed", "unit_printed", "min_nm", "nominal_nm", "max_nm", "limit_nm")
_EVIDENCE = ("field", "printed", "page")
_MISSING = ("field", "looked")
_SCOPE = ("kind", "text", "page")
_BESIDE = ("heading", "text")
_PLACE = ("page", "table", "row", "column", "text")
_SHEET = (
    "file", "digest", "state", "title", "product", "maker", "document_number", "edition", "edition_date", "pages",
)  # fmt: skip


def setting_to_dict(setting: Setting) -> dict[str, Any]:
    """Return the record as a mapping that fits `setting.schema.json` (N·m and mm² as Decimal)."""
    terminal, conductor = setting.terminal, setting.conductor
    return {
        "id": setting.id,
        "state": setting.state,
        "purpose": setting.purpose,
        "device": {name: getattr(setting.device, name) for name in _DEVICE},
        "terminal": {
            "printed": terminal.printed,
            "roles": list(terminal.roles),
            "clamp": terminal.clamp,
            "thread": terminal.thread,
            "drive": [{"kind": drive.kind, "size": drive.size} for drive in terminal.drive],
        },
        "conductor": {name: getattr(conductor, name) for name in _CONDUCTOR}
        | {"material": list(conductor.material), "stranding": list(conductor.stranding)},
        "torque": setting.torque and {name: getattr(setting.torque, name) for name in _TORQUE},
        "place": _place_to_dict(setting.place),
        "findings": [_finding_to_dict(finding) for finding in setting.findings],
        "evidence": [{name: getattr(one, name) for name in _EVIDENCE} for one in setting.evidence],
        "missing": [{name: getattr(one, name) for name in _MISSING} for one in setting.missing],
        "scope": [{name: getattr(one, name) for name in _SCOPE} for one in setting.scope],
        "conditions": list(setting.conditions),
        "beside": [{name: getattr(one, name) for name in _BESIDE} for one in setting.beside],
    }


def setting_from_dict(record: Mapping[str, Any]) -> Setting:
    """Read a mapping that fits `setting.schema.json`; KeyError or TypeError when it does not."""
    terminal, conductor, torque = record["terminal"], record["conductor"], record["torque"]
    return Setting(
        id=record["id"],
        state=record["state"],
        purpose=record["purpose"],
        device=Device(**_picked(record["device"], _DEVICE)),
        terminal=Terminal(
            **_picked(terminal, ("printed", "clamp", "thread")),
            roles=tuple(terminal["roles"]),
            drive=tuple(Drive(kind=drive["kind"], size=drive["size"]) for drive in terminal["drive"]),
        ),
        conductor=Conductor(
            **_picked(conductor, ("printed", "system", "min_awg", "max_awg", "ferrule", "count")),
            min_mm2=_decimal(conductor["min_mm2"]),
            max_mm2=_decimal(conductor["max_mm2"]),
            material=tuple(conductor["material"]),
            stranding=tuple(conductor["stranding"]),
        ),
        torque=None if torque is None else _torque_from_dict(torque),
        place=_place_from_dict(record["place"]),
        findings=tuple(_finding_from_dict(finding) for finding in record["findings"]),
        evidence=tuple(Evidence(**_picked(one, _EVIDENCE)) for one in record["evidence"]),
        missing=tuple(Missing(**_picked(one, _MISSING)) for one in record["missing"]),
        scope=tuple(ScopeText(**_picked(one, _SCOPE)) for one in record["scope"]),
        conditions=tuple(record["conditions"]),
        beside=tuple(Beside(**_picked(one, _BESIDE)) for one in record["beside"]),
    )


def report_to_dict(report: SheetReport) -> dict[str, Any]:
    """Return one sheet's report as a mapping: an item of `sheets` in `report.schema.json`."""
    return {name: getattr(report, name) for name in _SHEET} | {
        "profiles": list(report.profiles),
        "settings": [setting_to_dict(setting) for setting in report.settings],
        "findings": [_finding_to_dict(finding) for finding in report.findings],
    }


def report_from_dict(record: Mapping[str, Any]) -> SheetReport:
    """Read one sheet's report; KeyError or TypeError when the mapping does not fit the schema."""
    return SheetReport(
        **_picked(record, _SHEET),
        settings=tuple(setting_from_dict(setting) for setting in record["settings"]),
        findings=tuple(_finding_from_dict(finding) for finding in record["findings"]),
        profiles=tuple(record["profiles"]),
    )


def reports_to_dict(reports: Iterable[SheetReport]) -> dict[str, Any]:
    """Return what `read --json` prints: the reports of all sheets, in the order given."""
    return {"sheets": [report_to_dict(report) for report in reports]}


def dump_json(obj: object, *, indent: int | None = 2) -> str:
    """Write JSON text: Decimals with their digits, keys in the order given, letters as they are.

    `indent` None gives one line. ValueError for a number that JSON cannot hold (NaN, infinity).
    """
    separators = (",", ":") if indent is None else (",", ": ")
    text = simplejson.dumps(
        _plain(obj), ensure_ascii=False, indent=indent, separators=separators, allow_nan=False
    )
    return text


def load_json(text: str) -> Any:
    """Read JSON text; numbers with a decimal point become `Decimal` with their digits."""
    return simplejson.loads(text, use_decimal=True)


def _plain(obj: object) -> object:
    """Write Decimals out as plain digits, never in exponent form, which not every reader expects."""
    if isinstance(obj, Decimal):
        if not obj.is_finite():
            raise ValueError(f"{obj} has no place in JSON")
        return simplejson.RawJSON(f"{obj:f}")
    if isinstance(obj, Mapping):
        return {key: _plain(value) for key, value in obj.items()}
    if isinstance(obj, list | tuple):
        return [_plain(value) for value in obj]
    return obj


def _picked(record: Mapping[str, Any], names: Iterable[str]) -> dict[str, Any]:
    return {name: record[name] for name in names}


def _decimal(number: object) -> Decimal | None:
    if number is None or isinstance(number, Decimal):
        return number
    if isinstance(number, int) and not isinstance(number, bool):
        return Decimal(number)
    raise TypeError(f"{number!r} is not an exact number: read JSON with load_json")


def _torque_from_dict(record: Mapping[str, Any]) -> Torque:
    return Torque(
        printed=record["printed"],
        unit_printed=record["unit_printed"],
        min_nm=_decimal(record["min_nm"]),
        nominal_nm=_decimal(record["nominal_nm"]),
        max_nm=_decimal(record["max_nm"]),
        limit_nm=_decimal(record["limit_nm"]),
    )


def _place_to_dict(place: Place) -> dict[str, Any]:
    box = place.box
    corners = None if box is None else [box.x0, box.top, box.x1, box.bottom]
    return {name: getattr(place, name) for name in _PLACE} | {"box": corners}


def _place_from_dict(record: Mapping[str, Any]) -> Place:
    corners = record["box"]
    box = None
    if corners is not None:
        x0, top, x1, bottom = (float(corner) for corner in corners)
        box = Box(x0=x0, top=top, x1=x1, bottom=bottom)
    return Place(**_picked(record, _PLACE), box=box)


def _finding_to_dict(finding: Finding) -> dict[str, Any]:
    return {
        "code": finding.code,
        "scope": finding.scope,
        "message": finding.message,
        "printed": finding.printed,
        "place": None if finding.place is None else _place_to_dict(finding.place),
    }


def _finding_from_dict(record: Mapping[str, Any]) -> Finding:
    place = record["place"]
    return Finding(
        **_picked(record, ("code", "scope", "message", "printed")),
        place=None if place is None else _place_from_dict(place),
    )
