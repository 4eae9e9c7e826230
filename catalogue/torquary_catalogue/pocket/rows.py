"""Settings as the page carries them: what they are matched by, and what is shown of them, in words."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import Any

from torquary_catalogue.decimals import shorten
from torquary_catalogue.find.difference import ASPECTS, NOT_SAID
from torquary_catalogue.find.known import write_rejected
from torquary_catalogue.find.named_size import name_conductor
from torquary_catalogue.find.question import Question
from torquary_catalogue.find.row import Row
from torquary_catalogue.pocket.choosing import Chosen
from torquary_catalogue.show.figures import write_limit, write_torque
from torquary_catalogue.show.notice import write_remarks
from torquary_catalogue.show.row_words import (
    write_bit,
    write_conductor,
    write_device,
    write_place,
    write_printed,
    write_short_place,
    write_terminal,
    write_torques,
)
from torquary_schema.findings import codes

_AS_THEY_ARE = (
    "sheet", "state", "purpose", "family", "model", "device_printed", "terminal_printed", "conductor_printed",
    "torque_printed", "file", "page", "roles", "any_terminal", "system", "min_awg", "max_awg", "material", "stranding",
    "ferrule", "conductor_count", "conditions", "is_limit",
)  # fmt: skip
_FOR_MATCHING = (
    "said", "says", "amps", "min_gauge", "max_gauge", "all_words", "device_words", "terminal_words", "maker_words",
    "series_words", "is_span", "is_limit_for_all", "placed",
)  # fmt: skip
_NO_WISH = Question()


def lay_out_columns(chosen: Chosen, unit: str) -> dict[str, dict[str, list[Any]]]:
    """Return the settings column by column, each value once: {"values": [...], "at": [place of each row's value]}."""
    rows = [_lay_out(row, columns, unit) for row, columns in zip(chosen.rows, chosen.columns, strict=True)]
    return {name: _pack([row[name] for row in rows]) for name in rows[0]}


def _pack(values: Iterable[Any]) -> dict[str, list[Any]]:
    keys = [json.dumps(value, ensure_ascii=False, sort_keys=True) for value in values]
    places = {key: at for at, key in enumerate(dict.fromkeys(keys))}
    return {"values": [json.loads(key) for key in places], "at": [places[key] for key in keys]}


def _lay_out(row: Row, columns: Mapping[str, Any], unit: str) -> dict[str, Any]:
    told: dict[str, Any] = {name: getattr(row, name) for name in _AS_THEY_ARE}
    told |= {name: columns[name] for name in _FOR_MATCHING}
    told |= {name: _digits(getattr(row, name)) for name in ("min_mm2", "max_mm2")}
    told["figures"] = [_digits(figure) for figure in row.figures]
    told["conductor_named"] = name_conductor(row)
    told["apart"] = [str(value(row) or NOT_SAID) for _, value in ASPECTS]
    told["rejected"] = write_rejected(row) if row.state == "rejected" else None
    return told | {f"shown_{name}": text for name, text in _write(row, unit).items()}


def _digits(value: Decimal | None) -> str | None:
    short = shorten(value)
    return None if short is None else f"{short:f}"


def _write(row: Row, unit: str) -> dict[str, Any]:
    """Return what the page shows of a row whatever was asked; of a held one neither figure nor printed torque."""
    return {
        "torque": write_torque(row.figures[:3], unit),
        "limit": write_limit(row.figures, unit),
        "torques": write_torques(row, unit),
        "bit": write_bit(row),
        "device": write_device(row),
        "terminal": write_terminal(row),
        "conductor": write_conductor(row, _NO_WISH),
        "printed": write_printed(row) if row.torque_printed is not None else "",
        "place": write_place(row),
        "short_place": write_short_place(row),
        "remarks": _write_remarks(row),
    }


def _write_remarks(row: Row) -> Sequence[tuple[str, str]]:
    """Return what stands beside the row. Why it is held is told in general, for a reason may quote the figure."""
    if row.state != "held":
        return list(write_remarks(row))
    known = codes()
    reasons = dict.fromkeys(known[code].meaning for code, _ in row.findings if code in known and known[code].holds)
    told = [remark for remark in write_remarks(row) if remark[0] != "why held"]
    return [*told, *(("why held", meaning) for meaning in reasons)]
