"""Checks: each a function that looks at settings and yields findings; none raises."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace

from torquary_ingest.checks.contradiction import check_contradiction
from torquary_ingest.checks.decimal_marks import check_decimal_marks
from torquary_ingest.checks.plausible import check_plausible
from torquary_ingest.checks.shared_sizes import check_shared_sizes
from torquary_ingest.checks.units import check_units
from torquary_schema.findings import holds, wanted
from torquary_schema.values import Finding, Setting

# A check yields (position of the setting, finding); a finding that holds turns the setting to "held".
Check = Callable[[Sequence[Setting]], Iterator[tuple[int, Finding]]]

CHECKS: tuple[Check, ...] = (
    check_plausible,
    check_decimal_marks,
    check_contradiction,
    check_units,
    check_shared_sizes,
)


def check_settings(settings: Sequence[Setting], checks: Sequence[Check] = CHECKS) -> list[Setting]:
    """Return the settings with the findings of all checks; those with a holding finding are held."""
    return hold(settings, (each for check in checks for each in check(settings)))


def hold(settings: Sequence[Setting], told: Iterable[tuple[int, Finding]]) -> list[Setting]:
    """Return the settings with what was found of each by its position; those with a holding finding are held."""
    found: dict[int, list[Finding]] = {}
    for position, finding in told:
        found.setdefault(position, []).append(finding)
    return [add_findings(setting, found.get(position, ())) for position, setting in enumerate(settings)]


def add_findings(setting: Setting, findings: Iterable[Finding]) -> Setting:
    """Return the setting with further findings; one that holds turns it to "held", nothing releases it."""
    findings = tuple(findings)
    state = "held" if any(holds(finding.code) for finding in findings) else setting.state
    return replace(setting, state=state, findings=tuple(dict.fromkeys((*setting.findings, *findings))))


def may_be_given(setting: Setting) -> bool:
    """Tell whether a setting is released, or held for nothing but what a person can give it (`wanted`).

    What would speak against the one must be looked for with the other: nobody asks anew when it is given.
    """
    held = [finding.code for finding in setting.findings if holds(finding.code)]
    return setting.state == "released" or (bool(held) and all(wanted(code) for code in held))
