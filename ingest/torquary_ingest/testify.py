"""Asks the picture of the page about every figure that would be released; it can only hold, never release."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from torquary_ingest.checks import add_findings
from torquary_ingest.document import Document, Reading, Table
from torquary_ingest.printed_claims import Printed, Prints
from torquary_ingest.registry import describe_error
from torquary_ingest.witness import Testimony, Witness
from torquary_schema.values import Finding, Place, Setting

_KINDS = ("pdf",)


def witness_settings(
    path: Path,
    document: Document,
    tables: Sequence[Table],
    readings: Iterable[Reading],
    settings: tuple[Setting, ...],
    *,
    password: str = "",
) -> tuple[Setting, ...]:
    """Return the settings, those to be released compared with the page: agreement is a remark, all else holds.

    The cells of torque and conductor testify, and the words that state their units, wherever they stand.
    Files without pictures (CSV) pass unchanged. A witness that stops holds every figure it was to be asked about.
    """
    if document.kind not in _KINDS or not any(setting.state == "released" for setting in settings):
        return settings
    prints = Prints(document, tables)
    asked = {setting.place for setting in settings if setting.state == "released"}
    claims = {reading.place: prints.of_reading(reading) for reading in readings if reading.place in asked}
    try:
        with Witness.open(path, password=password) as witness:
            told = _ask(witness, document, [claim for found in claims.values() for claim in found or ()])
    except Exception as error:
        reason = f"the witness stopped ({describe_error(error)}): compare the figure with the sheet"
        return tuple(
            add_findings(setting, [_not_witnessed(setting.place, reason)]) if setting.state == "released" else setting
            for setting in settings
        )
    return tuple(
        add_findings(setting, _findings(setting.place, claims.get(setting.place), told))
        if setting.state == "released"
        else setting
        for setting in settings
    )


def _ask(witness: Witness, document: Document, printed: Sequence[Printed]) -> dict[Printed, Testimony]:
    """Return what the picture says to each claim, each asked once, page by page."""
    told: dict[Printed, Testimony] = {}
    for page in document.pages:
        here = list(dict.fromkeys(claim for claim in printed if claim.page == page.number))
        answers = witness.check(page.number, [each.claim for each in here], page.rules)
        told.update(zip(here, answers, strict=True))
    return told


def _findings(place: Place, claims: tuple[Printed, ...] | None, told: dict[Printed, Testimony]) -> list[Finding]:
    """Return one remark that the print agrees, or the reasons why it does not."""
    if not claims:
        return [_not_witnessed(place, "a cell has no print to compare: compare the figure with the sheet")]
    known = [told[claim] for claim in claims]
    against = [doubt for answer in known if answer.agrees is not True for doubt in answer.doubts]
    if against:
        return [Finding(code=d.code, message=d.message, place=place, printed=place.text) for d in against]
    if not all(answer.agrees for answer in known):
        return [_not_witnessed(place, "the picture could not tell: compare the figure with the sheet")]
    means = " and ".join(sorted({answer.means for answer in known}))
    return [Finding(code="witnessed", message=f"the picture of the page agrees ({means})", place=place)]


def _not_witnessed(place: Place, reason: str) -> Finding:
    return Finding(code="not_witnessed", message=reason, place=place, printed=place.text)
