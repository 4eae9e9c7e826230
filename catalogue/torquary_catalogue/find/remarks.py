"""What is said with figures: how the question was taken, what is held beside them, what the rows do not state."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from torquary_catalogue.find.question import Question
from torquary_catalogue.find.row import Row
from torquary_schema.vocabulary import SIDES, vocabulary

_MOST_NAMED = 3


def say_first(question: Question, rows: Sequence[Row], held: Sequence[Row]) -> tuple[str, ...]:
    """Return what has to be said before the figures of `rows`; `held` are readings that would fit as well."""
    every = (*rows, *held)
    return (*question.said, *_say_meaning(question, every), *_say_elsewhere(question, every), *_say_held(held))


def _say_elsewhere(question: Question, rows: Sequence[Row]) -> Iterator[str]:
    """Say that the sheet tells its terminals apart by other words than the one asked with, and by which."""
    elsewhere = [row for row in rows if row.terminal_fit == "elsewhere"]
    if elsewhere:
        asked = question.part or question.terminal
        printed = list_some(dict.fromkeys(f"“{row.terminal_printed}”" for row in elsewhere))
        yield f"“{asked}” is not printed; the words of the sheet are {printed}. Choose by these."


def _say_meaning(question: Question, rows: Sequence[Row]) -> Iterator[str]:
    """Say which of the two meanings of a word was taken, and for which devices if for both."""
    if question.or_roles is None or question.roles is None:
        return
    second = dict.fromkeys(row.device_printed for row in rows if row.terminal_fit == "or_role")
    first = dict.fromkeys(row.device_printed for row in rows if row.terminal_fit in ("label", "role"))
    word, supply, phase = question.terminal, name_roles(question.roles), name_roles(question.or_roles)
    if first:
        where = f" of {list_some(first)}" if second else ""
        yield f"“{word}” was taken for the {supply}{where}."
    if second:
        where = f" of {list_some(second)}" if first else ""
        yield f"The sheet names no {supply}: “{word}” was taken for the {phase}{where}."


def _say_held(held: Sequence[Row]) -> Iterator[str]:
    if not held:
        return
    if held[0].terminal_fit == "unasked":
        would = "reading would fit and waits" if len(held) == 1 else "readings would fit and wait"
        yield f"{len(held)} more {would} for a decision: torquary held"
        return
    places = [f"{row.terminal_printed} of {row.device_printed}, {row.file} page {row.page}" for row in held]
    named = list_some(dict.fromkeys(places), "; ")
    yield f"Held for the terminal asked for, not given: {named}. To decide: torquary held"


def count_of(count: int, thing: str) -> str:
    """Return a number of things in words: "1 row", "3 rows"."""
    return f"{count} {thing}" if count == 1 else f"{count} {thing}s"


def list_some(names: Iterable[str], joint: str = ", ") -> str:
    """Return the first names in one line, and how many more there are."""
    kept = list(names)
    more = f" and {len(kept) - _MOST_NAMED} more" if len(kept) > _MOST_NAMED else ""
    return joint.join(kept[:_MOST_NAMED]) + more


def note_figures(question: Question, rows: Sequence[Row], others: int) -> tuple[str, ...]:
    """Return what has to be said behind the figures; `others` rows print sizes in another system."""
    notes = [*_note_limits(rows)]
    if any(row.fit == "unsized" for row in rows):
        notes.append("No conductor size is printed for the figure: check that the terminal takes yours.")
    unstated = dict.fromkeys(aspect for row in rows for aspect in not_stated(question, row))
    if unstated:
        notes.append(f"{' and '.join(unstated).capitalize()} not stated by the sheet: check that it takes yours.")
    notes += _note_terminals(question, rows)
    if others:
        say = "row prints" if others == 1 else "rows print"
        notes.append(f"{others} more {say} conductor sizes in another system, which were not compared.")
    return tuple(notes)


def _note_limits(rows: Sequence[Row]) -> Iterator[str]:
    count = sum(row.is_limit for row in rows)
    if 0 < count < len(rows):
        prints = "row prints" if count == 1 else "rows print"
        yield f"{count} {prints} a limit alone: not more than that, which is no setting."


def _note_terminals(question: Question, rows: Sequence[Row]) -> Iterator[str]:
    fits = {row.terminal_fit for row in rows}
    if "any" in fits:
        yield "The sheet names no terminal in particular: the figure stands for all of the device."
    asked = name_roles(question.roles or ())
    wider = [row for row in rows if row.terminal_fit == "wider"]
    if wider:
        printed = _name_printed(wider)
        yield f"The sheet does not say “{asked}”: the figure is printed for {printed}, without saying more."
    more = [row for row in rows if row.terminal_fit == "narrower" or _says_more(question, row)]
    if more:
        yield f"Asked was {asked}; the sheet says more: {_name_printed(more)}."


def _name_printed(rows: Iterable[Row]) -> str:
    return ", or ".join(sorted({name_roles(row.roles) for row in rows}))


def _says_more(question: Question, row: Row) -> bool:
    """Tell whether a row names a side where none was asked for, or other conductors than the side's own."""
    asked, printed = set(question.roles or ()), set(row.roles)
    if not asked or not printed:
        return False
    if asked <= SIDES:
        implied = {wide for role in asked for wide in vocabulary("role")[role].wider}
        return not printed - SIDES <= implied
    return not asked & SIDES and bool(printed & SIDES)


def name_roles(roles: Iterable[str]) -> str:
    """Return the terms for roles, joined; the key itself if the vocabulary lacks it."""
    known = vocabulary("role")
    return " and ".join(known[role].term if role in known else role for role in roles)


def not_stated(question: Question, row: Row) -> tuple[str, ...]:
    """Return the parts of conductor and rating that the question says and the row does not."""
    asked = (
        ("material", question.material, row.material),
        ("stranding", question.stranding, row.stranding),
        ("ferrule", question.ferrule, row.ferrule is not None),
        ("rated current", question.amps, row.amps_said),
        ("characteristic", question.curve, row.curve_said),
    )
    return tuple(name for name, wish, said in asked if wish is not None and not said)
