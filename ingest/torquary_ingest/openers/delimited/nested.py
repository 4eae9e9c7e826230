"""Records that a program has put into one cell as JSON: each becomes a row of its own, under its own names."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import replace

from torquary_ingest.openers.delimited.records import Record

Inner = list[dict[str, str]]


def unfold(records: Sequence[Record]) -> list[Record]:
    """Return the records, those with a list of JSON objects in a cell as one for each object.

    The first record with text heads the columns. Files with such lists in several columns stay as they are: nothing
    says which go together.
    """
    head = next((record for record in records if record.filled), None)
    found = {at: inner for record in records for at, text in enumerate(record.fields) if (inner := _inner(text))}
    if head is None or len(found) != 1:
        return list(records)
    at = next(iter(found))
    names = list(dict.fromkeys(name for record in records for one in _inner_at(record, at) for name in one))
    return [row for record in records for row in _rows(record, at, names, head=record is head)]


def _rows(record: Record, at: int, names: Sequence[str], *, head: bool) -> Iterator[Record]:
    before, behind = record.fields[:at], record.fields[at + 1 :]
    inner = _inner_at(record, at)
    if head:
        yield replace(record, fields=(*before, *names, *behind))
    elif inner:
        for one in inner:
            yield replace(record, fields=(*before, *(one.get(name, "") for name in names), *behind))
    else:
        own = record.fields[at : at + 1]
        yield replace(record, fields=(*before, *own, *("" for _ in names[len(own) :]), *behind))


def _inner_at(record: Record, at: int) -> Inner:
    return _inner(record.fields[at]) if at < len(record.fields) else []


def _inner(text: str) -> Inner:
    """Return the objects of a list as a text gives them, numbers as printed; none where it is anything else."""
    if not (text.startswith("[{") and text.endswith("}]")):
        return []
    try:
        found = json.loads(text, parse_float=str, parse_int=str)
    except ValueError:
        return []
    return [{name: _plain(value) for name, value in one.items()} for one in found] if _flat(found) else []


def _flat(found: list[object]) -> bool:
    plain = (str, bool, type(None))
    return all(isinstance(one, dict) and all(isinstance(value, plain) for value in one.values()) for one in found)


def _plain(value: object) -> str:
    return value if isinstance(value, str) else "" if value is None else str(value).lower()
