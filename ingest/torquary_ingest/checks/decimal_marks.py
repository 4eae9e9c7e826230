"""Decimal marks that were lost or slipped in print: one terminal's torque ten times another of its kind."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from decimal import Decimal

from torquary_schema.values import Finding, Setting

_TEN = Decimal(10)

_FAR = 4
"""Times the largest torque of the other rows of a size, from which one may be ten times what is meant (own choice)."""

_NEAR = 2
"""Times by which a tenth of it lies outside those of the other rows at most, to be meant (own choice)."""


def check_decimal_marks(settings: Sequence[Setting]) -> Iterator[tuple[int, Finding]]:
    """Hold a torque ten times another one that the sheet prints for a terminal of the same name and the same sizes.

    A decimal mark may be lost in the one or slipped in the other: of two the one that fewer rows print, of as many
    both. Terminals of other names and the same sizes count where more of them print the other torque. So does one far
    above all of a size, of which a tenth would be among them.
    """
    odd = {*_odd_among(settings, _sizes, ahead=1), *_odd_among(settings, _named_sizes, ahead=0), *_far_above(settings)}
    yield from ((position, _doubtful(settings[position])) for position in sorted(odd))


def _odd_among(
    settings: Sequence[Setting], same: Callable[[Setting], tuple[object, ...]], *, ahead: int
) -> Iterator[int]:
    """Yield the positions of torques that are ten times, or a tenth of, what at least `ahead` more rows print."""
    for figures in _by_figure(settings, same):
        for figure, positions in figures.items():
            others = [figures[one] for one in (figure * _TEN, figure / _TEN) if one in figures]
            if any(len(other) >= len(positions) + ahead for other in others):
                yield from positions


def _far_above(settings: Sequence[Setting]) -> Iterator[int]:
    """Yield the positions of torques that may have slipped beside the others of their sizes, which more rows print."""
    for figures in _by_figure(settings, _sizes):
        for figure, positions in figures.items():
            others = {one: len(rows) for one, rows in figures.items() if one != figure}
            if _may_have_slipped(figure, list(others)) and sum(others.values()) > len(positions):
                yield from positions


def _by_figure(
    settings: Sequence[Setting], same: Callable[[Setting], tuple[object, ...]]
) -> Iterable[dict[Decimal, list[int]]]:
    """Return the positions of settings by their torque, those that are the same by themselves."""
    alike: dict[tuple[object, ...], dict[Decimal, list[int]]] = {}
    for position, setting in enumerate(settings):
        if setting.purpose == "electrical_terminal" and setting.conductor.system and setting.torque:
            figure = setting.torque.max_nm or setting.torque.limit_nm
            if figure is not None:
                alike.setdefault(same(setting), {}).setdefault(figure, []).append(position)
    return alike.values()


def _may_have_slipped(figure: Decimal, others: Sequence[Decimal]) -> bool:
    """Tell whether a torque is far above all others of its size, and a tenth of it is near them.

    One far below them may be that of another screw: a slot beside a hexagon (NEC Annex I, Table I.1).
    """
    low, high = min(others, default=_TEN), max(others, default=Decimal(0))
    return figure > _FAR * high and low / _NEAR <= figure / _TEN <= high * _NEAR


def _sizes(setting: Setting) -> tuple[object, ...]:
    conductor = setting.conductor
    sizes = (conductor.min_mm2, conductor.max_mm2, conductor.min_awg, conductor.max_awg)
    return (*sizes, conductor.stranding, conductor.ferrule)


def _named_sizes(setting: Setting) -> tuple[object, ...]:
    """Return what settings have in common that are of one kind of terminal, on whatever device."""
    return (*_sizes(setting), setting.terminal.roles or setting.terminal.printed)


def _doubtful(setting: Setting) -> Finding:
    printed = setting.torque.printed if setting.torque else ""
    message = f"{printed!r} is ten times, or a tenth of, what other rows print for the same sizes"
    return Finding(
        code="torque_implausible",
        message=f"{message}; look whether a decimal mark is lost",
        place=setting.place,
        printed=printed,
    )
