"""One terminal, one torque on all of a sheet: whatever is printed of it elsewhere and differs holds the figure."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import combinations

from torquary_ingest.checks.sizes import figure_of, may_meet
from torquary_ingest.headings.designations import find_types
from torquary_ingest.headings.sense import label_key
from torquary_ingest.lexis.note_marks import NOTE_SIGNS
from torquary_schema.roles import may_share_terminal, names_any_terminal, says_terminal, spot_roles
from torquary_schema.units import find_units
from torquary_schema.values import Device, Finding, Setting
from torquary_schema.vocabulary import roles_of_markings, vocabulary
from torquary_schema.words import fold

_BETWEEN = re.compile(r"[\s,;/&()]+")
_MARKING = re.compile(r"(?!PZ|PH|IP)[A-Z]{1,2}\d{1,2}|\d{1,3}")
_LETTER = 2
"""Letters or digits of a word at most that tells devices of one type apart (own choice)."""
_FIGURE = re.compile(r"\d+(?:[.,]\d+)?")
_ENDS = ("lowest", "highest")
"""Two figures of a rated current are the ends of a range; more are a list."""

_ANY_TERMINAL = "terminals"
"""What names of no terminal in particular are compared by: "Klemmen", "terminals"."""

ROUNDED = Decimal("0.03")
"""Share by which a torque printed in another unit with two digits may differ by rounding."""


def check_contradiction(settings: Sequence[Setting]) -> Iterator[tuple[int, Finding]]:
    """Hold each of two settings that may be for the same terminal and conductor and whose torques differ."""
    for at, beside in sorted(_pairs(settings)):
        one, other = settings[at], settings[beside]
        if "released" in (one.state, other.state) and may_be_one(one, other) and differ(one, other):
            yield at, contradicted(one, other)
            yield beside, contradicted(other, one)
    yield from _check_limits_for_all(settings)
    yield from _check_unnamed(settings)


def _check_unnamed(settings: Sequence[Setting]) -> Iterator[tuple[int, Finding]]:
    """Hold what a held torque of "terminals" may be for, where it is the torque of none that the sheet names."""
    named = [at for at, one in enumerate(settings) if _counts(one) and not names_any_terminal(one.terminal.printed)]
    for unnamed in settings:
        if unnamed.state == "released" or not _counts(unnamed) or not _says_terminals(unnamed):
            continue
        types = find_types(unnamed.place.text)
        meant = [at for at in named if _may_be_among(unnamed, settings[at]) and _is_of_types(settings[at], types)]
        if all(differ(settings[at], unnamed) for at in meant):
            yield from ((at, contradicted(settings[at], unnamed)) for at in meant if settings[at].state == "released")


def _is_of_types(setting: Setting, types: frozenset[str]) -> bool:
    """Tell whether a device may be one of the types that a text names; of any where it names none."""
    return not types or bool(types & find_types(setting.device.printed))


def _says_terminals(setting: Setting) -> bool:
    """Tell whether a setting is for a general word for terminals; a note is for what its mark hangs on."""
    label = setting.terminal.printed
    return says_terminal(label) and names_any_terminal(label) and setting.place.text[:1] not in NOTE_SIGNS


def _may_be_among(unnamed: Setting, named: Setting) -> bool:
    one, other = unnamed.device, named.device
    return may_be_one_device(one, other) and may_meet(unnamed.conductor, named.conductor)


def _check_limits_for_all(settings: Sequence[Setting]) -> Iterator[tuple[int, Finding]]:
    """Hold a limit for all terminals ("Do not exceed 2 N·m on any terminal"), and each setting that is above it."""
    limits = [at for at, setting in enumerate(settings) if _counts(setting) and _is_limit_for_all(setting)]
    for at, beside in ((at, beside) for at in limits for beside in range(len(settings))):
        one, other = settings[at], settings[beside]
        if "released" in (one.state, other.state) and _is_above(other, one):
            yield at, contradicted(one, other)
            yield beside, contradicted(other, one)


def _is_limit_for_all(setting: Setting) -> bool:
    low, high, limit = figure_of(setting)
    return limit is not None and low is high is None and names_any_terminal(setting.terminal.printed)


def _is_above(setting: Setting, limit: Setting) -> bool:
    """Tell whether a setting that a limit may be for is above it, beyond the rounding of another unit."""
    highest, bound = figure_of(setting)[1], figure_of(limit)[2]
    above = _counts(setting) and highest is not None and bound is not None and highest > bound * (1 + ROUNDED)
    return above and may_be_one_device(setting.device, limit.device) and may_meet(setting.conductor, limit.conductor)


def _pairs(settings: Sequence[Setting]) -> set[tuple[int, int]]:
    """Return the pairs of settings that share a marking, role or name, and no two models: few of a long list."""
    by_name: dict[str, dict[str, list[int]]] = {}
    for at, setting in enumerate(settings):
        if _counts(setting):
            for name in _name_keys(setting):
                by_name.setdefault(name, {}).setdefault(fold(setting.device.model or ""), []).append(at)
    found: set[tuple[int, int]] = set()
    for models in by_name.values():
        any_model = models.get("", [])
        for model, places in models.items():
            found |= set(combinations(sorted({*places, *(any_model if model else ())}), 2))
    return found


def _name_keys(setting: Setting) -> set[str]:
    terminal = setting.terminal
    wider = (wide for role in terminal.roles for wide in vocabulary("role")[role].wider)
    roles = {f"role {role}" for role in (*terminal.roles, *wider)}
    plain = unmarked_name(terminal.printed)
    return {*markings_of(terminal.printed), _key_of(terminal.printed), *([plain] if plain else ()), *roles}


def unmarked_name(label: str) -> str:
    """Return a name without the markings at its end ("relay terminals 21 to 26"), folded; "" for a general word."""
    words = label.split()
    plain = " ".join(words[: next((at for at, word in enumerate(words) if any(map(str.isdigit, word))), len(words))])
    return "" if names_any_terminal(plain) else fold(plain)


def _counts(setting: Setting) -> bool:
    torque = setting.torque
    return setting.purpose == "electrical_terminal" and torque is not None and torque.is_read


def may_be_one(one: Setting, other: Setting) -> bool:
    """Tell whether nothing known tells two settings apart: device, rated current, terminal, thread, conductor."""
    return (
        may_be_one_device(one.device, other.device)
        and _may_be_one_name(one, other)
        and _alike(one.terminal.thread, other.terminal.thread)
        and may_meet(one.conductor, other.conductor)
    )


def may_be_one_device(one: Device, other: Device) -> bool:
    """Tell whether nothing printed keeps two devices apart: model, series, rated current, name.

    A kind of device has another word in each language, its type the same: "Raumthermostat RT 7", "Thermostat RT 7".
    """
    if not (_alike(one.model, other.model) and _alike(one.series, other.series)):
        return False
    if not _may_be_one_rating(one.rated_current, other.rated_current):
        return False
    names = fold(one.printed), fold(other.printed)
    contained = not all(names) or names[0] in names[1] or names[1] in names[0]
    return contained or (are_of_one_type(one, other) and not _are_lettered(*names))


def are_of_one_type(one: Device, other: Device) -> bool:
    """Tell whether two names print the same types, whatever the words beside them."""
    types = find_types(one.printed), find_types(other.printed)
    return bool(types[0]) and types[0] == types[1]


def _are_lettered(one: str, other: str) -> bool:
    """Tell whether a letter or number tells two folded names of one type apart: "Frame A" and "Frame B".

    So does the one that stands before a list of them: "VK 3 Contactors VK 3 and VK 5".
    """
    words = Counter(one.split()), Counter(other.split())
    return all(any(len(word) <= _LETTER for word in own) for own in (words[0] - words[1], words[1] - words[0]))


def _may_be_one_name(one: Setting, other: Setting) -> bool:
    """Compare terminals by what both print: in one table the names, else markings and roles, else the words."""
    names = one.terminal.printed, other.terminal.printed
    alike = _key_of(names[0]) == _key_of(names[1])
    roles = one.terminal.roles, other.terminal.roles
    if _in_one_table(one, other):  # there another name, or another role, is another terminal
        return alike and (not all(roles) or may_share_terminal(*roles))
    marks = markings_of(names[0]), markings_of(names[1])
    if all(marks) and not marks[0] & marks[1]:
        return False
    if all(roles):
        return may_share_terminal(*roles)
    return all(marks) or alike or _is_unmarked_of(*names)


def _key_of(name: str) -> str:
    """Return what names in other letters have in common; general words for terminals say the same in any language."""
    general = says_terminal(name) and names_any_terminal(name)
    return _ANY_TERMINAL if general else label_key(name)


def _is_unmarked_of(one: str, other: str) -> bool:
    """Tell whether one name is the other without its markings: "relay terminals" of "relay terminals 21 to 26"."""
    plain = {unmarked_name(one), unmarked_name(other)}
    return len(plain) == 1 and not plain.isdisjoint({fold(one), fold(other)})


def _in_one_table(one: Setting, other: Setting) -> bool:
    places = one.place, other.place
    return one.place.table is not None and places[0].page == places[1].page and places[0].table == places[1].table


def role_words_of(text: str) -> frozenset[str]:
    """Return the roles named by words; a single letter is a marking."""
    return frozenset(match.concept for match in spot_roles(text) if len(match.printed) > 1)


def markings_of(label: str) -> frozenset[str]:
    """Return the markings that a name or text prints, each once: "L1", "A2", "13"."""
    parts = [part for part in _BETWEEN.split(label) if part]
    sized = bool(find_units(label))  # "4 mm long" marks nothing
    return frozenset(
        part
        for part in parts
        if (_MARKING.fullmatch(part) and not sized) or (part.isupper() and roles_of_markings(part))
    )


def _alike(one: str | None, other: str | None) -> bool:
    return not one or not other or fold(one) == fold(other)


def _may_be_one_rating(one: str | None, other: str | None) -> bool:
    """Tell whether two rated currents, ranges or lists of them may have one in common, whatever the words between."""
    if not one or not other or fold(one) == fold(other):
        return True
    figures = [[Decimal(figure.replace(",", ".")) for figure in _FIGURE.findall(text)] for text in (one, other)]
    if not all(figures):
        return True
    if any(len(listed) > len(_ENDS) for listed in figures):
        return bool(set(figures[0]) & set(figures[1]))
    return max(map(min, figures)) <= min(map(max, figures))


def differ(one: Setting, other: Setting) -> bool:
    """Tell whether two torques differ, beyond rounding where their units are two."""
    units = {setting.torque.unit_printed for setting in (one, other) if setting.torque}
    slack = ROUNDED if len(units) > 1 else Decimal(0)
    return any(not _equal(a, b, slack) for a, b in zip(figure_of(one), figure_of(other), strict=True))


def _equal(one: Decimal | None, other: Decimal | None, slack: Decimal) -> bool:
    if one is None or other is None:
        return one is other
    return abs(one - other) <= slack * max(one, other)


def contradicted(setting: Setting, other: Setting) -> Finding:
    """Return the finding that another setting, for what may be the same terminal, gives another torque."""
    torque = other.torque.printed if other.torque else ""
    place = f"page {other.place.page}" if other.place.page else "another place"
    if other.place.table:
        place += f", table {other.place.table}, row {other.place.row}"
    return Finding(
        code="contradicted",
        message=f"{place} prints {torque!r} for {other.terminal.printed!r}, which may be the same terminal; "
        "find out what tells them apart, or which holds",
        place=setting.place,
        printed=setting.place.text,
    )
