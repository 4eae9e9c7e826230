"""What an answer makes of the columns of one reading."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from typing import Any

from torquary_catalogue.store.answers import Answer, Given
from torquary_catalogue.store.name_columns import conductor_columns, device_columns, terminal_columns

_Row = dict[str, Any]
NO_TORQUE = "no_torque"
"""What is settled of a figure where all that contradicts it is no torque."""


def give(row: _Row, given: Given, wanted: Collection[str]) -> set[str]:
    """Give the columns of a reading what is wanted of an answer; return the fields that are settled by it.

    What is given is its evidence, without a page. A figure in a unit that was given is under `given_min_nm` and the
    like. A field that cannot be given to this row (a blank cell, digits that no unit makes a figure) stays open.
    """
    if given.refuses:
        row["rejects"] = True
        return {"reject"}
    settled = {field for field in _GIVERS if field in wanted and field in given.fields and _GIVERS[field](row, given)}
    row["missing"] = [one for one in row["missing"] if one["field"] not in settled]
    row["evidence"] = [*row["evidence"], *_prove(row, settled)]
    return settled


def _give_device(row: _Row, given: Given) -> bool:
    text = given.device or _beside(row, given.device_from)
    if text:
        columns = device_columns(text)
        row |= columns | {"family": columns["family"] or row["family"]}
    return bool(text or ("device" in given.as_read and row["device_printed"]))


def _give_terminal(row: _Row, given: Given) -> bool:
    text = given.terminal or _beside(row, given.terminal_from)
    if text:
        row |= terminal_columns(text)
    return bool(text or ("terminal" in given.as_read and row["terminal_printed"]))


def _beside(row: _Row, heading: str) -> str:
    """Return what the row prints under a heading; "" without one, or where it prints nothing or several texts."""
    if not heading:
        return ""
    texts = {one["text"] for one in row["beside"] or () if one["heading"] == heading}
    return texts.pop() if len(texts) == 1 else ""


def _give_purpose(row: _Row, given: Given) -> bool:
    row["purpose"] = given.purpose
    return True


def _give_unit(row: _Row, given: Given) -> bool:
    """Read the printed digits in the unit that was given, in place of a printed one that is in doubt."""
    from torquary_ingest.figures import read_torque
    from torquary_ingest.figures.limits import as_limit

    printed = row["torque_printed"] or ""
    digits = printed.replace(row["unit_printed"], "") if row["unit_printed"] else printed
    reading = read_torque(digits, unit=given.unit)
    if reading.doubts or len(reading.figures) != 1 or reading.figures[0].condition:
        return False
    torque = as_limit(reading.figures[0]).torque
    row |= {f"given_{name}_nm": getattr(torque, f"{name}_nm") for name in ("min", "nominal", "max", "limit")}
    row["unit_printed"] = row["unit_printed"] or given.unit
    return True


def _give_size_unit(row: _Row, given: Given) -> bool:
    columns, why = conductor_columns(row["conductor_printed"], given.size_unit)
    made = {name: value for name, value in columns.items() if value not in ([], None) or not row[name]}
    row |= made
    return not why


_GIVERS: dict[str, Callable[[_Row, Given], bool]] = {
    "device": _give_device,
    "terminal": _give_terminal,
    "screw": _give_purpose,
    "quantity": lambda row, given: True,
    "unit": _give_unit,
    "size": _give_size_unit,
    "blank": lambda row, given: True,
    "condition": lambda row, given: True,
}
"""Field → what gives it to a row and tells whether it could."""


def _prove(row: _Row, settled: Iterable[str]) -> Iterable[_Row]:
    """Yield what is evidence now: the fields that the record knows as such."""
    shown = {
        "device": row["device_printed"], "terminal": row["terminal_printed"], "screw": row["purpose"],
        "quantity": "tightening torque", "unit": row["unit_printed"],
    }  # fmt: skip
    return ({"field": field, "printed": shown[field], "page": None} for field in shown if field in settled)


def say_given(answer: Answer, settled: Collection[str], row: _Row) -> str:
    """Return in words what a person gave to one reading, with who, when and why."""
    given = answer.given
    words = {
        "reject": "that none of these figures is " + ("a torque" if given.no_torque else "to be used"),
        NO_TORQUE: "that what speaks against it is no torque",
        "device": f"the device “{row['device_printed']}”",
        "terminal": f"the terminal “{row['terminal_printed']}”",
        "screw": f"that the screw is for: {given.purpose.replace('_', ' ')}",
        "quantity": "that it is a tightening torque",
        "unit": f"the unit {given.unit}",
        "size": f"the unit {given.size_unit} of the conductor sizes",
        "blank": "that the blank cell means what was read",
        "condition": "that the figure is right as read, with what else is printed there",
    }
    told = ", ".join(words[field] for field in words if field in settled)
    return (
        f"{answer.who} gave {told} on {answer.decided_at:%Y-%m-%d}, for {REACH_WORDS[answer.reach]}: {answer.why} "
        f"(decision {answer.number})"
    )


REACH_WORDS = {
    "reading": "this reading",
    "row": "this row",
    "column": "this column",
    "list": "this list",
    "section": "this section and its like in other languages",
    "sheet": "this sheet",
    "maker": "all lists of this maker under this name",
}
"""What an answer reaches, in words."""
