"""A layout profile: read from its file, checked once."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from torquary_ingest.headings.sense import heading_key, make_sense
from torquary_ingest.headings.taught import FIGURES, base
from torquary_ingest.profiles.names import names_maker
from torquary_schema.folding import fold
from torquary_schema.forms import FormWrong, read_form
from torquary_schema.units import UnitMatch, find_units
from torquary_schema.validation import find_form_fault

LARGEST_BYTES = 1024 * 1024
_UNITS = {
    "torque": (("torque",), "N·m, cN·m, lb·in, lb·ft"),
    "conductor": (("area", "gauge"), "mm², AWG, kcmil"),
}


class ProfileWrong(Exception):  # noqa: N818  (a fact, not a fault of ours)
    """A profile cannot be used. `message` is one line: which file, where in it, what is allowed."""

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message


@dataclass(frozen=True, slots=True, kw_only=True)
class Explained:
    """One heading that a person explained: its text, what it heads, the unit ("": none given)."""

    printed: str
    field: str
    unit: str = ""

    @property
    def key(self) -> str:
        """The words by which the heading is known again on a sheet."""
        return heading_key(self.printed)


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """What one file says. `name` is its file name, `maker` what its sheets print at their head.

    `made_from` is the name of the sheet that it was written from, "" if the file does not say.
    """

    name: str
    maker: str
    headings: tuple[Explained, ...]
    made_from: str = ""

    @property
    def digest(self) -> str:
        """SHA-256, in hex, of all that bears on a reading: another digest, another reading."""
        told = [self.name, fold(self.maker), [[one.key, one.field, one.unit] for one in self.headings]]
        return hashlib.sha256(json.dumps(told, ensure_ascii=False).encode()).hexdigest()


def torques_explained(profiles: Iterable[Profile]) -> tuple[str, ...]:
    """Return the headings that profiles explain as torques, as printed."""
    headings = (one for profile in profiles for one in profile.headings if base(one.field) == "torque")
    return tuple(dict.fromkeys(one.printed for one in headings))


def read_profile(path: Path) -> Profile:
    """Return the profile in a file; raise `ProfileWrong` with one line that says where it is wrong."""
    record = _read_record(path)
    fault = find_form_fault("profile", record)
    if fault is not None:
        raise ProfileWrong(f"{path}: {fault.message}")
    if not names_maker(record["maker"]):
        raise ProfileWrong(
            f"{path}: maker: {record['maker']!r} names no maker; write the name that stands at the head of its "
            "sheets (where nothing stands there: in the names of the files)"
        )
    explained = tuple(_explain(path, record["headings"]))
    if not explained:
        raise ProfileWrong(f'{path}: headings: none is explained; write in "means" what an unknown heading means')
    maker = " ".join(record["maker"].split())
    return Profile(name=path.name, maker=maker, headings=explained, made_from=record.get("made_from", ""))


def _read_record(path: Path) -> Any:
    try:
        return read_form(path, largest=LARGEST_BYTES, kind="a profile")
    except FormWrong as wrong:
        raise ProfileWrong(wrong.message) from None


def _explain(path: Path, items: list[dict[str, str]]) -> Iterable[Explained]:
    """Yield the headings that are explained and were not understood without it."""
    met: dict[str, Explained] = {}
    for number, item in enumerate(items):
        if not item["means"]:
            if item.get("unit", "").strip():
                raise ProfileWrong(f'{path}: headings[{number}].unit: a unit without "means"; say what it is of')
            continue
        one = Explained(printed=item["printed"].strip(), field=item["means"], unit=item.get("unit", "").strip())
        fault = _find_fault(one)
        if fault:
            raise ProfileWrong(f"{path}: headings[{number}].{fault}")
        before = met.setdefault(one.key, one)
        if (before.field, before.unit) != (one.field, one.unit):
            raise ProfileWrong(
                f"{path}: headings[{number}]: {one.printed!r} is explained twice ({before.field} {before.unit} and "
                f"{one.field} {one.unit}); leave one"
            )
        if before is one:
            yield one


def _find_fault(one: Explained) -> str:
    """Return where and how a heading's explanation goes against what is known or printed; "" if it does not."""
    sense = make_sense(one.printed)
    if not one.key or sense.figure or not any(letter.isalpha() for letter in one.printed):
        return f"printed: {one.printed!r} has no word to explain; write the heading's own words"
    if sense.false_friend:
        return f"means: {one.printed!r} is known as a torque or figure of another kind; take the heading out"
    known = [field for field in sense.fields if field not in ("property", "value")]
    if known and one.field not in known:
        return f"means: {one.printed!r} is known as {known[0]} and cannot mean {one.field}; write {known[0]} or nothing"
    if (one.field.endswith("_min") and sense.maximum) or (one.field.endswith("_max") and sense.minimum):
        return f"means: {one.printed!r} prints the other side of {one.field}"
    return _find_unit_fault(one, sense.units)


def _find_unit_fault(one: Explained, printed: tuple[UnitMatch, ...]) -> str:
    kinds, allowed = _UNITS.get(base(one.field), ((), ""))
    strange = [unit.printed for unit in printed if unit.kind not in kinds and unit.kind in ("torque", "area", "gauge")]
    if strange:
        return f"means: the heading prints {strange[0]}, which is no unit of {one.field}"
    if not one.unit:
        return ""
    if base(one.field) not in FIGURES:
        return f"unit: {one.field} has no unit; write \"\""
    units = find_units(one.unit)
    whole = len(units) == 1 and units[0].printed.strip() == one.unit.strip()
    if not whole or units[0].kind not in kinds or not units[0].certain or not units[0].name:
        return f"unit: {one.unit!r} is not one certain unit of {one.field}; allowed are such as {allowed}"
    if any(unit.kind in kinds and unit.name != units[0].name for unit in printed):
        return f"unit: the heading itself prints another unit than {one.unit!r}; write \"\""
    return ""
