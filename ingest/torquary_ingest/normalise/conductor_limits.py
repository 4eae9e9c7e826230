"""What remarks of a row and statements for the whole sheet say of the conductors that a figure holds for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from torquary_ingest.document import Document, Doubt, Entry, Table
from torquary_ingest.document.lines import set_lines
from torquary_ingest.figures.conductor_words import ConductorWords, read_conductor_words
from torquary_schema.roles import spot_roles
from torquary_schema.units import find_units
from torquary_schema.values import Conductor, Finding, Setting
from torquary_schema.words import spot

_SHORT = 2
"""Words beside a kind of conductor up to which a remark is taken to limit it: "no aluminium", "ferrule required"."""
_LONGEST = 12
"""Words of a statement at most: longer ones tell when and where, and are sentences for a person."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement:
    """A line that says which conductors alone are allowed: "Use copper conductors only"."""

    page: int
    text: str
    words: ConductorWords


def limit_by_remark(conductors: Sequence[Conductor], entry: Entry) -> tuple[list[Conductor], list[Doubt]]:
    """Return the conductors with what a row's remark says of their kind; a doubt where it was not understood."""
    text = entry.cell.text.strip()
    words = read_conductor_words(text)
    if not words.known:
        return list(conductors), []
    rest = _cut_known(words.rest).split()
    if not rest and all(_agrees(conductor, words) for conductor in conductors):
        return [fill_kinds(conductor, words) for conductor in conductors or [Conductor()]], []
    if not rest or len(rest) <= _SHORT or _limits(text, "only", "except"):
        message = f"the remark {text!r} limits the conductors and was not understood; look at the sheet"
        return list(conductors), [Doubt(code="condition_unread", message=message)]
    return list(conductors), []


def _cut_known(text: str) -> str:
    """Return the words that neither limit ("only", "for") nor name conductors in general."""
    left = text
    for match in reversed(spot("connective", text)):
        if match.concept in ("only", "for", "and", "or", "with"):
            left = left[: match.start] + " " + left[match.end :]
    for match in reversed(spot("heading", left)):
        if match.concept in ("conductor", "terminal"):
            left = left[: match.start] + " " + left[match.end :]
    return " ".join(word for word in left.split() if any(map(str.isalnum, word)))


def _limits(text: str, *concepts: str) -> bool:
    return any(match.concept in concepts for match in spot("connective", text))


def _agrees(conductor: Conductor, words: ConductorWords) -> bool:
    """Tell whether nothing that is printed with the size says otherwise."""
    said = ((conductor.material, words.material), (conductor.stranding, words.stranding))
    kinds = all(not one or not other or set(other) <= set(one) for one, other in said)
    return kinds and (None in (conductor.ferrule, words.ferrule) or conductor.ferrule == words.ferrule)


def fill_kinds(conductor: Conductor, words: ConductorWords) -> Conductor:
    """Return the conductor with the kinds that the words allow, where it is silent or allows more."""
    return replace(
        conductor,
        material=words.material or conductor.material,
        stranding=words.stranding or conductor.stranding,
        ferrule=conductor.ferrule if conductor.ferrule is not None else words.ferrule,
    )


def find_statements(document: Document, tables: Iterable[Table]) -> tuple[Statement, ...]:
    """Return the lines outside rows that say which conductors alone are allowed."""
    found: dict[tuple[int, str], Statement] = {}
    for page, text in _lines(document, tuple(tables)):
        words = read_conductor_words(text)
        if words.known and _states_limit(text, words):
            found[page, text] = Statement(page=page, text=text, words=words)
    return tuple(found.values())


def _lines(document: Document, tables: tuple[Table, ...]) -> Iterator[tuple[int, str]]:
    for page in document.pages:
        here = [table for table in tables if table.page == page.number]
        for table in here:
            yield from ((page.number, line.strip()) for line in (*table.caption, *table.below))
        yield from ((page.number, line.text.strip()) for line in set_lines(page, here))


def _states_limit(text: str, words: ConductorWords) -> bool:
    """Tell whether a line limits all conductors: it names one kind, and no terminal, size or torque it is for."""
    one = len(words.material) <= 1 and not (words.stranding and words.material)
    plain = len(text.split()) <= _LONGEST and not text[:1].isdigit() and not text.startswith(("*", "("))
    free = not spot_roles(text) and not any(unit.kind in ("torque", "area", "gauge") for unit in find_units(text))
    return one and plain and free and _limits(text, "only") and not _limits(text, "except", "for")


def apply_statements(settings: Sequence[Setting], statements: Sequence[Statement]) -> tuple[Setting, ...]:
    """Return the settings, those that are silent about the conductor with what the sheet states for all.

    A statement is for the settings of its page, for all if its page has none or the sheet is of one device.
    What a row says goes before it; statements that differ say nothing.
    """
    pages = {setting.place.page for setting in settings}
    single = len({setting.device for setting in settings}) == 1
    told = []
    for setting in settings:
        page = setting.place.page
        near = [one for one in statements if single or one.page == page or one.page not in pages]
        told.append(_limit(setting, near[0]) if len({one.words for one in near}) == 1 else setting)
    return tuple(told)


def _limit(setting: Setting, statement: Statement) -> Setting:
    words, conductor = statement.words, setting.conductor
    limited = replace(
        conductor,
        material=conductor.material or words.material,
        stranding=conductor.stranding or words.stranding,
        ferrule=conductor.ferrule if conductor.ferrule is not None else words.ferrule,
    )
    if limited == conductor:
        return setting
    message = f"the sheet says for its conductors: {statement.text}"
    said = Finding(code="note_attached", message=message, place=setting.place, printed=statement.text)
    return replace(setting, conductor=limited, findings=(*setting.findings, said))
