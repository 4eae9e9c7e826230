"""What became of each page of a sheet, and of every torque printed on it: nothing is silent."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from torquary_catalogue.show.sheets import write_place
from torquary_catalogue.show.visible import put_on_one_line
from torquary_schema.places import write_pages
from torquary_schema.values import Finding, Setting, SheetReport

_TERMINAL = "electrical_terminal"


def write_by_page(report: SheetReport) -> list[str]:
    """Return a sheet's settings and findings by the page they stand on, those of no page last."""
    if report.state == "refused":
        return [f"{report.file}: refused", *_write_findings(report.findings)]
    settings: dict[int, list[Setting]] = {}
    findings: dict[int | None, list[Finding]] = {}
    for setting in report.settings:
        settings.setdefault(setting.place.page or 1, []).append(setting)
    for finding in report.findings:
        findings.setdefault(finding.place.page if finding.place else None, []).append(finding)
    told = sorted({*settings, *(page for page in findings if page is not None)})
    silent = [page for page in range(1, (report.pages or 1) + 1) if page not in told]
    lines = [f"{report.file}: {report.pages} page{'s' if report.pages != 1 else ''}"]
    for page in told:
        here = settings.get(page, [])
        lines += [f"page {page}: {_count(here)}", *map(_write_setting, here), *_write_findings(findings.get(page, []))]
    if silent:
        lines.append(f"{write_pages(silent)}: no torque was seen")
    return [*lines, *_write_findings(findings.get(None, []))]


def _count(settings: list[Setting]) -> str:
    held = sum(setting.state == "held" for setting in settings)
    other = sum(setting.state != "held" and setting.purpose != _TERMINAL for setting in settings)
    parts = ((len(settings) - held - other, "released"), (other, "of other screws"), (held, "held"))
    return ", ".join(f"{count} {word}" for count, word in parts if count) or "no setting"


def _write_setting(setting: Setting) -> str:
    torque = setting.torque.printed if setting.torque else "no torque"
    if setting.state == "held":
        became = "held: " + "; ".join(dict.fromkeys(one.message for one in setting.findings if one.code != "witnessed"))
    else:
        became = "released" if setting.purpose == _TERMINAL else f"released, of another screw ({setting.purpose})"
    name = " | ".join(part for part in (setting.terminal.printed, setting.conductor.printed) if part)
    where = write_place(replace(setting.place, page=None)) or "in the text"
    said = f"“{torque}” {where}: {name or 'no name'}: {became}"
    return f"  {put_on_one_line(said)}"


def _write_findings(findings: Iterable[Finding]) -> list[str]:
    return [f"  ! {put_on_one_line(finding.message)} [{finding.code}]" for finding in findings]
