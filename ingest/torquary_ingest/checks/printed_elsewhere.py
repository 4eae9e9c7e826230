"""Torques in texts that were not read as settings: one that names a released terminal and differs holds it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from itertools import islice

from torquary_ingest.checks import may_be_given
from torquary_ingest.checks.contradiction import ROUNDED, markings_of, may_be_one_device, role_words_of, unmarked_name
from torquary_ingest.checks.sizes import figure_of
from torquary_ingest.headings.designations import find_types
from torquary_ingest.lexis.figures import NO_NAME
from torquary_ingest.lexis.other_screws import other_screws
from torquary_ingest.lexis.threads import thread_spans
from torquary_ingest.scope import split_sentences
from torquary_ingest.unit_registry import newton_metres
from torquary_schema.roles import may_share_terminal, says_terminal, tells_which
from torquary_schema.units import find_units
from torquary_schema.values import Finding, Place, Setting
from torquary_schema.words import fold, spot

_SPEAKING = ("figure_not_placed", "note_attached", "note_changes_value", "table_no_headings")
_LABEL_WORDS = 2
"""Words of a name at least that names the same terminal wherever it is printed (own choice)."""
_RANGES = ("from", "range", "min", "max")
_FIGURE = re.compile(rf"{NO_NAME}(\d+(?:[.,]\d+)?)\s*[\])]?\s*$")


def check_elsewhere(settings: Sequence[Setting], findings: Sequence[Finding]) -> Iterator[tuple[int, Finding]]:
    """Hold each setting that is or may be given whose terminal a text that was not read names beside another torque.

    `findings` are those that no setting carries; the notes on settings speak too.

    A sentence that names types of the sheet speaks of those alone.
    """
    types = _types_of(settings)
    told_of = (*findings, *_notes_of(settings))
    spoken = ((finding, line) for finding in told_of if finding.code in _SPEAKING for line in _lines_of(finding))
    told = ((finding, line, figures) for finding, line in spoken if (figures := _figures_in(line)))
    texts = [(finding, line, figures) for finding, line, figures in told if not _was_read(line, figures, settings)]
    for at, setting in enumerate(settings):
        if not may_be_given(setting) or setting.purpose != "electrical_terminal":
            continue
        own = [figure for figure in figure_of(setting) if figure is not None]
        meant = (one for one in texts if _may_speak_of(one[1], setting, types) and _speaks_of(*one[:2], setting))
        against = ((finding, line) for finding, line, figures in meant if not _any_near(own, figures))
        yield from ((at, _elsewhere(setting, finding.place, line)) for finding, line in islice(against, 1))


def _notes_of(settings: Iterable[Setting]) -> Iterator[Finding]:
    """Yield the notes that hang on settings, with their own text as what is printed."""
    for setting in settings:
        for finding in setting.findings:
            if finding.code.startswith("note_"):
                yield replace(finding, printed=finding.message)


def check_sentences(settings: Sequence[Setting]) -> Iterator[tuple[int, Finding]]:
    """Hold each setting that is or may be given whose whole name a held sentence has beside another torque.

    What the sentence was read for may be another terminal than the one that it names.
    """
    types = _types_of(settings)
    texts = list(_held_sentences(settings))
    released = ((at, setting) for at, setting in enumerate(settings) if may_be_given(setting))
    for at, setting in released:
        own = [figure for figure in figure_of(setting) if figure is not None]
        against = (
            (other, text)
            for other, text, figures in texts
            if _means(text, other, setting, types) and not _any_near(own, figures)
        )
        yield from ((at, _elsewhere(setting, other.place, text)) for other, text in islice(against, 1))


def _held_sentences(settings: Iterable[Setting]) -> Iterator[tuple[Setting, str, tuple[Decimal, ...]]]:
    """Yield the sentences outside tables of which a torque is held, with the torques that they print."""
    held = (setting for setting in settings if setting.state == "held" and setting.place.table is None)
    spoken = ((setting, text) for setting in held for text in split_sentences(setting.place.text))
    yield from ((setting, text, figures) for setting, text in spoken if (figures := _figures_in(text)))


def _means(text: str, other: Setting, setting: Setting, types: frozenset[str]) -> bool:
    """Tell whether a sentence that was read as another setting may mean this one's terminal."""
    name = setting.terminal.printed
    if _type_in(text, types):
        return _may_speak_of(text, setting, types) and (_has_name(text, name) or _names(text, setting))
    return _has_name(text, name) and may_be_one_device(setting.device, other.device)


def _types_of(settings: Iterable[Setting]) -> frozenset[str]:
    """Return the types that settings print for their devices, folded: letters and figures, no number alone."""
    types = (one for setting in settings for one in _own_types(setting))
    return frozenset(one for one in types if any(map(str.isalpha, one)) and any(map(str.isdigit, one)))


def _own_types(setting: Setting) -> frozenset[str]:
    """Return the types that a setting prints for its device, folded: each of several, or the one as it is."""
    printed = [text for text in (setting.device.model, setting.device.series) if text]
    listed = ((types if len(types := find_types(text)) > 1 else {fold(text)}) for text in printed)
    return frozenset(one for types in listed for one in types)


