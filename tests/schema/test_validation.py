"""The published schema: closed, described, and the same for a second implementation."""

import copy
import json
from collections.abc import Iterator
from dataclasses import fields
from typing import Any

import jsonschema
import jsonschema_rs
import pytest
from hypothesis import given
from hypothesis import strategies as st
from record_strategies import plain_setting, reports, settings

from torquary_schema.report import dump_json, reports_to_dict, setting_to_dict
from torquary_schema.validation import check_record, check_report, read_schema
from torquary_schema.values import Conductor, Device, Finding, Place, Setting, SheetReport, Terminal, Torque
from torquary_schema.vocabulary import keys

SECOND = jsonschema_rs.Draft202012Validator(read_schema("setting"))


def plain(setting: Setting) -> Any:
    return json.loads(dump_json(setting_to_dict(setting)))


def subschemas(schema: Any) -> Iterator[dict[str, Any]]:
    if isinstance(schema, dict):
        yield schema
        for value in schema.values():
            yield from subschemas(value)
    elif isinstance(schema, list):
        for value in schema:
            yield from subschemas(value)


def places_of(record: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    yield path
    items = record.items() if isinstance(record, dict) else enumerate(record) if isinstance(record, list) else ()
    for key, value in items:
        yield from places_of(value, (*path, key))


EXPORTED = ("sheet", "decision")
"""What a record has in exports alone."""


@pytest.mark.parametrize("schema", [read_schema("setting"), read_schema("report")])
def test_the_schema_is_itself_valid_closed_and_described(schema: dict[str, Any]) -> None:
    jsonschema.Draft202012Validator.check_schema(schema)
    for part in subschemas({key: value for key, value in schema.items() if key != "allOf"}):
        types = part.get("type", [])
        if "object" in ([types] if isinstance(types, str) else types):
            assert part["additionalProperties"] is False
            assert part["required"] == [name for name in part["properties"] if name not in EXPORTED]
            assert all(inner.get("description") or "$ref" in inner for inner in part["properties"].values())


def test_each_number_states_its_unit() -> None:
    parts = read_schema("setting")["properties"]
    for name, schema in {**parts["torque"]["properties"], **parts["conductor"]["properties"]}.items():
        if name.endswith("_nm"):
            assert "N·m" in schema["description"]
        if name.endswith("_mm2"):
            assert "mm²" in schema["description"]
    assert "ampere" in parts["device"]["properties"]["rated_current"]["description"]


def test_enumerations_equal_the_vocabularies() -> None:
    parts = read_schema("setting")["properties"]
    assert parts["state"]["enum"] == list(keys("state"))
    assert parts["purpose"]["enum"] == list(keys("purpose"))
    assert parts["device"]["properties"]["family"]["enum"] == [*keys("family"), None]
    terminal = parts["terminal"]["properties"]
    assert terminal["roles"]["items"]["enum"] == list(keys("role"))
    assert terminal["clamp"]["enum"] == [*keys("clamp"), None]
    assert terminal["drive"]["items"]["properties"]["kind"]["enum"] == list(keys("drive"))
    conductor = parts["conductor"]["properties"]
    assert conductor["material"]["items"]["enum"] == list(keys("material"))
    assert conductor["stranding"]["items"]["enum"] == list(keys("stranding"))


@pytest.mark.parametrize(
    ("value", "schema"),
    [
        (Setting, read_schema("setting")),
        (Device, read_schema("setting")["properties"]["device"]),
        (Terminal, read_schema("setting")["properties"]["terminal"]),
        (Conductor, read_schema("setting")["properties"]["conductor"]),
        (Torque, read_schema("setting")["properties"]["torque"]),
        (Place, read_schema("setting")["$defs"]["place"]),
        (Finding, read_schema("setting")["$defs"]["finding"]),
        (SheetReport, read_schema("report")["properties"]["sheets"]["items"]),
    ],
)
def test_the_schema_names_the_fields_of_the_values(value: type, schema: dict[str, Any]) -> None:
    assert set(schema["properties"]) - set(EXPORTED) == {field.name for field in fields(value)}


@given(settings())
def test_every_setting_fits_in_both_implementations(setting: Setting) -> None:
    assert check_record(setting_to_dict(setting)) == ()
    assert SECOND.is_valid(plain(setting))


@given(st.lists(reports, max_size=2))
def test_every_report_fits(sheets: list[SheetReport]) -> None:
    assert check_report(reports_to_dict(sheets)) == ()


@given(settings(), st.data())
def test_both_implementations_agree_on_mutated_records(setting: Setting, data: st.DataObject) -> None:
    record = copy.deepcopy(plain(setting))
    path = data.draw(st.sampled_from([path for path in places_of(record) if path]))
    holder = record
    for key in path[:-1]:
        holder = holder[key]
    change = data.draw(st.sampled_from(["drop", "add", "replace"]))
    if change == "drop":
        del holder[path[-1]]
    elif change == "add" and isinstance(holder, dict):
        holder["colour"] = "red"
    else:
        holder[path[-1]] = data.draw(st.sampled_from([None, "", "x", -1, 0, 1, 2.5, True, [], ["x"], {}, {"x": 1}]))
    assert (check_record(record) == ()) == SECOND.is_valid(record)


@pytest.mark.parametrize(
    ("path", "value", "where"),
    [
        (("state",), "perhaps", "state"),
        (("torque", "min_nm"), "2.5", "torque.min_nm"),
        (("torque", "min_nm"), 0, "torque.min_nm"),
        (("torque",), None, "torque"),
        (("terminal", "drive", 0, "kind"), "star", "terminal.drive[0].kind"),
        (("conductor", "colour"), "red", "conductor"),
        (("place", "page"), 0, "place.page"),
    ],
)
def test_a_fault_is_a_finding_that_says_where(path: tuple[Any, ...], value: object, where: str) -> None:
    record = setting_to_dict(plain_setting())
    holder: Any = record
    for key in path[:-1]:
        holder = holder[key]
    holder[path[-1]] = value
    found = check_record(record)
    assert found
    assert {finding.code for finding in found} == {"record_invalid"}
    assert any(finding.message.startswith(f"{where}: ") for finding in found)
