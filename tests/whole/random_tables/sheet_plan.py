"""The plan of a mixed sheet: tables as columns and rows that traits change before anything is drawn.

A `Spot` that stands in neighbouring rows of one column (the same object) is one cell that spans them; equal
`group` texts of neighbouring columns are one heading cell over them; a line that is a text is a band row.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from decimal import Decimal

import faces
from random_sheets import CASES, DASHES, MARKINGS, UNITS, Stated, choose_words, in_latin, words_for

UNIT_PLACES = {"head": "{} {}", "round": "{} ({})", "square": "{} [{}]", "comma": "{}, {}"}


@dataclass(slots=True)
class Spot:
    """A cell: its text and a raised mark behind it."""

    text: str
    mark: str = ""


@dataclass(slots=True)
class Row:
    """A body row: its cells by column key, and what it states; `nominal` and `size` are the exact values."""

    cells: dict[str, Spot]
    stated: list[Stated]


@dataclass(slots=True)
class Column:
    """A column: key of its cells, heading, and the text of a cell over it and its like-named neighbours."""

    key: str
    heading: str
    group: str = ""


@dataclass(slots=True)
class Block:
    """A table with the lines above and below it; `page` counts from 0, `across` from the left."""

    columns: list[Column]
    lines: list[Row | str]
    above: list[str] = field(default_factory=list)
    below: list[str] = field(default_factory=list)
    page: int = 0
    across: int = 0
    bare: bool = False

    def rows(self) -> list[Row]:
        """Return the body rows without the bands."""
        return [line for line in self.lines if isinstance(line, Row)]

    def column(self, key: str) -> Column:
        """Return the column with this key."""
        return next(column for column in self.columns if column.key == key)


@dataclass(slots=True)
class Look:
    """How a PDF page looks; `place` says in which line of its rows a spanning text without rules stands.

    `side` is where texts stand in their cells, "left", "middle" or "right" (the first column stays left); `upper`
    that texts of fewer lines stand at the top of their rows; `shaded` that every other row has a grey ground;
    `sparse` that rules are drawn above and below the heading and at the end alone. `padding` is the white of a row
    beside its lines, in sizes of type.
    """

    size: float = 8
    rotate: int = 0
    place: str = "middle"
    wide: float = 1.0
    side: str = "left"
    upper: bool = False
    shaded: bool = False
    sparse: bool = False
    padding: float = 1.2


@dataclass(slots=True)
class Plan:
    """A sheet before it is drawn. `taken` are the parts that a trait has claimed, `traits` the names of those."""

    dice: random.Random
    layout: str
    language: str
    unit: str
    mark: str
    blocks: list[Block]
    title: str = "Lantern Quay breakers"
    free: list[str] = field(default_factory=list)
    look: Look = field(default_factory=Look)
    font: str = "Helvetica"
    taken: set[str] = field(default_factory=set)
    traits: list[str] = field(default_factory=list)
    loose: list[Stated] = field(default_factory=list)

    @property
    def block(self) -> Block:
        """The first table: the one that most traits change."""
        return self.blocks[0]

    @property
    def factor(self) -> Decimal:
        """N·m in one of the unit."""
        return UNITS[self.unit]

    def word(self, kind: str, concept: str | None = None) -> str | None:
        """A word of the sheet's language that its font can print, or None."""
        found = [w for w in words_for(self.language, kind, concept) if self.prints(w)]
        return self.dice.choice(found) if found else None

    def prints(self, text: str) -> bool:
        """Tell whether the layout can print the text: CSV everything, the standard fonts Latin-1 alone."""
        return self.layout == "csv" or (faces.prints(self.font, text) if self.font in faces.FACES else in_latin(text))

    def number(self, value: Decimal) -> str:
        """A number as the sheet prints it."""
        return f"{value.normalize():f}".replace(".", self.mark)

    def figure(self, least: Decimal, most: Decimal) -> str:
        """A torque figure or range as the sheet prints it."""
        if least == most:
            return self.number(least)
        return self.number(least) + self.dice.choice(DASHES) + self.number(most)

    def limits(self, case: int | None = None) -> tuple[Decimal, Decimal]:
        """Limits of a torque in the sheet's unit that a terminal takes; a third of them equal each other."""
        _, _, torques = CASES[case if case is not None else 1]
        places = 2 if self.factor >= 1 else 0
        least = round(Decimal(self.dice.choice(torques)) / self.factor, places)
        return least, round(least + self.dice.choice((Decimal(0), least / 4)), places)

    def stated(self) -> list[Stated]:
        """Return what all rows state, in printed order."""
        return [*self.loose, *(one for block in self.blocks for row in block.rows() for one in row.stated)]


Trait = Callable[[Plan], bool]


def restate(row: Row, **changes: object) -> None:
    """Change what a row states."""
    row.stated = [replace(one, **changes) for one in row.stated]  # type: ignore[arg-type]


def make_row(plan: Plan, label: str, case: int | None = None) -> Row:
    """A row of label, size and figure with what it states."""
    case = plan.dice.randrange(len(CASES)) if case is None else case
    low, high, _ = CASES[case]
    least, most = plan.limits(case)
    figure, sizes = plan.figure(least, most), (low + plan.dice.choice(DASHES[:4]) + high).replace(".", plan.mark)
    stated = Stated(
        terminal=label, figure=figure, size=sizes, torque=(least * plan.factor, most * plan.factor),
        conductor=(Decimal(low), Decimal(high)),
    )  # fmt: skip
    return Row(cells={"terminal": Spot(label), "size": Spot(sizes), "torque": Spot(figure)}, stated=[stated])


def make_plan(dice: random.Random, layout: str) -> Plan:
    """A plain table of three columns, as `random_sheets` draws it, ready for traits."""
    font = dice.choice(faces.faces()) if layout != "csv" and faces.faces() and dice.random() < 0.2 else "Helvetica"
    plan = Plan(dice=dice, layout=layout, language="", unit=dice.choice(list(UNITS)), mark=dice.choice(".,"), blocks=[])
    plan.font = font
    spoken = faces.FACES[font][1] if font in faces.FACES else ()
    while True:
        plan.language, head, labels = choose_words(
            dice, printable=layout != "csv", spoken=spoken, prints=lambda text: plan.prints(text + plan.unit)
        )
        if head[2] not in words_for(plan.language, "purpose"):
            break  # "mounting torque" says itself that it is for no conductor
    if len(labels) < 3:
        labels = [*labels, *dice.sample([m for m in MARKINGS if m not in labels], 3)]
    place = dice.choice(list(UNIT_PLACES))
    columns = [
        Column(key="terminal", heading=head[0]),
        Column(key="size", heading=f"{head[1]} mm²"),
        Column(key="torque", heading=UNIT_PLACES[place].format(head[2], plan.unit)),
    ]
    dice.shuffle(columns)
    plan.blocks.append(Block(columns=columns, lines=[make_row(plan, label) for label in labels]))
    return plan
