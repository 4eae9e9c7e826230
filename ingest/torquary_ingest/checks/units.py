"""One torque printed twice in two units, in different records: where they contradict each other both are held."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, pairwise

from torquary_ingest.checks.sizes import same_case
from torquary_ingest.figures import read_torque
from torquary_ingest.figures.agreement import agree, say
from torquary_ingest.figures.values import TorqueFigure
from torquary_ingest.headings.sense import label_key, names_part
from torquary_schema.units import find_units
from torquary_schema.values import Finding, Place, Setting


def check_units(settings: Sequence[Setting]) -> Iterator[tuple[int, Finding]]:
    """Hold settings that are prints of one torque in two units and do not agree."""
    said = {at: figure for at, one in enumerate(settings) if (figure := _figure(one)) is not None}
    found: dict[int, Finding] = {}
    for one, other in _twice(settings, list(said)):
        if said[one].unit != said[other].unit and not agree(said[one], said[other]):
            found.setdefault(one, _disagree(settings[one], settings[other]))
            found.setdefault(other, _disagree(settings[other], settings[one]))
    for one, other in _slips(settings, said):
        found.setdefault(one, _slip(settings[one], settings[other]))
    yield from sorted(found.items(), key=lambda pair: pair[0])


def _figure(setting: Setting) -> TorqueFigure | None:
    """Return the figure of a setting with its unit, as it is printed."""
    torque = setting.torque
    if torque is None or (torque.min_nm is None and torque.max_nm is None):
        return None
    reading = read_torque(torque.printed, unit=torque.unit_printed)
    figure = reading.figures[0] if len(reading.figures) == 1 else None
    same = figure is not None and {figure.torque.min_nm, figure.torque.max_nm} == {torque.min_nm, torque.max_nm}
    return figure if same else None


def _twice(settings: Sequence[Setting], said: Sequence[int]) -> Iterator[tuple[int, int]]:
    """Yield the positions of settings that state the torque of one screw twice."""
    rows: dict[tuple[object, ...], list[int]] = {}
    cases: dict[tuple[object, ...], list[int]] = {}
    for at in said:
        place = settings[at].place
        if place.table is not None:
            rows.setdefault((place.page, place.table, place.row, settings[at].conductor), []).append(at)
        if settings[at].terminal.printed:
            cases.setdefault((same_case(settings[at]), settings[at].conductor), []).append(at)
    for group in rows.values():
        yield from ((a, b) for a, b in combinations(group, 2) if _one_screw(settings[a], settings[b]))
    for group in cases.values():
        yield from combinations(group, 2)
    yield from ((a, b) for a, b in pairwise(said) if _goes_on(settings[a], settings[b]))


def _slips(settings: Sequence[Setting], said: Mapping[int, TorqueFigure]) -> Iterator[tuple[int, int]]:
    """Yield the positions of figures with a unit of their own beside the number under the unit of a table's heading.

    "4.5" and, further down or in the list beside it, "4.5 N·m" in columns of lbf·in.
    """
    in_tables = [at for at in said if settings[at].place.table is not None]
    bare: dict[tuple[int | None, str], list[int]] = {}
    own: dict[int, tuple[int | None, str]] = {}
    for at in in_tables:
        printed = settings[at].torque.printed  # type: ignore[union-attr]
        unit = next(iter(find_units(printed)), None)
        number = (settings[at].place.page, printed[: unit.start if unit else None].strip())
        if unit is None:
            bare.setdefault(number, []).append(at)
        else:
            own[at] = number
    for at, number in own.items():
        yield from ((at, other) for other in bare.get(number, ()) if said[other].unit != said[at].unit)


def _one_screw(one: Setting, other: Setting) -> bool:
    """Tell whether the names of a row's two figures differ in nothing that tells terminals or conductors apart.

    "Line / IEC" and "Line / UL" are one screw; "Line / rigid" and "Line / flexible", "Main" and "Coil" are not.
    """
    first, second = (setting.terminal.printed.split(" / ") for setting in (one, other))
    own = [part for part in (*first, *second) if part not in first or part not in second]
    shared = any(part in second for part in first)
    return shared and bool(own) and not any(names_part(part) for part in own)


def _goes_on(one: Setting, other: Setting) -> bool:
    """Tell whether a figure outside tables names nothing of its own and follows another: it says that one again."""
    if other.place.table is not None or other.place.page != one.place.page or label_key(other.terminal.printed):
        return False
    return bool(one.terminal.printed) and (one.place.table is None or _next_line(one.place, other.place))


def _next_line(one: Place, other: Place) -> bool:
    """Tell whether a place is on the line of another, or on the one right below."""
    if one.box is None or other.box is None:
        return False
    return one.box.top <= other.box.bottom and other.box.top - one.box.bottom < one.box.height


def _disagree(setting: Setting, other: Setting) -> Finding:
    one, two = _say(setting), _say(other)
    told = f"{one} and {two} are stated for one screw and are not the same torque; find out which one holds"
    return _finding(setting, told)


def _slip(setting: Setting, other: Setting) -> Finding:
    one, two = _say(setting), _say(other)
    return _finding(setting, f"{one} stands where {two} is printed for other rows; look whether the unit is a slip")


def _say(setting: Setting) -> str:
    assert setting.torque is not None
    return say(setting.torque)


def _finding(setting: Setting, message: str) -> Finding:
    return Finding(code="units_disagree", message=message, place=setting.place, printed=setting.place.text)
