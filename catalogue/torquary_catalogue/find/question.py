"""What is asked: typed words and options, put into the terms of the catalogue."""

from __future__ import annotations

import shlex
from collections.abc import Container
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.find.rating import Rating, find_ratings
from torquary_catalogue.find.size import Size, find_sizes
from torquary_catalogue.find.words import Meanings, find_printed, fold, is_number, read_words
from torquary_catalogue.store import Catalogue
from torquary_schema.vocabulary import SIDES

SMALLEST_MM2, LARGEST_MM2 = Decimal("0.001"), Decimal(10_000)
"""Sizes beyond these are no conductor's: the largest of IEC 60228 has 2,500 mm², from memory."""
BARE_SIZES = frozenset(
    Decimal(size)
    for size in ("0.5", "0.75", "1.5", "2.5", 1, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240, 300)
)
"""Nominal cross-sections of IEC 60228 in mm², from memory: a bare number that is none of them is no size."""
_ROLES = ("role", "or_role")
_KINDS = ("family", *_ROLES, "material", "stranding", "ferrule", "part", "purpose", "wish")
FERRULES = {"with": True, "without": False}  # "with or without" asks for nothing in particular
_NO_PARTS = ("said", "typed", "asks_bit")
NOTHING_ASKED = "nothing was asked: name a device, a terminal or a size: torquary find mcb 10mm2 outgoing"


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A question. None asks for nothing in particular.

    `words` are free words, looked for in what is printed; `family`, `roles`, `material` and `stranding` are
    vocabulary keys; `terminal` is a printed label, which counts beside the roles, all of which are asked for: a side
    and a conductor. A word with two meanings has the second in `or_roles`, for devices that do not know the first:
    "line" is the supply side, else the phase. `part` is "top", "bottom" or "pulse_output". `mm2` (square
    millimetres) and `awg` ("8", "1/0", "250 kcmil") exclude each other; `conductors` is how many go into one
    terminal. `amps` is the rated current (A), `curve` the tripping characteristic ("curve_b"). `purpose` asks for
    another screw than that of an electrical terminal. `said` tells how words were taken, `typed` are the words as
    typed, `asks_bit` that the driver bit was asked for by name.
    """

    words: str | None = None
    family: str | None = None
    maker: str | None = None
    series: str | None = None
    terminal: str | None = None
    roles: tuple[str, ...] | None = None
    or_roles: tuple[str, ...] | None = None
    part: str | None = None
    mm2: Decimal | None = None
    awg: str | None = None
    conductors: int | None = None
    amps: Decimal | None = None
    curve: str | None = None
    material: str | None = None
    stranding: str | None = None
    ferrule: bool | None = None
    purpose: str | None = None
    said: tuple[str, ...] = ()
    typed: str = ""
    asks_bit: bool = False

    @property
    def size(self) -> str:
        """The size asked for, in words; "" if none."""
        return "" if self.mm2 is None and self.awg is None else Size(mm2=self.mm2, awg=self.awg).name

    @property
    def rating(self) -> str:
        """Rated current and characteristic as people say them: "B32", "32 A"; "" if none."""
        if self.amps is None:
            return ""
        return f"{self.curve[-1].upper()}{self.amps:f}" if self.curve else f"{self.amps:f} A"

    def parts(self) -> dict[str, Any]:
        """Return the parts that ask for something, named as the macro find_setting names them."""
        return {name: value for name in PART_NAMES if (value := getattr(self, name)) is not None}

    def without(self, *names: str) -> Question:
        """Return the question that asks for nothing in these parts."""
        nothing: dict[str, Any] = dict.fromkeys(names)
        return replace(self, **nothing)

    def without_words(self, words: Container[str]) -> Question:
        """Return the question without some of its free words."""
        return replace(self, words=" ".join(word for word in (self.words or "").split() if word not in words) or None)

    def for_screws(self, purpose: str) -> Question:
        """Return the question for screws of another purpose."""
        return replace(self, purpose=purpose)

    @property
    def command(self) -> str:
        """The command that asks it."""
        ferrule = {True: "with ferrule", False: "without ferrule", None: None}[self.ferrule]
        size = self.size and f"{self.conductors}x{self.size}" if self.conductors else self.size
        keys = [key and key.replace("_", " ") for key in (self.family, self.part)]
        rating = self.rating.replace(" ", "")
        words = (self.words, *keys, self.terminal, size, rating, self.material, self.stranding, ferrule)
        options = (("maker", self.maker), ("series", self.series), ("purpose", self.purpose))
        given = [f"--{name} {shlex.quote(text)}" for name, text in options if text]
        return " ".join(["torquary find", *(text for text in words if text), *given])


PART_NAMES = tuple(name for name in Question.__slots__ if name not in _NO_PARTS)
"""Parts of a question that ask for something, as the macro find_setting names them."""


def read_question(catalogue: Catalogue, words: str, **options: str | None) -> Question:
    """Put words and options into a question.

    Options: family, maker, series, terminal, conductor, material, stranding, purpose.

    Raises `TorquaryError` (status 2) for a size that cannot be read, two sizes, or nothing asked.
    """
    parts: dict[str, Any] = {}
    said: list[str] = []
    rest = _take_rating(catalogue, _take_size(words, parts, said), parts)
    conductor = options.pop("conductor", None)
    if conductor is not None:
        _take_conductor(conductor, parts)
    left = _take_bare_size(_take_words(catalogue, rest, parts), parts, said)
    _take_options(catalogue, {name: text for name, text in options.items() if text is not None}, parts)
    asks_bit = parts.pop("wish", None) == "bit"
    if left:
        parts["words"] = " ".join(left)
    if not parts:
        raise TorquaryError(NOTHING_ASKED, status=WRONG_USE)
    return Question(**parts, said=tuple(said), typed=words, asks_bit=asks_bit)


def _take_size(text: str, parts: dict[str, Any], said: list[str]) -> str:
    """Move the size that stands in the text into the parts; return the text without it."""
    sizes = find_sizes(text)
    if len(sizes) > 1:
        named = " and ".join(size.name for size in sizes)
        raise TorquaryError(f"two conductor sizes are asked for ({named}): ask for one at a time", status=WRONG_USE)
    for size in sizes:
        parts.update(_size_parts(size))
        if size.short:
            said.append(f"“{text[size.start : size.end].strip()}” was taken for {size.name}.")
        return f"{text[: size.start]} {text[size.end :]}"
    return text


def _size_parts(size: Size) -> dict[str, Any]:
    if size.mm2 is not None and not SMALLEST_MM2 <= size.mm2 <= LARGEST_MM2:
        raise TorquaryError(f"{size.name} is no size of a conductor: write it like 10 mm2", status=WRONG_USE)
    given = {"mm2": size.mm2, "awg": size.awg, "conductors": size.count}
    return {name: value for name, value in given.items() if value is not None}


def _take_conductor(text: str, parts: dict[str, Any]) -> None:
    sizes = find_sizes(text)
    if len(sizes) != 1 or (text[: sizes[0].start] + text[sizes[0].end :]).strip():
        raise TorquaryError(
            f"--conductor {text!r} is no conductor size: write it like 10 mm2, AWG 8 or 250 kcmil",
            status=WRONG_USE,
        )
    if "mm2" in parts or "awg" in parts:
        raise TorquaryError("a conductor size stands in the words and in --conductor: give one", status=WRONG_USE)
    parts.update(_size_parts(sizes[0]))


def _take_rating(catalogue: Catalogue, text: str, parts: dict[str, Any]) -> str:
    """Move the rating that stands in the text into the parts; a type that is printed so is a type ("C16")."""
    for rating in find_ratings(text):
        if rating.curve and _is_printed_type(catalogue, rating):
            continue
        parts["amps"] = rating.amps
        if rating.curve:
            parts["curve"] = f"curve_{rating.curve}"
        return f"{text[: rating.start]} {text[rating.end :]}"
    return text


def _is_printed_type(catalogue: Catalogue, rating: Rating) -> bool:
    return bool(find_printed(catalogue, [f"{rating.curve}{rating.amps:f}"]))


def _take_bare_size(left: list[str], parts: dict[str, Any], said: list[str]) -> list[str]:
    """Take the one bare number among the words left for a cross-section, where none is asked for, and say so."""
    numbers = [word for word in left if is_number(word)]
    if len(numbers) != 1 or "mm2" in parts or "awg" in parts:
        return left
    value = Decimal(numbers[0].replace("p", "."))
    if value not in BARE_SIZES:
        return left
    parts["mm2"] = value
    said.append(f"“{value:f}” was taken for {value:f} mm²; for a rated current write {value:f}A.")
    return [word for word in left if word != numbers[0]]


def _take_words(
    catalogue: Catalogue, text: str, parts: dict[str, Any], kinds: Container[str] = _KINDS
) -> list[str]:
    """Move the known words of these kinds into the parts, longest first; return the words that are left."""
    words = read_words(catalogue, text)
    free = set(range(len(words.tokens)))
    for (first, last), meant in words.meant.items():
        meanings = {kind: concept for kind, concept in meant.items() if kind in kinds}
        if meanings and free.issuperset(range(first, last)) and _take(meanings, words.phrase((first, last)), parts):
            free.difference_update(range(first, last))
    return [token for at, token in enumerate(words.tokens) if at in free]


def _take(meanings: Meanings, phrase: str, parts: dict[str, Any]) -> bool:
    """Let a phrase mean the first thing that the question has not yet; tell whether it means anything."""
    for kind, concept in meanings.items():
        if kind == "role":
            if _take_role(meanings, phrase, parts):
                return True
            continue
        if kind == "wish":
            if concept == "bit":
                parts[kind] = concept
            return True
        if kind in parts or kind == "or_role":
            continue
        if kind != "ferrule":
            parts[kind] = concept
        elif concept in FERRULES:
            parts[kind] = FERRULES[concept]
        return True
    return False


def _take_role(meanings: Meanings, phrase: str, parts: dict[str, Any]) -> bool:
    """Let a phrase name the terminal, or its side beside a conductor, or its conductor beside a side."""
    role, before = meanings["role"], parts.get("roles", ())
    if len(before) > 1 or any((role in SIDES) == (other in SIDES) for other in before):
        return False
    if "or_role" in meanings or "or_roles" in parts:
        second = (*parts.get("or_roles", before), meanings.get("or_role", role))
        parts["or_roles"] = tuple(dict.fromkeys(second))
    parts["roles"] = (*before, role)
    label = parts.get("terminal", "")
    # The number of a marking is looked for at the end of a label.
    ordered = (phrase, label) if label[-1:].isdigit() else (label, phrase)
    parts["terminal"] = " ".join(filter(None, ordered))
    return True


def _take_options(catalogue: Catalogue, options: dict[str, str], parts: dict[str, Any]) -> None:
    """Put the options into the parts; an option wins over a word of the same kind."""
    for name, text in options.items():
        folded = " ".join(fold(catalogue, text))
        if not folded:
            raise TorquaryError(f"--{name} {text!r} holds no word", status=WRONG_USE)
        if name == "terminal":
            _take_terminal(catalogue, text, folded, parts)
            continue
        words = read_words(catalogue, text)
        meanings = words.meant.get((0, len(words.tokens)), {})
        if name in ("material", "stranding") and name not in meanings:
            raise TorquaryError(_say_unknown(catalogue, name, text), status=WRONG_USE)
        parts[name] = meanings.get(name, folded)


def _take_terminal(catalogue: Catalogue, text: str, folded: str, parts: dict[str, Any]) -> None:
    """Take a typed terminal for the roles that all of its words name, else for a printed label alone."""
    for name in ("terminal", "roles", "or_roles", "part"):
        parts.pop(name, None)
    named: dict[str, Any] = {}
    left = _take_words(catalogue, text, named, _ROLES)
    parts.update({"terminal": folded} if left else named)


def _say_unknown(catalogue: Catalogue, name: str, text: str) -> str:
    rows = catalogue.rows("SELECT DISTINCT concept FROM known_word WHERE kind = ? ORDER BY concept", [name])
    return f"--{name} {text!r} is not known: write one of {', '.join(row['concept'] for row in rows)}"
