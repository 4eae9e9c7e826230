"""Records against the published JSON Schema. The only module that knows jsonschema."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal, get_args

from jsonschema import Draft202012Validator, ValidationError
from referencing import Registry, Resource

from torquary_schema.values import Finding

FormName = Literal[
    "setting", "answer", "report", "plan", "decisions", "work_record", "driver", "profile", "list_profile"
]
"""Names of the forms that have a published schema (NAME.schema.json)."""

FORM_NAMES: tuple[FormName, ...] = get_args(FormName)


@cache
def read_schema(name: FormName) -> dict[str, Any]:
    """Return the published JSON Schema of a form."""
    schema: dict[str, Any] = json.loads((Path(__file__).parent / f"{name}.schema.json").read_text("utf-8"))
    return schema


_KINDS = {
    "string": "text in quotes", "array": "a list in [ ]", "object": "fields in { }", "number": "a number",
    "integer": "a whole number", "boolean": "true or false", "null": "null",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class FormFault:
    """Where a form does not fit (names, and numbers from 0, that lead to the item), and in which way."""

    path: tuple[str | int, ...]
    message: str


def find_form_fault(name: FormName, form: object) -> FormFault | None:
    """Return the first way in which a form that was read does not fit its schema; None where it does."""
    validator = Draft202012Validator(read_schema(name))
    faults: list[ValidationError] = sorted(validator.iter_errors(form), key=lambda fault: fault.json_path)
    return FormFault(path=tuple(faults[0].absolute_path), message=_explain(faults[0])) if faults else None


def _explain(fault: ValidationError) -> str:
    """Put a fault of a file that a person wrote into plain words."""
    where = fault.json_path.removeprefix("$").removeprefix(".") or "the file"
    return f"{where}: {_say(fault, str(fault.instance)[:60], fault.validator_value)}"


def _say(fault: ValidationError, said: str, allowed: Any) -> str:
    match fault.validator:
        case "enum":
            return f"{said!r} is not allowed; allowed: {', '.join(filter(None, allowed))}"
        case "const":
            return f"{said!r} is not a version that is known here; allowed: {allowed}"
        case "type":
            kinds = [allowed] if isinstance(allowed, str) else allowed
            return f"{said!r} stands where {' or '.join(map(_KINDS.__getitem__, kinds))} belongs"
        case "additionalProperties":
            schema: Any = fault.schema
            unknown = _first(fault.instance, schema["properties"])
            return f"the field {unknown[:60]!r} is not known; allowed: {', '.join(schema['properties'])}"
        case "required":
            return f"the field {_first(allowed, fault.instance)!r} is missing"
        case "minItems" | "minLength":
            return "is empty, or too short"
        case "minimum" | "exclusiveMinimum" | "maximum" | "exclusiveMaximum":
            return f"{said} is out of the range that it may have ({allowed})"
        case "anyOf":
            return f"{said!r} lacks a part, or has one that does not belong there"
        case _:
            return f"is longer than allowed ({allowed})"


def _first(names: Any, others: Any) -> str:
    """Return the first of some names that is none of the others."""
    return next((name for name in names if name not in others), "")


def check_record(record: Mapping[str, Any]) -> tuple[Finding, ...]:
    """Return a `record_invalid` finding for each way in which a setting does not fit the schema."""
    return _check(_validator("setting"), record)


def check_report(report: Mapping[str, Any]) -> tuple[Finding, ...]:
    """Return a `record_invalid` finding for each way in which the output of `read` does not fit."""
    return _check(_validator("report"), report)


@cache
def _validator(name: FormName) -> Draft202012Validator:
    schemas = [read_schema("setting"), read_schema("report")]
    resources = [(schema["$id"], Resource.from_contents(schema)) for schema in schemas]
    registry: Registry[Any] = Registry().with_resources(resources)
    return Draft202012Validator(read_schema(name), registry=registry)


def _check(validator: Draft202012Validator, record: Mapping[str, Any]) -> tuple[Finding, ...]:
    faults: list[ValidationError] = sorted(validator.iter_errors(record), key=lambda fault: fault.json_path)
    return tuple(_finding(fault) for fault in faults)


def _finding(fault: ValidationError) -> Finding:
    where = fault.json_path.removeprefix("$").removeprefix(".") or "record"
    message = f"{where}: {fault.message}; check the printed cell and report the sheet"
    return Finding(code="record_invalid", message=message, printed=str(fault.instance)[:200])
