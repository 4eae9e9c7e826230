"""Lists of one quantity each, under headings that name it: a label in a list of sizes and in one of torques is one.

"Cross-section: Tap-offs 1 to 10: 1.5–16 mm²" and "Tightening torque: Tap-offs 1 to 10: 2 N·m" give one setting.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from torquary_ingest.clauses.clause import Stretch
from torquary_ingest.clauses.items import Item
from torquary_ingest.clauses.reading import read_sizes
from torquary_ingest.headings.sense import make_sense
from torquary_schema.words import fold

_LABELLED = re.compile(r"\s*(?P<label>[^:：\n]{2,80}?)\s*[:：]\s*(?P<value>\S.*)", re.DOTALL)
_TORQUES = ("torque", "torque_min", "torque_max")


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """A torque of a list and the sizes of the same label: `torque` and `label` stand in `item`, `sizes` in `sized`."""

    item: Item
    label: Stretch
    torque: Stretch
    heading: str
    sized: Item
    sizes: tuple[Stretch, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    item: Item
    label: Stretch
    value: Stretch

    @property
    def key(self) -> tuple[str, ...]:
        """The label and the headings over both lists: under another device the same label is another terminal."""
        return (fold(self.label.text), *(one.text for one in self.item.over[1:]))

    @property
    def sizes(self) -> tuple[Stretch, ...]:
        """The conductor sizes of its value."""
        return read_sizes(self.item.text, self.value.start)


def pair_lists(items: Sequence[Item]) -> Iterator[Listed]:
    """Yield the torques of lists whose labels a list of conductor sizes has too, once each, in printed order."""
    lines = [line for line in map(_as_line, items) if line is not None]
    sized: dict[tuple[str, ...], list[_Line]] = {}
    for line in lines:
        if make_sense(line.item.over[0].text).has("conductor") and line.sizes:
            sized.setdefault(line.key, []).append(line)
    for line in lines:
        sense = make_sense(line.item.over[0].text)
        matched = sized.get(line.key, [])
        if sense.has(*_TORQUES) and make_sense(line.value.text).figure and len(matched) == 1:
            yield Listed(
                item=line.item,
                label=line.label,
                torque=line.value,
                heading=line.item.over[0].text,
                sized=matched[0].item,
                sizes=matched[0].sizes,
            )


def _as_line(item: Item) -> _Line | None:
    found = _LABELLED.fullmatch(item.text)
    if found is None or not item.over:
        return None
    return _Line(item=item, label=_stretch(found, "label"), value=_stretch(found, "value"))


def _stretch(found: re.Match[str], name: str) -> Stretch:
    return Stretch(start=found.start(name), end=found.end(name), text=" ".join(found[name].split()))
