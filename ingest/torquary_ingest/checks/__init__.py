"""Checks: each a function that looks at settings and yields findings; none raises."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from torquary_ingest.checks.plausible import check_plausible
from torquary_ingest.checks.sizes import check_sizes
from torquary_schema.findings import holds
from torquary_schema.values import Finding, Setting

# A check yields (position of the setting, finding); a finding that holds turns the setting to "held".
Check = Callable[[Sequence[Setting]], Iterator[tuple[int, Finding]]]

CHECKS: tuple[Check, ...] = (check_plausible, check_sizes)


def check_settings(settings: Sequence[Setting], checks: Sequence[Check] = CHECKS) -> list[Setting]:
    """Return the settings with the findings of all checks; those with a holding finding are held."""
    found: dict[int, list[Finding]] = {}
    for check in checks:
        for position, finding in check(settings):
            found.setdefault(position, []).append(finding)
    return [_add(setting, found.get(position, [])) for position, setting in enumerate(settings)]


def _add(setting: Setting, findings: list[Finding]) -> Setting:
    if not findings:
        return setting
    state = "held" if any(holds(finding.code) for finding in findings) else setting.state
    return replace(setting, state=state, findings=(*setting.findings, *findings))
