"""The rows of a sheet as they are compared with those of another edition: what is printed, and what was decided."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from torquary_catalogue.decimals import shorten
from torquary_catalogue.store.connection import Catalogue

_FIGURES = ("min_nm", "nominal_nm", "max_nm", "limit_nm")
# A sheet out of force shows no figures; what was read and decided of it is all kept.
_ROWS = """
SELECT s.id, s.purpose, s.page, s.table_number, s.row_number, s.torque_printed, s.read_state,
    coalesce(n.device_printed, s.device_printed) AS device_printed,
    coalesce(n.terminal_printed, s.terminal_printed) AS terminal_printed,
    coalesce(n.conductor_printed, s.conductor_printed) AS conductor_printed,
    coalesce(n.roles, s.roles) AS roles, s.material, s.stranding, s.ferrule, s.conductor_count, d.verdict, d.who,
    CASE WHEN d.verdict IS NULL THEN s.read_min_nm ELSE d.min_nm END AS min_nm,
    CASE WHEN d.verdict IS NULL THEN s.read_nominal_nm ELSE d.nominal_nm END AS nominal_nm,
    CASE WHEN d.verdict IS NULL THEN s.read_max_nm ELSE d.max_nm END AS max_nm,
    CASE WHEN d.verdict IS NULL THEN s.read_limit_nm ELSE d.limit_nm END AS limit_nm,
    fold_names(coalesce(n.device_printed, s.device_printed)) AS device,
    fold_names(coalesce(n.terminal_printed, s.terminal_printed)) AS terminal,
    fold_text(coalesce(n.conductor_printed, s.conductor_printed)) AS conductor,
    CASE WHEN n.setting IS NULL THEN [s.min_mm2::VARCHAR, s.max_mm2::VARCHAR, s.min_awg, s.max_awg]
        ELSE [n.min_mm2::VARCHAR, n.max_mm2::VARCHAR, n.min_awg, n.max_awg] END AS sizes
FROM setting AS s
LEFT JOIN name_read AS n ON n.sheet = s.sheet AND n.setting = s.id
LEFT JOIN last_decision AS d ON d.sheet = s.sheet AND d.setting = s.id
WHERE s.sheet = $sheet ORDER BY s.number"""
_LISTS = ("material", "stranding")
_DECIDED = {"reject": "rejected", "reopen": "held"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """A row of a sheet: texts as printed, their folded forms, the figures (lowest, nominal, highest, limit in N·m)
    as read or decided, its state by them, and its place. `conductor` are its sizes, however they are printed; where
    none is known what is printed.
    """

    id: str
    purpose: str
    device: str
    terminal: str
    conductor: str | tuple[str | None, ...]
    roles: frozenset[str]
    kinds: tuple[Any, ...]
    figures: tuple[Decimal | None, ...]
    state: str
    device_printed: str
    terminal_printed: str
    conductor_printed: str
    torque_printed: str
    page: int | None
    table_number: int | None
    row_number: int | None
    decided_by: str


def read_printed(catalogue: Catalogue, digest: str) -> Iterator[Printed]:
    """Yield the rows of a sheet, in force or not, in their order."""
    for row in catalogue.rows(_ROWS, {"sheet": digest}):
        decided = row["verdict"]
        made: dict[str, Any] = {
            "conductor": tuple(row["sizes"]) if any(row["sizes"]) else row["conductor"],
            "kinds": (*(tuple(sorted(row[name])) for name in _LISTS), row["ferrule"], row["conductor_count"]),
            "figures": tuple(shorten(row[name]) for name in _FIGURES),
            "state": row["read_state"] if decided is None else _DECIDED.get(decided, "released"),
            "torque_printed": row["torque_printed"] or "",
            "roles": frozenset(row["roles"]),
            "decided_by": row["who"] or "",
        }
        yield Printed(**{name: made[name] if name in made else row[name] for name in Printed.__slots__})
