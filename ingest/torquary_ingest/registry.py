"""Finds the openers and extractors that are installed, and chooses among them.

Ours are an explicit tuple, registered through the same entry-point groups as those of others, so that a
plug-in from elsewhere is never second-class. None, one and two matches are three different answers.
A plug-in that cannot be loaded is a finding, never a crash.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from importlib.metadata import EntryPoint, entry_points
from pathlib import Path
from typing import Literal, cast

from torquary_ingest.document import Document
from torquary_ingest.errors import SheetRefused
from torquary_ingest.plugins import Extractor, Opener
from torquary_ingest.refusal import open_file
from torquary_schema.file_kinds import say_way
from torquary_schema.values import Finding

Group = Literal["torquary.openers", "torquary.extractors"]
OPENERS: Group = "torquary.openers"
EXTRACTORS: Group = "torquary.extractors"

BUILT_IN: tuple[EntryPoint, ...] = (
    EntryPoint("pdf", "torquary_ingest.openers.pdf:PdfOpener", OPENERS),
    EntryPoint("delimited", "torquary_ingest.openers.delimited:DelimitedOpener", OPENERS),
    EntryPoint("workbook", "torquary_ingest.openers.workbook:WorkbookOpener", OPENERS),
    EntryPoint("web_page", "torquary_ingest.openers.web_page:WebPageOpener", OPENERS),
    EntryPoint("picture", "torquary_ingest.openers.picture:PictureOpener", OPENERS),
    EntryPoint("headed", "torquary_ingest.extractors.headed:HeadedTables", EXTRACTORS),
    EntryPoint("listed", "torquary_ingest.extractors.listed:KeyValueLists", EXTRACTORS),
    EntryPoint("sentences", "torquary_ingest.extractors.sentences:Sentences", EXTRACTORS),
)
"""Ours, in the order in which they are asked; the same lines stand in pyproject.toml."""

HEAD_BYTES = 4096
"""How much of a file an opener sees when it is asked whether it recognises it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plugin:
    """An installed plug-in. `fault` says in one line why it cannot be used, "" if it can.

    `origin` is the distribution it came with, "torquary" for ours; `made` the opener or extractor, None
    if it cannot be used.
    """

    group: Group
    name: str
    origin: str
    built_in: bool
    made: Opener | Extractor | None = None
    fault: str = ""


def find_plugins(group: Group) -> tuple[Plugin, ...]:
    """Return the plug-ins of a group, ours first; each is loaded and made once a process."""
    return _find_plugins(group, tuple(sys.path))


@lru_cache(maxsize=8)
def _find_installed(_path: tuple[str, ...]) -> tuple[EntryPoint, ...]:
    """Find what others registered in our groups: all that is installed is looked through once for both."""
    registered = entry_points()
    return tuple(point for group in (OPENERS, EXTRACTORS) for point in registered.select(group=group))


@lru_cache(maxsize=8)
def _find_plugins(group: Group, path: tuple[str, ...]) -> tuple[Plugin, ...]:
    """Find and load; the module search path is the key, for what is installed follows from it."""
    ours = tuple(point for point in BUILT_IN if point.group == group)
    taken = {(point.name, point.value) for point in ours}
    registered = (point for point in _find_installed(path) if point.group == group)
    others = [point for point in registered if (point.name, point.value) not in taken]
    others.sort(key=lambda point: (point.name, point.value))
    plugins = [_load(point, group, built_in=True) for point in ours]
    for point in others:
        double = next((one for one in plugins if one.name == point.name), None)
        plugins.append(
            _load(point, group, built_in=False)
            if double is None
            else Plugin(
                group=group,
                name=point.name,
                origin=_origin(point),
                built_in=False,
                fault=f"its name {point.name!r} is taken by {double.origin}: uninstall one of the two",
            )
        )
    return tuple(plugins)


def describe_faults(group: Group) -> tuple[Finding, ...]:
    """Return a finding for each plug-in of the group that cannot be used."""
    return tuple(
        Finding(
            code="plugin_unusable",
            scope="sheet",
            message=f"plug-in {plugin.name} ({plugin.origin}): {plugin.fault}",
        )
        for plugin in find_plugins(group)
        if plugin.fault
    )


