"""Records against the published JSON Schema. The only module that knows jsonschema."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from jsonschema import Draft202012Validator, ValidationError
from referencing import Registry, Resource

from torquary_schema.values import Finding

__all__ = ["check_record", "check_report", "report_schema", "setting_schema"]


@cache
def setting_schema() -> dict[str, Any]:
    """Return the JSON Schema of one record."""
    return _read("setting.schema.json")


@cache
def report_schema() -> dict[str, Any]:
    """Return the JSON Schema of the whole output of `read --json`."""
    return _read("report.schema.json")


def check_record(record: Mapping[str, Any]) -> tuple[Finding, ...]:
    """Return a `record_invalid` finding for each way in which a setting does not fit the schema."""
    return _check(_validator("setting.schema.json"), record)


def check_report(report: Mapping[str, Any]) -> tuple[Finding, ...]:
    """Return a `record_invalid` finding for each way in which the output of `read` does not fit."""
    return _check(_validator("report.schema.json"), report)


def _read(name: str) -> dict[str, Any]:
    schema: dict[str, Any] = json.loads((files("torquary_schema") / name).read_text("utf-8"))
    return schema


@cache
def _validator(name: str) -> Draft202012Validator:
    schemas = {"setting.schema.json": setting_schema(), "report.schema.json": report_schema()}
    resources = [(schema["$id"], Resource.from_contents(schema)) for schema in schemas.values()]
    registry: Registry[Any] = Registry().with_resources(resources)
    return Draft202012Validator(schemas[name], registry=registry)


def _check(validator: Draft202012Validator, record: Mapping[str, Any]) -> tuple[Finding, ...]:
    faults: list[ValidationError] = sorted(validator.iter_errors(record), key=lambda fault: fault.json_path)
    return tuple(_finding(fault) for fault in faults)


def _finding(fault: ValidationError) -> Finding:
    where = fault.json_path.removeprefix("$").removeprefix(".") or "record"
    message = f"{where}: {fault.message}; check the printed cell and report the sheet"
    return Finding(code="record_invalid", message=message, printed=str(fault.instance)[:200])
