"""What is asked: typed words and options, put into the terms of the catalogue."""

from __future__ import annotations

import shlex
from collections.abc import Container, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.find.size import Size, find_sizes
from torquary_catalogue.store import Catalogue
from torquary_schema.vocabulary import SIDES

_LONGEST = 8
"""Words of a phrase at most: "residual current circuit breaker with overcurrent protection" has seven."""
_SMALLEST_MM2, _LARGEST_MM2 = Decimal("0.001"), Decimal(10_000)
"""Sizes beyond these are no conductor's: the largest of IEC 60228 has 2,500 mm², from memory."""
_ROLES = ("role", "or_role")
_KINDS = ("family", *_ROLES, "material", "stranding", "ferrule")
_FERRULES = {"with": True, "without": False}  # "with or without" asks for nothing in particular
_KNOWN = """
SELECT asked, kind, concept, wider_roles([concept]) AS wider
FROM (SELECT unnest($phrases::VARCHAR[]) AS asked)
JOIN known_word ON CASE fit
    WHEN 'starts' THEN starts_with(asked, spelling)
    WHEN 'ends' THEN ends_with(asked, spelling)
    WHEN 'contains' THEN contains(asked, spelling)
    ELSE spelling = asked END
WHERE fit IN ('whole', 'marking') OR NOT contains(asked, ' ')
ORDER BY
    list_position(['family', 'role', 'material', 'stranding', 'ferrule'], kind), fit = 'marking',
    len(wider_roles([concept])) DESC, concept"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A question. None asks for nothing in particular.

    `words` are free words, looked for in what is printed; `family`, `roles`, `material` and `stranding` are
    vocabulary keys; `terminal` is a printed label, which counts beside the roles, all of which are asked for: a side
    and a conductor. A word with two meanings has the second in `or_roles`, for devices that do not know the first:
    "line" is the supply side, else the phase. `mm2`
    (square millimetres) and `awg` ("8", "1/0", "250 kcmil") exclude each other; `conductors` is how many go into
    one terminal. `purpose` asks for another screw than that of an electrical terminal.
    """

    words: str | None = None
    family: str | None = None
    maker: str | None = None
    series: str | None = None
    terminal: str | None = None
    roles: tuple[str, ...] | None = None
    or_roles: tuple[str, ...] | None = None
    mm2: Decimal | None = None
    awg: str | None = None
    conductors: int | None = None
    material: str | None = None
    stranding: str | None = None
    ferrule: bool | None = None
    purpose: str | None = None

    @property
    def size(self) -> str:
        """The size asked for, in words; "" if none."""
        return "" if self.mm2 is None and self.awg is None else Size(mm2=self.mm2, awg=self.awg).name

    def parts(self) -> dict[str, Any]:
        """Return the parts that ask for something, named as the macro find_setting names them."""
        return {name: value for name in self.__slots__ if (value := getattr(self, name)) is not None}

    def without(self, *names: str) -> Question:
        """Return the question that asks for nothing in these parts."""
        return replace(self, **dict.fromkeys(names))

    def for_screws(self, purpose: str) -> Question:
        """Return the question for screws of another purpose."""
        return replace(self, purpose=purpose)

    @property
    def command(self) -> str:
        """The command that asks it."""
        ferrule = {True: "with ferrule", False: "without ferrule", None: None}[self.ferrule]
        size = self.size and f"{self.conductors}x{self.size}" if self.conductors else self.size
        words = (self.words, self.family, self.terminal, size, self.material, self.stranding, ferrule)
        options = (("maker", self.maker), ("series", self.series), ("purpose", self.purpose))
        given = [f"--{name} {shlex.quote(text)}" for name, text in options if text]
        return " ".join(["torquary find", *(text for text in words if text), *given])


def read_question(catalogue: Catalogue, words: str, **options: str | None) -> Question:
    """Put words and options into a question.

    Options: family, maker, series, terminal, conductor, material, stranding, purpose.

    Raises `TorquaryError` (status 2) for a size that cannot be read, two sizes, or nothing asked.
    """
    parts: dict[str, Any] = {}
    rest = _take_size(words, parts)
    conductor = options.pop("conductor", None)
    if conductor is not None:
        _take_conductor(conductor, parts)
    left = _take_words(catalogue, rest, parts)
    _take_options(catalogue, {name: text for name, text in options.items() if text is not None}, parts)
    if left:
        parts["words"] = left
    if not parts:
        raise TorquaryError(
            "nothing was asked: name a device, a terminal or a size: torquary find mcb 10mm2 outgoing",
            status=WRONG_USE,
        )
    return Question(**parts)


def _take_size(text: str, parts: dict[str, Any]) -> str:
    """Move the size that stands in the text into the parts; return the text without it."""
    sizes = find_sizes(text)
    if len(sizes) > 1:
        named = " and ".join(size.name for size in sizes)
        raise TorquaryError(f"two conductor sizes are asked for ({named}): ask for one at a time", status=WRONG_USE)
    for size in sizes:
        parts.update(_size_parts(size))
        return f"{text[: size.start]} {text[size.end :]}"
    return text


