"""The values of a record: frozen, checked once, handed down.

Lengths on a page are points (1/72 inch) from the top left of the page as a reader sees it.
Torques are `Decimal` newton metres; cross-sections are `Decimal` square millimetres.
Fields named `printed` hold text as on paper; every other field is normalised.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

State = Literal["released", "held", "rejected", "superseded"]
Scope = Literal["setting", "table", "page", "sheet"]
ScopeKind = Literal[
    "clause", "cell", "row", "heading", "section_row", "caption", "list_heading", "introduction", "section", "sheet",
    "note", "statement",
]  # fmt: skip
"""What a printed text is to a figure it speaks for, the nearest first; notes and statements hang on any of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A rectangle in points, origin at the top left of the page as shown (rotation applied)."""

    x0: float
    top: float
    x1: float
    bottom: float

    @property
    def width(self) -> float:
        """Horizontal extent in points."""
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        """Vertical extent in points."""
        return self.bottom - self.top

    @property
    def middle(self) -> tuple[float, float]:
        """Centre as (x, y) in points."""
        return (self.x0 + self.x1) / 2, (self.top + self.bottom) / 2

    def level_with(self, other: Box) -> bool:
        """Tell whether the middle of the other box stands at the height of this one."""
        return self.top < other.middle[1] < self.bottom

    @classmethod
    def around(cls, boxes: Iterable[Box]) -> Box:
        """Return the smallest box that holds all; at least one is needed."""
        rest = iter(boxes)
        first = next(rest)
        x0, top, x1, bottom = first.x0, first.top, first.x1, first.bottom
        for box in rest:
            x0 = box.x0 if box.x0 < x0 else x0
            top = box.top if box.top < top else top
            x1 = box.x1 if box.x1 > x1 else x1
            bottom = box.bottom if box.bottom > bottom else bottom
        return cls(x0=x0, top=top, x1=x1, bottom=bottom)

    def union(self, other: Box) -> Box:
        """Return the smallest box that holds both."""
        return Box(
            x0=min(self.x0, other.x0),
            top=min(self.top, other.top),
            x1=max(self.x1, other.x1),
            bottom=max(self.bottom, other.bottom),
        )

    def holds(self, point: tuple[float, float]) -> bool:
        """Tell whether the point (x, y) lies inside or on the edge."""
        x, y = point
        return self.x0 <= x <= self.x1 and self.top <= y <= self.bottom


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where something is printed. Pages, tables, rows and columns count from 1; None: not known."""

    page: int | None = None
    table: int | None = None
    row: int | None = None
    column: int | None = None
    box: Box | None = None
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """A fault or remark in the data: collected, never raised.

    `code` is a key of `finding_codes.json`, which also says whether the finding holds a setting.
    `message` says what is the matter and what a person can do, in one line.
    """

    code: str
    message: str
    scope: Scope = "setting"
    place: Place | None = None
    printed: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Torque:
    """A tightening torque in N·m. A single printed figure has three equal values; an open side is None.

    A range has `nominal_nm` None; a figure with a tolerance has all three, the nominal in between. `limit_nm` is a
    torque never to be exceeded ("max. 2.5 N·m"): alone, with the three others None, or beside a setting.
    `unit_printed` is the unit's spelling on the sheet, wherever it stood.
    """

    printed: str
    unit_printed: str
    min_nm: Decimal | None
    nominal_nm: Decimal | None
    max_nm: Decimal | None
    limit_nm: Decimal | None = None

    @property
    def is_read(self) -> bool:
        """True when any figure was read."""
        return any(one is not None for one in (self.min_nm, self.nominal_nm, self.max_nm, self.limit_nm))

    def __post_init__(self) -> None:
        if self.min_nm is not None and self.max_nm is not None and self.min_nm > self.max_nm:
            raise ValueError(f"torque {self.printed!r}: minimum {self.min_nm} above maximum {self.max_nm}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Conductor:
    """A conductor range as printed. The printed system is kept; no system is converted into another.

    `min_awg` is the thinner wire, as text: "14", "1/0", "250 kcmil". `min_mm2`/`max_mm2` are filled only
    where mm² (or a diameter, then computed as a circle's area) is printed. An open side is None.
    `material` and `stranding` hold vocabulary keys; `ferrule` None means that the sheet does not say.
    """

    printed: str = ""
    system: Literal["mm2", "awg", "kcmil", "diameter"] | None = None
    min_mm2: Decimal | None = None
    max_mm2: Decimal | None = None
    min_awg: str | None = None
    max_awg: str | None = None
    material: tuple[str, ...] = ()
    stranding: tuple[str, ...] = ()
    ferrule: bool | None = None
    count: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Drive:
    """A screw drive: vocabulary kind and the size in the standard's own terms ("2", "0.8x4", "4 mm")."""

    kind: str
    size: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Terminal:
    """The terminal: printed label, and what is known of its roles, clamp, thread and drive.

    `roles` are vocabulary keys in the order in which they are named: a side and a conductor ("Load side N"), or
    several conductors of one figure ("L1, L2, L3 and N").
    """

    printed: str = ""
    roles: tuple[str, ...] = ()
    clamp: str | None = None
    thread: str | None = None
    drive: tuple[Drive, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Device:
    """The device the terminal belongs to; rated current in amperes as printed digits."""

    printed: str = ""
    maker: str | None = None
    family: str | None = None
    series: str | None = None
    model: str | None = None
    rated_current: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """The print that proves one part of a setting: `field` is "unit", "quantity", "screw", "terminal" or "device"."""

    field: str
    printed: str
    page: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """A part of a setting that no print proves, and the texts in which its proof was looked for."""

    field: str
    looked: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ScopeText:
    """A printed text that speaks for a figure, on one line; `page` counts from 1, None where not known."""

    kind: ScopeKind
    text: str
    page: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """Other print of a held figure's row, on one line, under the heading it stands under; "" where it has none."""

    heading: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """The record: one terminal, one conductor range, one torque, with place, state and findings.

    `id` is a digest of what is printed and where (sheet, place, texts), so the same sheet read twice
    gives the same ids. `scope` holds the texts that speak for the figure, nearest first, `conditions` the
    vocabulary keys of what they ask for. `beside` is what else the row prints, of a figure that lacks a name: a person
    may say that it is one.
    """

    id: str
    state: State
    purpose: str
    device: Device
    terminal: Terminal
    conductor: Conductor
    torque: Torque | None
    place: Place
    findings: tuple[Finding, ...] = ()
    evidence: tuple[Evidence, ...] = ()
    missing: tuple[Missing, ...] = ()
    scope: tuple[ScopeText, ...] = ()
    conditions: tuple[str, ...] = ()
    beside: tuple[Beside, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetReport:
    """What one datasheet gave. `file` is its name, `digest` the SHA-256 of its bytes in hex.

    `title`, `product`, `maker`, `document_number` and `edition` are as printed, "" where the sheet does not say or
    that is not certain; `edition_date` is the edition's date as far as it is certain ("2024-05-17", "2024-05", "2024").
    `profiles` are the file names of the layout profiles that were used for it.
    """

    file: str
    digest: str
    state: Literal["read", "refused"]
    title: str = ""
    product: str = ""
    maker: str = ""
    document_number: str = ""
    edition: str = ""
    edition_date: str = ""
    pages: int = 0
    settings: tuple[Setting, ...] = ()
    findings: tuple[Finding, ...] = ()
    profiles: tuple[str, ...] = ()
