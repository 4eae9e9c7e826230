"""Records against the published JSON Schema. The only module that knows jsonschema."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from jsonschema import Draft202012Validator, ValidationError
from referencing import Registry, Resource

from torquary_schema.values import Finding

__all__ = [
    "SCHEMAS",
    "FormFault",
    "answer_schema",
    "check_profile",
    "check_record",
    "check_report",
    "decisions_schema",
    "driver_schema",
    "find_decisions_fault",
    "find_driver_fault",
    "find_work_record_fault",
    "plan_schema",
    "profile_schema",
    "report_schema",
    "setting_schema",
    "work_record_schema",
]


@cache
def setting_schema() -> dict[str, Any]:
    """Return the JSON Schema of one record."""
    return _read("setting.schema.json")


@cache
def report_schema() -> dict[str, Any]:
    """Return the JSON Schema of the whole output of `read --json`."""
    return _read("report.schema.json")


@cache
def answer_schema() -> dict[str, Any]:
    """Return the JSON Schema of the whole output of `find --json`."""
    return _read("answer.schema.json")


@cache
def profile_schema() -> dict[str, Any]:
    """Return the JSON Schema of a layout profile."""
    return _read("profile.schema.json")


@cache
def decisions_schema() -> dict[str, Any]:
    """Return the JSON Schema of a file of decisions."""
    return _read("decisions.schema.json")


@cache
def driver_schema() -> dict[str, Any]:
    """Return the JSON Schema of the file of a torque driver."""
    return _read("driver.schema.json")


@cache
def work_record_schema() -> dict[str, Any]:
    """Return the JSON Schema of a record of the work on boards."""
    return _read("work_record.schema.json")


@cache
def plan_schema() -> dict[str, Any]:
    """Return the JSON Schema of the work plans of boards."""
    return _read("plan.schema.json")


SCHEMAS: dict[str, Callable[[], dict[str, Any]]] = {
    "record": setting_schema,
    "answer": answer_schema,
    "report": report_schema,
    "plan": plan_schema,
    "decisions": decisions_schema,
    "work_record": work_record_schema,
    "driver": driver_schema,
    "profile": profile_schema,
}
"""All that is published: name → its JSON Schema."""


def check_profile(profile: object) -> str:
    """Return the first way in which a layout profile does not fit: where, what, what is allowed; "" if it fits."""
    return _first_fault(profile_schema(), profile)


_KINDS = {
    "string": "text in quotes", "array": "a list in [ ]", "object": "fields in { }", "number": "a number",
    "integer": "a whole number", "boolean": "true or false",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class FormFault:
    """Where a form does not fit (names, and numbers from 0, that lead to the item), and in which way."""

    path: tuple[str | int, ...]
    message: str


def find_decisions_fault(decisions: object) -> FormFault | None:
    """Return the first way in which a file of decisions does not fit; None where it does."""
    return _first_form_fault(decisions_schema(), decisions)


def find_driver_fault(driver: object) -> FormFault | None:
    """Return the first way in which the file of a driver does not fit; None where it does."""
    return _first_form_fault(driver_schema(), driver)


def find_work_record_fault(record: object) -> FormFault | None:
    """Return the first way in which a record of the work on boards does not fit; None where it does."""
    return _first_form_fault(work_record_schema(), record)


def _first_form_fault(schema: dict[str, Any], form: object) -> FormFault | None:
    faults = _faults(schema, form)
    return FormFault(path=tuple(faults[0].absolute_path), message=_explain(faults[0])) if faults else None


def _first_fault(schema: dict[str, Any], record: object) -> str:
    faults = _faults(schema, record)
    return _explain(faults[0]) if faults else ""


def _faults(schema: dict[str, Any], record: object) -> list[ValidationError]:
    return sorted(Draft202012Validator(schema).iter_errors(record), key=lambda fault: fault.json_path)


def _explain(fault: ValidationError) -> str:
    """Put a fault of a file that a person wrote into plain words."""
    where = fault.json_path.removeprefix("$").removeprefix(".") or "the file"
    said = str(fault.instance)[:60]
    allowed: Any = fault.validator_value
    match fault.validator:
        case "enum":
            return f"{where}: {said!r} is not allowed; allowed: {', '.join(word for word in allowed if word)}"
        case "const":
            return f"{where}: {said!r} is not a version that is known here; allowed: {allowed}"
        case "type":
            return f"{where}: {said!r} stands where {_KINDS.get(allowed, allowed)} belongs"
        case "additionalProperties":
            schema: Any = fault.schema
            known = schema["properties"]
            unknown = next((name for name in _names(fault.instance) if name not in known), "")
            return f"{where}: the field {unknown[:60]!r} is not known; allowed: {', '.join(known)}"
        case "required":
            missing = next((name for name in allowed if name not in _names(fault.instance)), "")
            return f"{where}: the field {missing!r} is missing"
        case "minItems" | "minLength":
            return f"{where}: is empty, or too short"
        case "minimum" | "exclusiveMinimum" | "maximum" | "exclusiveMaximum":
            return f"{where}: {said} is out of the range that it may have ({allowed})"
        case _:
            return f"{where}: is longer than allowed ({allowed})"


def _names(record: Any) -> tuple[str, ...]:
    return tuple(record)


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