def _type_in(text: str, types: frozenset[str]) -> str:
    """Return the one type that a text names, folded; "" where it names none, several, or a range ("from KM-65 on")."""
    said = fold(text)
    found = [match for one in types for match in re.finditer(rf"(?<![\w-]){re.escape(one)}(?![\w-])", said)]
    if len({match[0] for match in found}) != 1:
        return ""
    beside = (part for match in found for part in (said[: match.start()].split()[-2:], said[match.end() :].split()[:2]))
    ranged = any(one.concept in _RANGES for words in beside for one in spot("connective", " ".join(words)))
    return "" if ranged else found[0][0]


def _may_speak_of(text: str, setting: Setting, types: frozenset[str]) -> bool:
    """Tell whether a text names no type of the sheet, or the setting's own."""
    named, own = _type_in(text, types), _own_types(setting)
    return not named or not own or named in own


def _has_name(text: str, label: str) -> bool:
    """Tell whether a text has a name of several words whole, or without its markings and with no other ones."""
    names = (rf"{re.escape(fold(label))}(?!\w)", rf"{re.escape(unmarked_name(label))}(?!\w)(?!\W*\w*\d)")
    long = (name for name in names if name.count("\\ ") >= _LABEL_WORDS - 1)
    return any(re.search(rf"(?<!\w){name}", fold(text)) for name in long)


def _was_read(line: str, figures: Sequence[Decimal], settings: Sequence[Setting]) -> bool:
    """Tell whether all torques of a line were read as settings: as such they are compared."""
    text = " ".join(line.split())
    own = [one for setting in settings if text in " ".join(setting.place.text.split()) for one in figure_of(setting)]
    return all(any(_near(figure, one) for one in own if one is not None) for figure in figures)


def _lines_of(finding: Finding) -> list[str]:
    """Return the lines and sentences of what was found: each speaks for itself.

    So do cards in a table that was not understood: all of it, or a column, with one torque alone.
    """
    cards = _cards_in(finding.printed) if finding.code == "table_no_headings" else ()
    return [*split_sentences(finding.printed), *cards]


def _cards_in(printed: str) -> Iterator[str]:
    """Yield the print of a table and of its columns that give one torque each."""
    rows = [row.split(" | ") for row in printed.split("\n")]
    columns = zip(*rows, strict=True) if len({len(row) for row in rows}) == 1 else ()
    texts = (" ".join(part for part in column if part.strip()) for column in columns)
    yield from (text for text in (*texts, " ".join(printed.split())) if len(_figures_in(text)) == 1)


def _figures_in(text: str) -> tuple[Decimal, ...]:
    """Return the torques in N·m that a text prints with their units."""
    found = []
    for unit in find_units(text):
        figure = _FIGURE.search(text[: unit.start])
        if unit.kind == "torque" and unit.certain and figure is not None:
            found.append(newton_metres(Decimal(figure[1].replace(",", ".")), unit.name))
    return tuple(found)


def _speaks_of(finding: Finding, text: str, setting: Setting) -> bool:
    """Tell whether a text may be of a setting's terminal; one of a table that was not understood by its marks alone."""
    return _marks(text, setting) if finding.code == "table_no_headings" else _names(text, setting)


def _names(text: str, setting: Setting) -> bool:
    return _marks(text, setting) or _says_role(text, setting)


def _marks(text: str, setting: Setting) -> bool:
    """Tell whether a text prints a marking of a setting's terminal, or the thread that alone tells it."""
    marks = markings_of(setting.terminal.printed) & markings_of(text)
    lettered = any(not mark.isdecimal() for mark in marks)
    return lettered or _has_marking(text, setting) or _has_thread(text, setting)


def _says_role(text: str, setting: Setting) -> bool:
    named, roles = role_words_of(text), setting.terminal.roles
    told = bool(named and roles) and not markings_of(setting.terminal.printed)
    return told and may_share_terminal(roles, named)


def _has_marking(text: str, setting: Setting) -> bool:
    """Tell whether a text prints a marking of letters and figures that a setting's name has: "X7", not "7" or "N"."""
    marks = (mark for mark in markings_of(setting.terminal.printed) if not (mark.isdecimal() or mark.isalpha()))
    return any(re.search(rf"(?<![\w-]){re.escape(mark)}(?![\w-])", text) for mark in marks)


def _has_thread(text: str, setting: Setting) -> bool:
    """Tell whether a text is of terminals with the thread that alone tells which a setting is for: "Terminal M8"."""
    own, label = setting.terminal.thread, setting.terminal.printed
    told = own and says_terminal(text) and not other_screws(text) and not tells_which(label)
    return bool(told) and any(text[start:end] == own for start, end in thread_spans(text))


def _any_near(own: Iterable[Decimal], figures: Sequence[Decimal]) -> bool:
    return any(_near(one, two) for one in own for two in figures)


def _near(one: Decimal, other: Decimal) -> bool:
    return abs(one - other) <= ROUNDED * max(one, other)


def _elsewhere(setting: Setting, place: Place | None, text: str) -> Finding:
    page = place.page if place else None
    return Finding(
        code="contradicted",
        message=f"page {page or '?'} says {text!r}, another torque for what may be the same terminal; "
        "find out which holds",
        place=setting.place,
        printed=setting.place.text,
    )
