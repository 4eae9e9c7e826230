"""What became of a load, in words."""

from __future__ import annotations

from dataclasses import asdict, fields
from typing import TYPE_CHECKING, Any

from torquary_catalogue.show.held import write_held
from torquary_catalogue.show.sheets import write_finding
from torquary_catalogue.store.counts import Counts
from torquary_catalogue.store.identity import Gone
from torquary_catalogue.store.record import SHOWN_DIGITS

if TYPE_CHECKING:
    from torquary_catalogue.layouts import UsedProfile
    from torquary_catalogue.load import LoadedSheet, Summary


_COUNTED = tuple(field.name for field in fields(Counts))


def write_summary(summary: Summary) -> list[str]:
    """Return the summary, line by line: every refused sheet and held reading by name, with the reason."""
    lines = [_count(summary)]
    for sheet in summary.sheets:
        lines += _write_sheet(sheet)
    for profile in summary.profiles:
        lines += _write_profile(profile)
    lines += [_write_gone(one) for one in summary.gone]
    lines += [f"{file}: gave nothing and may hold torques: torquary read shows why" for file in summary.unread]
    if summary.held:
        lines += ["", f"Held, {len(summary.held)} reading(s) to decide with torquary decide ID:"]
        lines += write_held(summary.held)
    return lines


def _write_gone(gone: Gone) -> str:
    return (
        f"{gone.file}: gone from {gone.folder} (there on {gone.last_loaded:%Y-%m-%d}), and in force as before; "
        f"if it is not to answer any more: torquary sheet {gone.digest[:SHOWN_DIGITS]} withdraw --why …"
    )


def _count(summary: Summary) -> str:
    outcomes = [sheet.outcome for sheet in summary.sheets]
    told = ", ".join(f"{outcomes.count(one)} {one}" for one in ("loaded", "unchanged", "refused") if one in outcomes)
    total = Counts(**{name: sum(asdict(sheet.counts)[name] for sheet in summary.sheets) for name in _COUNTED})
    return f"{len(outcomes)} sheet(s): {told}; settings read: {_write_counts(total)}"


def _write_counts(counts: Counts) -> str:
    """Write what is in force; what a person decided only where there is some."""
    decided = ((counts.corrected, "corrected"), (counts.rejected, "rejected"))
    parts = [(counts.released, "released"), *(one for one in decided if one[0]), (counts.held, "held")]
    return ", ".join(f"{count} {state}" for count, state in parts)


def _write_sheet(sheet: LoadedSheet) -> list[str]:
    head = f"{sheet.file}: {sheet.outcome}"
    if sheet.outcome == "loaded":
        head += f", {_write_counts(sheet.counts)}"
    if sheet.replaced:
        head += f", replaces {sheet.replaced} other sheet(s)"
    return [head, *(f"  ! {write_finding(finding)}" for finding in sheet.findings), *_write_withdrawn(sheet)]


def _write_withdrawn(sheet: LoadedSheet) -> list[str]:
    """Say what an earlier reader released and this one does not, one line for each reason."""
    if not sheet.withdrawn:
        return []
    lines = [f"    {one.count} setting(s): {one.meaning} [{one.code}]" for one in sheet.withdrawn]
    return ["  read anew, for the reader has changed; released before and not now:", *lines]


def _write_profile(profile: UsedProfile) -> list[str]:
    count = f"{len(profile.sheets)} sheet(s)" if profile.sheets else "no sheet"
    return [f"layout profile {profile.name}: used for {count}", *(f"  {reason}" for reason in profile.reasons)]


def summary_to_dict(summary: Summary) -> dict[str, Any]:
    """Return the summary as a mapping for --json."""
    return {
        "sheets": [
            {
                "file": sheet.file,
                "digest": sheet.digest,
                "outcome": sheet.outcome,
                **asdict(sheet.counts),
                "replaced": sheet.replaced,
                "withdrawn": [asdict(one) for one in sheet.withdrawn],
                "findings": [
                    {"code": finding.code, "scope": finding.scope, "message": finding.message}
                    for finding in sheet.findings
                ],
            }
            for sheet in summary.sheets
        ],
        "held": list(summary.held),
        "unread": list(summary.unread),
        "gone": [{"file": one.file, "folder": one.folder, "digest": one.digest} for one in summary.gone],
        "profiles": [
            {"name": profile.name, "sheets": list(profile.sheets), "reasons": list(profile.reasons)}
            for profile in summary.profiles
        ],
    }
