"""What the catalogue knows near a question that it has no figure for, and the command to look with."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Sequence

from torquary_catalogue.find.query import ask
from torquary_catalogue.find.question import Question
from torquary_catalogue.find.remarks import list_some, name_roles
from torquary_catalogue.find.row import Row
from torquary_catalogue.store import Catalogue
from torquary_schema.vocabulary import vocabulary

_MOST_OUT = 3
_TERMINAL = ("terminal", "roles", "or_roles")
_SIZE = ("mm2", "awg", "conductors")
_KINDS = ("material", "stranding", "ferrule")
_FITTING = ("size", "unasked", "unsized")

_REFUSED = """
SELECT h.file, coalesce(first(f.message ORDER BY f.number), 'it could not be read') AS why
FROM sheet AS h LEFT JOIN finding AS f ON f.sheet = h.digest AND f.setting IS NULL
WHERE h.state = 'refused' GROUP BY h.digest, h.file ORDER BY h.file"""
_HAS_WORD = """
SELECT 1 FROM sheet_words AS w JOIN sheet AS h ON h.digest = w.sheet
WHERE h.state = 'read' AND has_words(w.all_words, $word)
UNION ALL SELECT 1 FROM sheet WHERE state = 'refused' AND has_words(fold_names(file), $word) LIMIT 1"""

_OUT_OF_FORCE = """
SELECT h.file, h.state FROM sheet_words AS w JOIN sheet AS h ON h.digest = w.sheet
WHERE h.state IN ('superseded', 'withdrawn') AND $words <> '' AND has_each_word(w.all_words, $words)
ORDER BY h.file"""


def say_known(catalogue: Catalogue, question: Question, rows: Sequence[Row]) -> tuple[str, ...]:
    """Return what is known though nothing fits; `rows` bear on the question and give no figure for its conductor."""
    notes = [*_say_near(question, rows), *_say_rejected(catalogue, question), *_say_other_screws(catalogue, question)]
    strange = [word for word in (question.words or "").split() if not catalogue.rows(_HAS_WORD, {"word": word})]
    notes += _say_out_of_force(catalogue, question)
    notes += [f"No sheet in force has the word {word!r}." for word in strange]
    if not strange and not rows:
        notes += [*_say_without(catalogue, question)] or _say_device(catalogue, question)
    return (*notes, *_say_refused(catalogue))


def say_other_terminals(catalogue: Catalogue, question: Question) -> tuple[str, ...]:
    """Return which terminals have a figure where the one asked for has none: none of them is the answer."""
    wider = question.without(*_TERMINAL)
    if question.terminal is None or not wider.parts():
        return ()
    rows = [row for row in ask(catalogue, wider) if row.state == "released" and row.fit in _FITTING]
    named = dict.fromkeys(row.terminal_printed for row in rows)
    if not named:
        return ()
    return (f"For other terminals a figure is known ({list_some(named)}): {wider.command}",)


def _say_near(question: Question, rows: Sequence[Row]) -> Iterator[str]:
    held = [row for row in rows if row.state == "held"]
    if held:
        printed = list_some(dict.fromkeys(f"{row.terminal_printed} {row.conductor_printed}".strip() for row in held))
        yield f"Readings for other conductors than {question.size} are held ({printed}): see torquary held."
    for row in rows:
        if row.state == "released":
            where = f"{row.file} page {row.page}"
            yield f"“{row.conductor_printed}” was not read as a size ({where}): compare it on the sheet."


def _say_rejected(catalogue: Catalogue, question: Question) -> Iterator[str]:
    for row in ask(catalogue, question, state="rejected"):
        if row.fit in _FITTING:
            when = f"{row.decided_at:%Y-%m-%d}" if row.decided_at else ""
            yield (
                f"A figure for {row.terminal_printed} of {row.device_printed} was rejected by {row.who}, {when}: "
                f"{row.why} ({row.file} page {row.page}). To see it: torquary read {row.file}; "
                f"to decide anew: torquary decide {row.id}"
            )


def _say_other_screws(catalogue: Catalogue, question: Question) -> Iterator[str]:
    """Say that screws of the device are known that are no electrical terminals; their figures are never the answer."""
    device = question.without(*_TERMINAL, *_SIZE, *_KINDS)
    if question.purpose is not None or not device.parts():
        return
    for purpose, entry in vocabulary("purpose").items():
        other = device.for_screws(purpose)
        rows = ask(catalogue, other) if purpose != "electrical_terminal" else ()
        if rows:
            named = list_some(dict.fromkeys(row.terminal_printed for row in rows))
            yield f"{len(rows)} row(s) are for other screws ({entry.term}: {named}), for no terminal: {other.command}"


def _say_without(catalogue: Catalogue, question: Question) -> Iterator[str]:
    """Say what would be known if one part of the question were left out."""
    for name in _KINDS:
        yield from _say_denied(catalogue, question, name)
    asked = question.parts()
    for names in (_TERMINAL, _SIZE, ("family",), ("maker",), ("series",), ("words",)):
        rest = question.without(*names)
        rows = ask(catalogue, rest) if rest.parts() and set(names) & set(asked) else ()
        if rows:
            what = _name_part(question, names)
            named = list_some(dict.fromkeys(row.terminal_printed for row in rows))
            yield f"Without {what} there would be {len(rows)} row(s) ({named}): {rest.command}"


def _say_device(catalogue: Catalogue, question: Question) -> list[str]:
    """Say that the device is known where several parts of the question keep its rows away."""
    device = question.without(*_TERMINAL, *_SIZE, *_KINDS)
    count = len(ask(catalogue, device)) if device.parts() else 0
    return [f"{count} row(s) are known for other terminals or conductors: {device.command}"] if count else []


def _name_part(question: Question, names: tuple[str, ...]) -> str:
    if names == _TERMINAL:
        return f"the terminal {question.terminal or name_roles(question.roles or ())!r}"
    return question.size if names == _SIZE else f"{names[0]} {getattr(question, names[0])!r}"


def _say_denied(catalogue: Catalogue, question: Question, name: str) -> Iterator[str]:
    """Say that rows would fit, were they not printed for another kind of conductor."""
    if getattr(question, name) is None:
        return
    rest = question.without(name)
    rows = [row for row in ask(catalogue, rest) if row.fit in _FITTING] if rest.parts() else []
    if rows:
        kinds = (_name_kinds(getattr(row, name)) or ("no aluminium",) for row in rows)
        printed = list_some(dict.fromkeys(said for each in kinds for said in each))
        wish = list_some(_name_kinds(getattr(question, name)))
        yield f"{len(rows)} row(s) say {printed}, not {wish}: {rest.command}"


def _name_kinds(kinds: tuple[str, ...] | str | bool | None) -> tuple[str, ...]:
    if kinds is None or isinstance(kinds, tuple):
        return kinds or ()
    if isinstance(kinds, str):
        return (kinds,)
    return ("with ferrule",) if kinds else ("without ferrule",)


def _say_out_of_force(catalogue: Catalogue, question: Question) -> Iterator[str]:
    """Say that sheets with these words are in the catalogue and answer nothing, for they are out of force."""
    words = " ".join(part for part in (question.words, question.family, question.series) if part)
    for row in catalogue.rows(_OUT_OF_FORCE, {"words": words})[:_MOST_OUT]:
        yield f"{row['file']} has it and is {row['state']}: torquary sheet {shlex.quote(row['file'])} says why."


def _say_refused(catalogue: Catalogue) -> Iterator[str]:
    refused = catalogue.rows(_REFUSED)
    if refused:
        first = refused[0]
        others = f"; so were {list_some([row['file'] for row in refused[1:]])}" if refused[1:] else ""
        yield (
            f"{first['file']} was refused, and what it prints is not known: {first['why']}{others}. "
            f"To see why: torquary read {first['file']}"
        )
