"""What changed from one edition to the next, terminal by terminal, with both printed places."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Literal

from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.compared import Printed, read_printed
from torquary_catalogue.store.record import read_made

Kind = Literal["rose", "fell", "changed", "appeared", "vanished", "otherwise", "same"]
KINDS: tuple[Kind, ...] = ("rose", "fell", "changed", "appeared", "vanished", "otherwise", "same")


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One terminal in two editions: its figure `rose`, `fell` or `changed` in no one direction, it `appeared` or
    `vanished` (the other side is None), the figure is the same and printed for something `otherwise` named, or the
    `same`.
    """

    kind: Kind
    old: Printed | None
    new: Printed | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """All that changed from a sheet to another: digests, and the rows in the order of the later one."""

    old: str
    new: str
    rows: tuple[Change, ...] = field(default_factory=tuple)

    def count(self, kind: Kind) -> int:
        """Return how many rows are of a kind."""
        return sum(row.kind == kind for row in self.rows)


def read_superseded(catalogue: Catalogue) -> tuple[tuple[str, str], ...]:
    """Return the digests of each sheet that is superseded and of the one in its place."""
    made = (one for one in read_made(catalogue, kind="supersede") if one.stands and one.other is not None)
    return tuple(dict.fromkeys((one.sheet, str(one.other)) for one in made))


def compare(catalogue: Catalogue, old: str, new: str) -> Changes:
    """Compare two sheets by what is printed, with what people decided of it."""
    before, after = (list(read_printed(catalogue, digest)) for digest in (old, new))
    return Changes(old=old, new=new, rows=tuple(compare_rows(before, after)))


def compare_rows(before: list[Printed], after: list[Printed]) -> Iterator[Change]:
    """Yield the changes, the terminals of the later sheet first, in their order."""
    pairs = _pair(before, after)
    for new in after:
        old = pairs.get(new.id)
        yield Change(kind=_tell(old, new), old=old, new=new)
    kept = {old.id for old in pairs.values()}
    for old in before:
        if old.id not in kept:
            yield Change(kind="vanished", old=old, new=None)


_KEYS: tuple[Callable[[Printed], Hashable], ...] = (
    lambda one: (one.purpose, one.device, one.terminal, one.conductor, one.kinds),
    lambda one: (one.purpose, one.device, one.terminal, one.conductor),
    lambda one: (one.purpose, one.device, one.terminal, one.kinds),
    lambda one: (one.purpose, one.device, one.roles, one.conductor, one.kinds) if one.roles else one.id,
    lambda one: (one.purpose, one.terminal, one.conductor, one.kinds),
    lambda one: (one.purpose, one.terminal, one.kinds),
)
"""What makes two rows one, the surest first; beyond the first only where it is one row on either side."""


def _pair(before: list[Printed], after: list[Printed]) -> dict[str, Printed]:
    """Return id of a later row → the earlier row that it is."""
    pairs: dict[str, Printed] = {}
    for at, key in enumerate(_KEYS):
        taken = {old.id for old in pairs.values()}
        olds = _group((one for one in before if one.id not in taken), key)
        news = _group((one for one in after if one.id not in pairs), key)
        for name, rows in news.items():
            others = olds.get(name, [])
            if len(rows) == len(others) and (at == 0 or len(rows) == 1):
                pairs |= {new.id: old for new, old in zip(rows, others, strict=True)}
    return pairs


def _group(rows: Iterable[Printed], key: Callable[[Printed], Hashable]) -> dict[Hashable, list[Printed]]:
    groups: dict[Hashable, list[Printed]] = {}
    for row in rows:
        groups.setdefault(key(row), []).append(row)
    return groups


def _tell(old: Printed | None, new: Printed) -> Kind:
    if old is None:
        return "appeared"
    if old.figures == new.figures and old.state == new.state:
        return "same" if _KEYS[0](old) == _KEYS[0](new) else "otherwise"
    steps = {_step(was, now) for was, now in zip(old.figures, new.figures, strict=True)} - {"equal"}
    if steps == {"up"}:
        return "rose"
    return "fell" if steps == {"down"} else "changed"


def _step(was: Decimal | None, now: Decimal | None) -> str:
    if was == now:
        return "equal"
    if was is None or now is None:
        return "open"
    return "up" if now > was else "down"
