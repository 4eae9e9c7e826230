"""One row of an answer: a setting as the macro find_setting gives it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any, Literal

from torquary_catalogue.decimals import shorten

Fit = Literal["size", "unasked", "unsized", "outside", "other_system", "unread"]
TerminalFit = Literal["unasked", "label", "role", "or_role", "narrower", "wider", "any", "elsewhere"]
Figures = tuple[Decimal | None, Decimal | None, Decimal | None, Decimal | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A setting that bears on a question. Names and units are those of the catalogue's columns.

    A held row has no figure and no printed torque: `findings` say why. `fit` tells how its conductor range
    meets the size asked for, `terminal_fit` how its terminal meets the one asked for: its "label", its "role", the
    second meaning of the word ("or_role"), "narrower" or "wider" roles, "any" terminal of the device, or "elsewhere":
    the sheet tells its terminals apart by other words (top and bottom, or sides). `amps_said`, `curve_said`: whether
    it prints a rated current, and the characteristic asked for.
    """

    fit: Fit
    terminal_fit: TerminalFit
    amps_said: bool
    curve_said: bool
    id: str
    state: str
    purpose: str
    maker: str | None
    family: str | None
    series: str | None
    model: str | None
    device_printed: str
    rated_current: str | None
    terminal_printed: str
    roles: tuple[str, ...]
    any_terminal: bool
    clamp: str | None
    thread: str | None
    drive: tuple[tuple[str, str], ...]
    conductor_printed: str
    system: str | None
    min_mm2: Decimal | None
    max_mm2: Decimal | None
    min_awg: str | None
    max_awg: str | None
    material: tuple[str, ...]
    stranding: tuple[str, ...]
    ferrule: bool | None
    conductor_count: int | None
    conditions: tuple[str, ...]
    torque_printed: str | None
    unit_printed: str | None
    min_nm: Decimal | None
    nominal_nm: Decimal | None
    max_nm: Decimal | None
    limit_nm: Decimal | None
    findings: tuple[tuple[str, str], ...]
    verdict: str | None
    who: str | None
    decided_at: datetime | None
    why: str | None
    torque_given: str | None
    file: str
    title: str
    edition: str
    sheet: str
    page: int | None
    table_number: int | None
    row_number: int | None
    place_text: str | None

    @property
    def figures(self) -> Figures:
        """Lowest, nominal and highest torque, and the limit, in N·m; rows agree when these are equal."""
        return self.min_nm, self.nominal_nm, self.max_nm, self.limit_nm

    @property
    def is_limit(self) -> bool:
        """Whether the sheet prints a limit alone, which is no setting."""
        return self.limit_nm is not None and self.min_nm is self.nominal_nm is self.max_nm is None


COLUMNS = Row.__slots__
"""The columns of find_setting that a row is read from; fetching the others would take longer than the rest."""


def read_row(columns: Mapping[str, Any]) -> Row:
    """Return the row of the columns that find_setting gives."""
    given = {name: columns[name] for name in COLUMNS}
    for name in ("min_mm2", "max_mm2", "min_nm", "nominal_nm", "max_nm", "limit_nm"):
        given[name] = shorten(given[name])
    given["drive"] = tuple((drive["kind"], drive["size"]) for drive in given["drive"])
    given["findings"] = tuple((finding["code"], finding["message"]) for finding in given["findings"] or ())
    for name in ("roles", "material", "stranding", "conditions"):
        given[name] = tuple(given[name] or ())
    return Row(**given)
