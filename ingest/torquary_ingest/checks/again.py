"""Checks made once more, when a person has given settings of a sheet what no print gives."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from torquary_ingest.checks import CHECKS
from torquary_ingest.checks.printed_elsewhere import check_elsewhere, check_sentences
from torquary_schema.findings import holds
from torquary_schema.values import Finding, Setting


def check_again(settings: Sequence[Setting], findings: Sequence[Finding]) -> Iterator[tuple[int, Finding]]:
    """Yield what speaks against settings of a sheet, each with its position; `findings` are the sheet's own."""
    told = (each for check in CHECKS for each in check(settings))
    for position, finding in (*told, *check_elsewhere(settings, findings), *check_sentences(settings)):
        if holds(finding.code):
            yield position, finding