def choose_opener(path: Path) -> tuple[Opener, tuple[Finding, ...]]:
    """Return the opener for a file, and what there is to say of plug-ins that failed on the way.

    An opener from elsewhere goes before ours.

    Raises `SheetRefused`: the file cannot be reached, is empty, no opener recognises it, or two from
    elsewhere do.
    """
    head = read_head(path)
    if not head:
        raise SheetRefused("sheet_empty", "the file has no bytes: get it again from its maker")
    findings = list(describe_faults(OPENERS))
    matches: list[Plugin] = []
    for plugin in find_plugins(OPENERS):
        try:
            if plugin.made is not None and cast(Opener, plugin.made).recognises(path, head):
                matches.append(plugin)
        except Exception as error:
            message = f"{plugin.name} ({plugin.origin}) stopped ({describe_error(error)}): tell its author"
            findings.append(Finding(code="plugin_unusable", scope="sheet", message=message))
    others = [one for one in matches if not one.built_in]
    if len(others) > 1:
        names = " and ".join(f"{one.name} ({one.origin})" for one in others)
        raise SheetRefused("openers_clash", f"{names} both claim the file: uninstall one of them")
    if not matches:
        raise SheetRefused("sheet_unknown_kind", _say_unknown(path))
    return cast(Opener, (others or matches)[0].made), tuple(findings)


def _say_unknown(path: Path) -> str:
    way = say_way(path.name)
    if way:
        return f"the file cannot be read, as {way}, and load that"
    return (
        "no opener recognises the file: torquary reads PDF, CSV, .xlsx, .ods, .html, .png, .jpg and .tif, "
        "other kinds need a plug-in"
    )


def read_head(path: Path) -> bytes:
    """Return the first bytes of a file; raise `SheetRefused` when the system does not give it."""
    try:
        with open_file(path) as file:
            return file.read(HEAD_BYTES)
    except OSError as error:
        why = error.strerror or str(error)
        message = f"the file cannot be opened ({why}): check its name and rights"
        raise SheetRefused("sheet_unreachable", message) from None


def recognise_file(path: Path) -> bool:
    """Tell whether some opener recognises the file; an empty or unreachable file counts as not recognised."""
    try:
        choose_opener(path)
    except SheetRefused as refused:
        return refused.code == "openers_clash"
    return True


def choose_extractors(document: Document) -> tuple[tuple[Extractor, ...], tuple[Finding, ...]]:
    """Return the extractors for a document, in order of trust, and what there is to say about the choice.

    An extractor made for a layout (`specific`) that recognises the document answers for it and is asked
    first; the general ones follow only if it fails. Two of them: neither is asked, nor the general ones,
    for a layout that is claimed twice is one that we cannot tell.
    """
    findings = list(describe_faults(EXTRACTORS))
    matches: list[Extractor] = []
    for plugin in find_plugins(EXTRACTORS):
        if plugin.made is None:
            continue
        extractor = cast(Extractor, plugin.made)
        try:
            if extractor.recognises(document):
                matches.append(extractor)
        except Exception as error:
            findings.append(describe_crash(extractor.name, error))
    specific = [one for one in matches if one.specific]
    if len(specific) > 1:
        names = " and ".join(one.name for one in specific)
        message = f"{names} both claim this sheet, so neither was used: uninstall one of them"
        findings.append(Finding(code="extractors_clash", scope="sheet", message=message))
        return (), tuple(findings)
    if not matches:
        message = "no installed extractor recognises this sheet: read it by eye, or write an extractor for it"
        findings.append(Finding(code="no_extractor", scope="sheet", message=message))
    return (*specific, *(one for one in matches if not one.specific)), tuple(findings)


def describe_crash(name: str, error: BaseException) -> Finding:
    """Return the finding for an extractor that stopped; what it had said until then is not used."""
    message = f"extractor {name} stopped ({describe_error(error)}); the others went on: tell its author"
    return Finding(code="extractor_crashed", scope="sheet", message=message)


def describe_error(error: BaseException) -> str:
    """Return an error's kind and text in one line of bounded length."""
    return " ".join(f"{type(error).__name__}: {error}".split())[:200].rstrip(": ")


def _load(point: EntryPoint, group: Group, *, built_in: bool) -> Plugin:
    """Import and make one plug-in; whatever goes wrong in it is its fault, not ours."""
    made: Opener | Extractor | None = None
    fault = ""
    try:
        candidate = point.load()()
        fault = "; ".join(_find_gaps(candidate, group, point.name))
        made = None if fault else candidate
    except Exception as error:
        fault = f"cannot be loaded ({describe_error(error)}): install it again or uninstall it"
    origin = "torquary" if built_in else _origin(point)
    return Plugin(group=group, name=point.name, origin=origin, built_in=built_in, made=made, fault=fault)


def _find_gaps(candidate: object, group: Group, name: str) -> Iterable[str]:
    """Yield what a made plug-in lacks of its protocol."""
    wanted = ("recognises", "open") if group == OPENERS else ("recognises", "readings")
    for method in wanted:
        if not callable(getattr(candidate, method, None)):
            yield f"it has no method {method}"
    if getattr(candidate, "name", None) != name:
        yield f"its attribute `name` is not {name!r}, the name of its entry point"
    if group == EXTRACTORS and not isinstance(getattr(candidate, "specific", None), bool):
        yield "its attribute `specific` is not True or False"


def _origin(point: EntryPoint) -> str:
    return point.dist.name if point.dist is not None else "an unknown distribution"
