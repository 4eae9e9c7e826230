"""What the catalogue knows near a question that it has no figure for, and the command to look with."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Mapping, Sequence

from torquary_catalogue.find.choices import Choice, list_choices, list_loaded, name_kind, name_part
from torquary_catalogue.find.query import MOST_BESIDE, ask, count_reach
from torquary_catalogue.find.question import Question
from torquary_catalogue.find.remarks import count_of, list_some, name_roles
from torquary_catalogue.find.row import Row
from torquary_catalogue.find.words import fold
from torquary_catalogue.store import Catalogue
from torquary_schema.vocabulary import vocabulary

_MOST_OUT = 3
_TERMINAL = ("terminal", "roles", "or_roles", "part")
_SIZE = ("mm2", "awg", "conductors")
_RATING = ("amps", "curve")
_KINDS = ("material", "stranding", "ferrule")
_FITTING = ("size", "unasked", "unsized")

_REFUSED = """
SELECT h.file, coalesce(first(f.message ORDER BY f.number), 'it could not be read') AS why
FROM sheet AS h LEFT JOIN finding AS f ON f.sheet = h.digest AND f.setting IS NULL
WHERE h.state = 'refused' GROUP BY h.digest, h.file ORDER BY h.file"""
_UNREAD = """
SELECT h.file, min_by(f.message, f.number) AS why FROM finding AS f JOIN sheet AS h ON h.digest = f.sheet
WHERE (f.code = 'pages_not_read' OR h.reader = 0) AND f.setting IS NULL AND h.state = 'read'
GROUP BY h.digest, h.file ORDER BY h.file"""
_REFUSED_NAME = "SELECT 1 FROM sheet WHERE state = 'refused' AND has_words(fold_names(file), $word) LIMIT 1"

_STATES = "SELECT DISTINCT state FROM sheet"

_OUT_OF_FORCE = """
SELECT h.file, h.state FROM sheet_word AS w JOIN sheet AS h ON h.number = w.sheet_number
WHERE h.state IN ('superseded', 'withdrawn') AND w.word IN (SELECT unnest($words::VARCHAR[]))
GROUP BY h.digest, h.file, h.state HAVING count(*) = len($words) ORDER BY h.file"""

_LOADED = """
SELECT m.name AS maker, list(DISTINCT d.name ORDER BY d.name) FILTER (d.name <> '') AS devices
FROM sheet_count AS m JOIN sheet AS h ON h.number = m.sheet_number
LEFT JOIN sheet_count AS d ON d.sheet_number = m.sheet_number AND d.kind = 'device'
WHERE h.state = 'read' AND m.kind = 'maker' GROUP BY m.name ORDER BY m.name"""
_FAMILY = """
SELECT 1 FROM sheet_count AS c JOIN sheet AS h ON h.number = c.sheet_number
WHERE h.state = 'read' AND c.kind = 'family' AND c.name = $family LIMIT 1"""

Known = tuple[tuple[str, ...], tuple[Choice, ...]]


def say_known(catalogue: Catalogue, question: Question, rows: Sequence[Row]) -> Known:
    """Return what is known though nothing fits, and choices to go on with.

    `rows` bear on the question and give no figure for its conductor.
    """
    notes = [*_say_near(question, rows), *_say_rejected(catalogue, question), *_say_other_screws(catalogue, question)]
    notes += _say_out_of_force(catalogue, question)
    if not _is_loaded(catalogue, question):
        notes += _say_loaded(catalogue)
    choices: tuple[Choice, ...] = ()
    if not rows:
        said, others = _find_without(catalogue, question)
        notes += said or _say_device(catalogue, question)
        choices = list_choices(others) if others else ()
    notes += say_refused(catalogue)
    return tuple(notes), choices or list_loaded(catalogue)


def say_strange(
    catalogue: Catalogue, question: Question, rest: Question, rows: Sequence[Row], strange: Sequence[str]
) -> Known:
    """Return what to say to words that nobody knows, and choices among the rows of the rest of the question."""
    notes = [*_say_out_of_force(catalogue, question)]
    some = "refused" in _read_states(catalogue)
    refused = [word for word in strange if some and catalogue.rows(_REFUSED_NAME, {"word": word})]
    notes += [
        f"“{word}” stands in no sheet in force, and is no word that is known here."
        for word in strange
        if word not in refused
    ]
    fitting = [row for row in rows if row.fit in _FITTING and row.state in ("released", "held")]
    notes += _say_loaded(catalogue)
    if fitting:
        notes.append(f"Without it {count_of(len(fitting), 'row')} would fit: {rest.command}")
    notes += say_refused(catalogue)
    return tuple(notes), list_choices(fitting) or list_loaded(catalogue)


def _is_loaded(catalogue: Catalogue, question: Question) -> bool:
    """Tell whether sheets of the maker and of the kind of device asked for are loaded."""
    if question.family and not catalogue.rows(_FAMILY, {"family": question.family}):
        return False
    makers = [row["maker"] for row in catalogue.rows(_LOADED)] if question.maker else []
    return not question.maker or any(f" {question.maker} " in f" {' '.join(fold(catalogue, one))} " for one in makers)


def _say_loaded(catalogue: Catalogue) -> Iterator[str]:
    return say_loaded({row["maker"]: row["devices"] or () for row in catalogue.rows(_LOADED)})


def say_loaded(devices: Mapping[str, Sequence[str]]) -> Iterator[str]:
    """Say whose sheets are loaded where the maker or device asked for is not. `devices`: maker ("": none) → its own."""
    named = [f"{maker} ({list_some(of, '; ')})" if of else maker for maker, of in devices.items() if maker]
    if named:
        yield f"Sheets are loaded of {list_some(named)}: torquary sheets lists them."
    elif devices.get(""):
        yield f"Sheets are loaded that name no maker ({list_some(devices[''], '; ')}): torquary sheets lists them."


def say_where_held(rows: Sequence[Row]) -> Iterator[str]:
    """Say which sheet and page to look at for readings that are held."""
    places = dict.fromkeys(f"{row.file}, page {row.page}" if row.page else row.file for row in rows)
    yield f"Look at {list_some(places, '; ')}. To see each beside its picture: torquary held --pictures FOLDER"


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
        yield f"Readings for other conductors than {question.size} wait for a decision ({printed}): torquary held"
    for row in rows:
        if row.state == "released":
            where = f"{row.file} page {row.page}"
            yield f"“{row.conductor_printed}” was not read as a size ({where}): compare it on the sheet."


def _say_rejected(catalogue: Catalogue, question: Question) -> Iterator[str]:
    return (write_rejected(row) for row in ask(catalogue, question, state="rejected") if row.fit in _FITTING)


def write_rejected(row: Row) -> str:
    """Write who rejected the figure of a row, when and why."""
    when = f"{row.decided_at:%Y-%m-%d}" if row.decided_at else ""
    return (
        f"A figure for {row.terminal_printed} of {row.device_printed} was rejected by {row.who}, {when}: "
        f"{row.why} ({row.file} page {row.page}). To see it: torquary read {row.file}; "
        f"to decide anew: torquary decide {row.id}"
    )


def _say_other_screws(catalogue: Catalogue, question: Question) -> Iterator[str]:
    """Say that screws of the device are known that are no electrical terminals; their figures are never the answer."""
    device = question.without(*_TERMINAL, *_SIZE, *_KINDS)
    if question.purpose is not None or not device.parts():
        return
    found: dict[str, list[Row]] = {}
    for row in ask(catalogue, device.for_screws("no_terminal")):
        found.setdefault(row.purpose, []).append(row)
    for purpose, rows in found.items():
        named = list_some(dict.fromkeys(row.terminal_printed for row in rows))
        are = "is for another screw" if len(rows) == 1 else "are for other screws"
        term = vocabulary("purpose")[purpose].term
        command = device.for_screws(purpose).command
        yield f"{count_of(len(rows), 'row')} {are} ({term}: {named}), not for a terminal: {command}"


def _find_without(catalogue: Catalogue, question: Question) -> tuple[list[str], list[Row]]:
    """Say which part of the question keeps its rows away; return the rows that there would be without the first."""
    notes = [note for name in _KINDS for note in _say_denied(catalogue, question, name)]
    first: list[Row] = []
    for what, rest in _leave_out(question):
        reach = count_reach(catalogue, rest) if rest.parts() else 0
        if reach > MOST_BESIDE:
            notes.append(f"Leave out {what}, and the question is for sheets with {reach:,} settings: {rest.command}")
            continue
        rows = [row for row in ask(catalogue, rest)] if rest.parts() else []
        if rows:
            named = list_some(dict.fromkeys(row.terminal_printed for row in rows))
            there = "there is" if len(rows) == 1 else "there are"
            notes.append(f"Leave out {what}, and {there} {count_of(len(rows), 'row')} ({named}): {rest.command}")
            first = first or rows
    return notes, first


def _leave_out(question: Question) -> Iterator[tuple[str, Question]]:
    """Yield each part of the question in words, and the question without it."""
    asked = question.parts()
    for names in (_TERMINAL, _SIZE, _RATING, ("family",), ("maker",), ("series",), ("purpose",)):
        if set(names) & set(asked):
            yield _name_part(question, names), question.without(*names)
    words = (question.words or "").split()
    for word in words:
        yield f"“{word}”", question.without_words((word,))
    if len(words) > 1:
        yield f"“{question.words}”", question.without("words")


def _say_device(catalogue: Catalogue, question: Question) -> list[str]:
    """Say that the device is known where several parts of the question keep its rows away."""
    device = question.without(*_TERMINAL, *_SIZE, *_KINDS)
    count = len(ask(catalogue, device)) if device.parts() else 0
    are = "is known for another terminal or conductor" if count == 1 else "are known for other terminals or conductors"
    return [f"{count_of(count, 'row')} {are}: {device.command}"] if count else []


def _name_part(question: Question, names: tuple[str, ...]) -> str:
    if names == _TERMINAL:
        typed = question.terminal or name_roles(question.roles or ()) or name_part(question.part or "")
        return f"the terminal “{typed}”"
    if names == _SIZE:
        return question.size
    if names == _RATING:
        return question.rating
    if names == ("family",):
        return f"“{name_kind(question.family or '')}”"
    return f"{names[0]} “{getattr(question, names[0])}”"


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
        say = "says" if len(rows) == 1 else "say"
        yield f"{count_of(len(rows), 'row')} {say} {printed}, not {wish}: {rest.command}"


def _name_kinds(kinds: tuple[str, ...] | str | bool | None) -> tuple[str, ...]:
    if kinds is None or isinstance(kinds, tuple):
        return kinds or ()
    if isinstance(kinds, str):
        return (kinds,)
    return ("with ferrule",) if kinds else ("without ferrule",)


def _say_out_of_force(catalogue: Catalogue, question: Question) -> Iterator[str]:
    """Say that sheets with these words are in the catalogue and answer nothing, for they are out of force."""
    asked = " ".join(part for part in (question.words, question.family, question.maker, question.series) if part)
    words = list(dict.fromkeys(fold(catalogue, asked)))
    if not _read_states(catalogue) & {"superseded", "withdrawn"}:
        return
    for row in catalogue.rows(_OUT_OF_FORCE, {"words": words})[:_MOST_OUT]:
        yield f"{row['file']} has it and is {row['state']}: torquary sheet {shlex.quote(row['file'])} says why."


def _read_states(catalogue: Catalogue) -> set[str]:
    """Return the states that sheets have: what is said of one that none has need not be looked for."""
    return {row["state"] for row in catalogue.rows(_STATES)}


def say_refused(catalogue: Catalogue) -> Iterator[str]:
    """Say which sheets were refused, or not read whole, so that what they print is not known."""
    for row in catalogue.rows(_UNREAD)[:_MOST_OUT]:
        yield f"{row['file']} was not read whole, and what else it prints is not known: {row['why']}"
    refused = catalogue.rows(_REFUSED) if "refused" in _read_states(catalogue) else []
    if refused:
        first = refused[0]
        others = f"; so were {list_some([row['file'] for row in refused[1:]])}" if refused[1:] else ""
        yield (
            f"{first['file']} was refused, and what it prints is not known: {first['why']}{others}. "
            f"To see why: torquary read {first['file']}"
        )