def _size_parts(size: Size) -> dict[str, Any]:
    if size.mm2 is not None and not _SMALLEST_MM2 <= size.mm2 <= _LARGEST_MM2:
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


def _fold(catalogue: Catalogue, text: str) -> list[str]:
    if text.isascii():
        # The same as fold_text, one query the less.
        return "".join(letter if letter.isalnum() else " " for letter in text.lower()).split()
    row = catalogue.rows("SELECT string_split(fold_text(?), ' ') AS words", [text])[0]
    return [word for word in row["words"] if word]


def _look_up(catalogue: Catalogue, phrases: list[str]) -> dict[str, dict[str, str]]:
    """Return phrase → part → concept for the phrases that are known words.

    Of two roles the narrower is meant first, the wider is kept as `or_role`.
    """
    known: dict[str, dict[str, str]] = {}
    wider: dict[str, list[str]] = {}
    for row in catalogue.rows(_KNOWN, {"phrases": phrases}):
        asked, kind = row["asked"], row["kind"]
        known.setdefault(asked, {}).setdefault(kind, row["concept"])
        if kind == "role" and row["concept"] in wider.setdefault(asked, row["wider"]):
            known[asked].setdefault("or_role", row["concept"])
    return known


def _take_words(catalogue: Catalogue, text: str, parts: dict[str, Any], kinds: Container[str] = _KINDS) -> str:
    """Move the known words of these kinds into the parts, longest first; return the words that are left."""
    tokens = _fold(catalogue, text) if text.strip() else []
    if not tokens:
        return ""
    phrases = {span: " ".join(tokens[slice(*span)]) for span in _spans(len(tokens))}
    known = _without_families_of_roles(phrases, _look_up(catalogue, list(phrases.values())))
    free = set(range(len(tokens)))
    for (first, last), phrase in phrases.items():
        meanings = {kind: concept for kind, concept in known.get(phrase, {}).items() if kind in kinds}
        if meanings and free.issuperset(range(first, last)) and _take(meanings, phrase, parts):
            free.difference_update(range(first, last))
    return " ".join(token for at, token in enumerate(tokens) if at in free)


def _without_families_of_roles(
    phrases: dict[tuple[int, int], str], known: dict[str, dict[str, str]]
) -> dict[str, dict[str, str]]:
    """Return what phrases mean: a "neutral bar" of a device that another word names is a terminal and no device."""
    families = [span for span, phrase in phrases.items() if "family" in known.get(phrase, {})]
    roles = {
        phrase
        for (first, last), phrase in phrases.items()
        if "role" in known.get(phrase, {}) and any(end <= first or last <= start for start, end in families)
    }
    return {
        phrase: {kind: concept for kind, concept in meant.items() if kind != "family" or phrase not in roles}
        for phrase, meant in known.items()
    }


def _spans(count: int) -> Iterator[tuple[int, int]]:
    """Yield the first word and the one behind the last of each phrase among so many words, the longest first."""
    for length in range(min(_LONGEST, count), 0, -1):
        yield from ((first, first + length) for first in range(count - length + 1))


def _take(meanings: dict[str, str], phrase: str, parts: dict[str, Any]) -> bool:
    """Let a phrase mean the first thing that the question has not yet; tell whether it means anything."""
    for kind, concept in meanings.items():
        if kind == "role":
            if _take_role(meanings, phrase, parts):
                return True
            continue
        if kind in parts or kind == "or_role":
            continue
        if kind != "ferrule":
            parts[kind] = concept
        elif concept in _FERRULES:
            parts[kind] = _FERRULES[concept]
        return True
    return False


def _take_role(meanings: dict[str, str], phrase: str, parts: dict[str, Any]) -> bool:
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
        folded = " ".join(_fold(catalogue, text))
        if not folded:
            raise TorquaryError(f"--{name} {text!r} holds no word", status=WRONG_USE)
        if name == "terminal":
            _take_terminal(catalogue, text, folded, parts)
            continue
        meanings = _look_up(catalogue, [folded]).get(folded, {})
        if name in ("material", "stranding") and name not in meanings:
            raise TorquaryError(_say_unknown(catalogue, name, text), status=WRONG_USE)
        parts[name] = meanings.get(name, folded)


def _take_terminal(catalogue: Catalogue, text: str, folded: str, parts: dict[str, Any]) -> None:
    """Take a typed terminal for the roles that all of its words name, else for a printed label alone."""
    for name in ("terminal", "roles", "or_roles"):
        parts.pop(name, None)
    named: dict[str, Any] = {}
    left = _take_words(catalogue, text, named, _ROLES)
    parts.update({"terminal": folded} if left else named)


def _say_unknown(catalogue: Catalogue, name: str, text: str) -> str:
    rows = catalogue.rows("SELECT DISTINCT concept FROM known_word WHERE kind = ? ORDER BY concept", [name])
    return f"--{name} {text!r} is not known: write one of {', '.join(row['concept'] for row in rows)}"
