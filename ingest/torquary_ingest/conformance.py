"""What every plug-in must keep, as functions that its author can run in a test of their own.

    from torquary_ingest.conformance import check_extractor
    assert check_extractor(MyExtractor(), [my_document]) == ()

Each function returns the promises that were broken, one line each; nothing is raised. They try the plug-in
on documents and files made of noise as well: a plug-in meets every sheet that a person loads.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Protocol, TypeVar

from torquary_ingest.document import Cell, Document, Page, Reading, Table, Word
from torquary_ingest.errors import SheetRefused
from torquary_ingest.plugins import Extractor, Opener, OpenWish
from torquary_ingest.registry import HEAD_BYTES, describe_error
from torquary_schema.findings import codes
from torquary_schema.values import Box, ScopeKind
from torquary_schema.words import concepts

_Result = TypeVar("_Result")

QUALIFIER = "qualifier"
"""The one field that is not a heading concept: heading words that tell two terminals of a row apart."""

OVER: tuple[ScopeKind, ...] = ("heading", "section_row", "caption", "list_heading", "introduction", "section")
"""What a text that an extractor finds over its record may be."""

_SEED = 20
_NOISE = "0123456789.,-–…±<>≤/()#*°²µ NmlbfinXKLPE\tÄß端子扭矩\u00ad\u200b\x00"


class _Named(Protocol):
    name: str


def check_extractor(extractor: Extractor, documents: Iterable[Document] = ()) -> tuple[str, ...]:
    """Return the promises an extractor breaks, on noise and on the documents given.

    It has a name and says whether it is specific; `recognises` answers True or False and `readings` yields
    `Reading`s, without raising, and the same ones when asked again; a reading names a page of the document,
    known fields and known codes, and holds only text that is printed on its page; what speaks for it stands over it,
    on its page or an earlier one. A document that is given must be recognised and give a reading.
    """
    broken = list(_check_name(extractor))
    if not isinstance(getattr(extractor, "specific", None), bool):
        broken.append("specific: must be True or False")
    for document in make_noise():
        broken += _check_on(extractor, document)
    for document in documents:
        broken += _check_on(extractor, document)
        broken += _check_own(extractor, document)
    return tuple(dict.fromkeys(broken))


def check_opener(opener: Opener, folder: Path, samples: Iterable[Path] = ()) -> tuple[str, ...]:
    """Return the promises an opener breaks, on noise written into `folder` and on the samples given.

    It has a name; `recognises` answers True or False without raising; `open` gives a document or raises
    `SheetRefused` with a known code and one line that says what and what to do, whatever the bytes. Pages
    count from 1, and none is numbered beyond the count. A sample must be recognised and open.
    """
    broken = list(_check_name(opener))
    for path in _write_noise(folder):
        broken += _check_opening(opener, path, must_open=False)
    for path in samples:
        broken += _check_opening(opener, path, must_open=True)
    return tuple(dict.fromkeys(broken))


def make_noise() -> tuple[Document, ...]:
    """Return documents that hold nothing, a blank page, and pages and tables of noise; always the same."""
    dice = random.Random(_SEED)
    pages = [_noise_page(dice, number) for number in (1, 2)]
    return (
        Document(file="none.pdf", kind="noise", pages=(), page_count=0),
        Document(file="blank.pdf", kind="noise", pages=(Page(number=1),), page_count=1),
        Document(file="noise.pdf", kind="noise", pages=tuple(pages), page_count=2),
    )


def _noise_text(dice: random.Random) -> str:
    return "".join(dice.choices(_NOISE, k=dice.randint(1, 14))).strip() or "0"


def _noise_page(dice: random.Random, number: int) -> Page:
    words = tuple(
        Word(text=_noise_text(dice), box=Box(x0=x, top=y, x1=x + 40, bottom=y + 8), size=8, baseline=y + 6)
        for x in (40, 140, 240)
        for y in range(40, 400, 20)
    )
    cells = tuple(Cell(row=row, column=column, text=_noise_text(dice)) for row in range(1, 9) for column in range(1, 5))
    table = Table(page=number, number=1, rows=8, columns=4, cells=cells)
    return Page(number=number, width=595.0, height=842.0, words=words, tables=(table,))


def _tables_of(document: Document) -> tuple[Table, ...]:
    from torquary_ingest.tables import find_all_tables

    return find_all_tables(document.pages)


def _attempt(what: str, act: Callable[[], _Result]) -> tuple[_Result | None, str]:
    """Return what the act gives, or the line that says how it raised."""
    try:
        return act(), ""
    except Exception as error:
        return None, f"{what}: must not raise, and raised {describe_error(error)}"


def _check_name(plugin: _Named) -> Iterator[str]:
    name = getattr(plugin, "name", None)
    if not isinstance(name, str) or not name or name != name.strip().lower() or " " in name:
        yield f"name: must be one word in small letters, and is {name!r}"


def _check_on(extractor: Extractor, document: Document) -> Iterator[str]:
    answers = []
    for _ in range(2):
        answer, fault = _attempt(f"recognises({document.file})", lambda: extractor.recognises(document))
        if fault:
            yield fault
            return
        answers.append(answer)
    if not all(isinstance(answer, bool) for answer in answers) or answers[0] != answers[1]:
        yield f"recognises({document.file}): must answer True or False, and the same again; gave {answers}"
    tables = _tables_of(document)
    rounds = []
    for _ in range(2):
        readings, fault = _attempt(f"readings({document.file})", lambda: tuple(extractor.readings(document, tables)))
        if fault or readings is None:
            yield fault
            return
        rounds.append(readings)
    if rounds[0] != rounds[1]:
        yield f"readings({document.file}): must give the same readings when asked again"
    for reading in rounds[0]:
        yield from _check_reading(reading, document, tables)


def _check_own(extractor: Extractor, document: Document) -> Iterator[str]:
    recognised, _ = _attempt("recognises", lambda: extractor.recognises(document))
    if not recognised:
        yield f"recognises({document.file}): must be True for a document of its own layout"
    readings, _ = _attempt("readings", lambda: tuple(extractor.readings(document, _tables_of(document))))
    given = [one for one in readings or () if isinstance(one, Reading)]
    if not any(entry.field.startswith("torque") for one in given for entry in one.entries):
        yield f"readings({document.file}): no reading with a torque in a document of its own layout"


def _check_reading(reading: object, document: Document, tables: tuple[Table, ...]) -> Iterator[str]:
    if not isinstance(reading, Reading):
        yield f"readings: must yield Readings, and gave a {type(reading).__name__}"
        return
    page = reading.place.page
    if page not in {one.number for one in document.pages}:
        yield f"readings({document.file}): place.page is {page}, which is no page of the document"
    known = {*concepts("heading"), QUALIFIER}
    printed = _print_of(document, tables, page)
    for entry in reading.entries:
        if entry.field not in known:
            yield f"entry.field: {entry.field!r} is not a heading concept"
        missing = next((part for part in entry.cell.text.split() if part not in printed), None)
        if missing is not None:
            yield f"entry.cell.text: {missing!r} is not printed on page {page} of {document.file}"
    yield from _check_scope(reading, document, tables)
    said = [doubt.code for doubt in reading.doubts] + [finding.code for finding in reading.findings]
    for code in said:
        if code not in codes():
            yield f"code: {code!r} is not in finding_codes.json"


def _check_scope(reading: Reading, document: Document, tables: tuple[Table, ...]) -> Iterator[str]:
    for one in reading.scope:
        if one.kind not in OVER:
            yield f"scope.kind: {one.kind!r} is none of {', '.join(OVER)}"
        printed = _print_of(document, tables, one.page)
        missing = next((part for part in one.text.split() if part not in printed), None)
        if missing is not None:
            yield f"scope.text: {missing!r} is not printed on page {one.page} of {document.file}"


def _print_of(document: Document, tables: tuple[Table, ...], page: int | None) -> str:
    """Return all text of a page, with a line feed between pieces so that nothing joins by chance."""
    pieces = [word.text for one in document.pages if one.number == page for word in one.words]
    here = [table for table in tables if table.page == page]
    pieces += [text for table in here for text in (*table.caption, *(cell.text for cell in table.cells))]
    return "\n".join(pieces)


def _write_noise(folder: Path) -> Iterator[Path]:
    dice = random.Random(_SEED)
    contents = {
        "empty": b"",
        "bytes": dice.randbytes(6000),
        "text": "\n".join(_noise_text(dice) for _ in range(50)).encode(),
        "cut": b"%PDF-1.7\n1 0 obj\n<< /Type /Catalog /Pages 2 0 R >>\nendobj\n2 0 ob",
    }
    for stem, content in contents.items():
        for suffix in (".pdf", ".csv", ".xlsx", ".ods", ".html"):
            path = folder / f"{stem}{suffix}"
            path.write_bytes(content)
            yield path


def _check_opening(opener: Opener, path: Path, *, must_open: bool) -> Iterator[str]:
    with path.open("rb") as file:
        head = file.read(HEAD_BYTES)
    recognised, fault = _attempt(f"recognises({path.name})", lambda: opener.recognises(path, head))
    if fault:
        yield fault
        return
    if not isinstance(recognised, bool):
        yield f"recognises({path.name}): must answer True or False, and gave {recognised!r}"
    if not recognised:
        if must_open:
            yield f"recognises({path.name}): must be True for a sample"
        return
    try:
        document = opener.open(path, OpenWish())
    except SheetRefused as refused:
        if must_open:
            yield f"open({path.name}): a sample was refused: {refused.message}"
        yield from _check_refusal(refused, path)
    except Exception as error:
        yield f"open({path.name}): may raise SheetRefused alone, and raised {describe_error(error)}"
    else:
        yield from _check_document(document, path)


def _check_refusal(refused: SheetRefused, path: Path) -> Iterator[str]:
    if refused.code not in codes():
        yield f"open({path.name}): refused with the code {refused.code!r}, which is not in finding_codes.json"
    if not refused.message.strip() or "\n" in refused.message:
        yield f"open({path.name}): the refusal must say what, and what to do, in one line"


def _check_document(document: object, path: Path) -> Iterator[str]:
    if not isinstance(document, Document):
        yield f"open({path.name}): must give a Document, and gave a {type(document).__name__}"
        return
    numbers = [page.number for page in document.pages]
    if numbers != sorted(set(numbers)) or any(not 1 <= number <= document.page_count for number in numbers):
        yield f"open({path.name}): pages {numbers} must ascend from 1 to page_count ({document.page_count})"
