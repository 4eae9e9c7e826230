"""Asks the picture of the page about every figure that may be given out; it can only hold, never release."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from pathlib import Path

from torquary_ingest.checks import add_findings, may_be_given
from torquary_ingest.document import Document, Reading, Table
from torquary_ingest.plugins import OpenWish
from torquary_ingest.printed_claims import Printed, Prints
from torquary_ingest.registry import describe_error
from torquary_ingest.witness import Testimony, Witness
from torquary_schema.findings import holds
from torquary_schema.values import Finding, Place, Setting

_KINDS = ("pdf",)
_NO_PRINT = "a figure, size or unit has no print to compare: compare it with the sheet"
_UNTOLD = "the picture could not tell: compare the figure with the sheet"


def witness_settings(
    path: Path,
    document: Document,
    tables: Sequence[Table],
    readings: Iterable[Reading],
    settings: tuple[Setting, ...],
    wish: OpenWish,
) -> tuple[Setting, ...]:
    """Return the settings, those to be released compared with the page: agreement is a remark, all else holds.

    So are those held for what a person can give, or say of what contradicts them: nobody compares them then.

    The cells of torque and conductor testify, and the words that state their units, wherever they stand.
    Files without pages (CSV, workbooks, web pages) pass unchanged. Where the picture cannot tell, or the witness
    stops, the figure is held unless `wish.unwitnessed`; where it contradicts, the figure is held.
    """
    asked = {setting.place for setting in settings if _is_asked(setting)}
    if document.kind not in _KINDS or not asked:
        return settings
    claims: dict[Place, tuple[Printed, ...] | None] = {}
    told: dict[Printed, Testimony] = {}
    stopped = ""
    try:
        prints = Prints(document, tables)
        claims = _claim(prints, readings, asked)
        with Witness.open(path, password=wish.password) as witness:
            told = _ask(witness, document, [claim for found in claims.values() for claim in found or ()])
    except Exception as error:
        stopped = f"the witness stopped ({describe_error(error)}): compare the figure with the sheet"
    findings = {
        place: [_untold(place, stopped, wish)] if stopped else _findings(place, claims.get(place), told, wish)
        for place in asked
    }
    return tuple(
        add_findings(setting, findings[setting.place]) if _is_asked(setting) else setting for setting in settings
    )


def _is_asked(setting: Setting) -> bool:
    """Tell whether a figure may be given out: also one that another torque speaks against, which may be none."""
    others = tuple(one for one in setting.findings if one.code != "contradicted")
    held = any(holds(one.code) for one in others)
    return may_be_given(replace(setting, findings=others, state="held" if held else "released"))


def _claim(
    prints: Prints, readings: Iterable[Reading], asked: Collection[Place]
) -> dict[Place, tuple[Printed, ...] | None]:
    """Return what is printed at each place, of all readings whose figure may be from there."""
    claims: dict[Place, tuple[Printed, ...] | None] = {}
    for reading in readings:
        for place in reading.places.intersection(asked):
            before, own = claims.get(place, ()), prints.of_reading(reading)
            claims[place] = None if before is None or own is None else (*before, *own)
    return claims


def _ask(witness: Witness, document: Document, printed: Sequence[Printed]) -> dict[Printed, Testimony]:
    """Return what the picture says to each claim, each asked once, page by page."""
    told: dict[Printed, Testimony] = {}
    for page in document.pages:
        here = list(dict.fromkeys(claim for claim in printed if claim.page == page.number))
        answers = witness.check(page.number, [each.claim for each in here], page.rules)
        told.update(zip(here, answers, strict=True))
    return told


def _findings(
    place: Place, claims: tuple[Printed, ...] | None, told: dict[Printed, Testimony], wish: OpenWish
) -> list[Finding]:
    """Return one remark that the print agrees, or the reasons why it does not."""
    if not claims:
        return [_untold(place, _NO_PRINT, wish)]
    known = [told[claim] for claim in claims]
    against = [doubt for answer in known if answer.agrees is False for doubt in answer.doubts]
    if against:
        return [Finding(code=d.code, message=d.message, place=place, printed=place.text) for d in against]
    open_ones = [answer for answer in known if answer.agrees is not True]
    if open_ones:
        reasons = dict.fromkeys(doubt.message for answer in open_ones for doubt in answer.doubts)
        return [_untold(place, reason, wish) for reason in list(reasons)[:1] or [_UNTOLD]]
    means = " and ".join(sorted({answer.means for answer in known}))
    return [Finding(code="witnessed", message=f"the picture of the page agrees ({means})")]


def _untold(place: Place, reason: str, wish: OpenWish) -> Finding:
    code = "released_unwitnessed" if wish.unwitnessed else "not_witnessed"
    return Finding(code=code, message=reason, place=place, printed=place.text)
