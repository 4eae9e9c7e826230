"""The verdict on a sheet: what is released compared with what its rows state."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from random_sheets import Sheet, Stated

from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_schema.sizes import circular_mils
from torquary_schema.values import Setting, SheetReport, Torque

NEAR = Decimal("1e-12")
"""N·m: the factor of the pound-force inch has no end of digits."""

Limits = tuple[Decimal | None, Decimal | None]


def judge(sheet: Sheet) -> Counter[str]:
    """Count the sheet's rows that are right, flagged, held as they must be, or lost, and what is wrong.

    A released setting that no row states is wrong, and so is a row released twice. A row is flagged only when a
    held setting or a finding speaks of it. Screws for other purposes answer no question and are passed over.
    """
    report = read_one(sheet.path, OpenWish(), sheet.profiles)
    released = [s for s in report.settings if s.state == "released" and s.purpose == "electrical_terminal"]
    settled = [row for row in sheet.stated if not row.unsettled]
    verdicts: Counter[str] = Counter()
    verdicts["wrong"] = sum(not any(states(row, setting) for row in settled) for setting in released)
    for row in sheet.stated:
        times = 0 if row.unsettled else sum(states(row, setting) for setting in released)
        verdicts["wrong"] += max(0, times - sum(_same(row, other) for other in settled))
        told = "held" if row.unsettled or _is_contested(row, sheet.stated, report) else "flagged"
        sole = [other.figure for other in sheet.stated].count(row.figure) == 1
        verdicts["right" if times else told if is_flagged(row, report, sole=sole) else "lost"] += 1
    return verdicts


def _is_contested(row: Stated, stated: Sequence[Stated], report: SheetReport) -> bool:
    """Tell whether another row gives the same terminal and an overlapping stretch of sizes another torque.

    The report has to say so: a row that is held for another reason is not held as it must be.
    """
    fellows = (o for o in stated if (o.terminal, o.device, o.stranding) == (row.terminal, row.device, row.stranding))
    contested = any(other.torque != row.torque and _share_sizes(row, other) for other in fellows)
    said = (s for s in report.settings if any(finding.code == "contradicted" for finding in s.findings))
    return contested and any(_names(setting.terminal.printed, row) for setting in said)


def _share_sizes(one: Stated, other: Stated) -> bool:
    for sides in ((one.conductor, other.conductor), tuple(map(_by_thickness, (one.gauge, other.gauge)))):
        (low, high), (least, most) = sides
        if None not in (low, high, least, most):
            return max(low, least) < min(high, most) or (low, high) == (least, most)
    return one.conductor == other.conductor and one.gauge == other.gauge


def _by_thickness(gauge: tuple[str | None, str | None]) -> Limits:
    low, high = gauge
    return (circular_mils(low) if low else None, circular_mils(high) if high else None)


def is_flagged(row: Stated, report: SheetReport, *, sole: bool = False) -> bool:
    """Tell whether the report speaks of the row: by its terminal, by its figure, or says that it has nothing.

    `sole`: no other row has its figure, which then suffices.
    """
    if not report.settings:
        return any(finding.code != "page_hidden_text" for finding in report.findings)
    if any(finding.code == "table_no_headings" for finding in report.findings):
        return True
    held = [s for s in report.settings if s.state == "held"]
    texts = [f"{f.printed} {f.message}" for f in report.findings]
    texts += [f"{s.terminal.printed} {s.place.text} {s.torque.printed if s.torque else ''}" for s in held]
    return any(_speaks_of(row, text, sole) for text in texts) or any(row.terminal == s.terminal.printed for s in held)


def _speaks_of(row: Stated, text: str, sole: bool) -> bool:
    """A text speaks of a row that it prints: the figure, with the terminal or the size beside it."""
    named = sole or _prints(text, row.terminal) or bool(row.size and _prints(text, row.size))
    marked = bool(row.mark and row.mark in text)
    return named and (marked or all(_prints(text, part) for part in row.figure.split(" | ")))


def _prints(text: str, part: str) -> bool:
    """Tell whether a text prints a figure or name by itself: "2" does not stand in "2.5"."""
    return re.search(rf"(?<![\w.,]){re.escape(part)}(?![\w]|[.,]\d)", text) is not None


def states(row: Stated, setting: Setting) -> bool:
    """Tell whether a setting says what the row states: terminal, both limits of torque and conductor."""
    torque, conductor = setting.torque, setting.conductor
    return (
        _names(setting.terminal.printed, row)
        and torque is not None
        and (_equal(torque, row.torque) or (row.also is not None and _equal(torque, row.also)))
        and (conductor.min_mm2, conductor.max_mm2) == row.conductor
        and (conductor.min_awg, conductor.max_awg) == row.gauge
        and (not row.stranding or conductor.stranding == (row.stranding,))
        and row.device in setting.device.printed
    )


def _same(one: Stated, other: Stated) -> bool:
    """Tell whether two rows state the same in other print."""
    return one == replace(other, figure=one.figure, size=one.size, mark=one.mark)


def _names(printed: str, row: Stated) -> bool:
    """A label of a table is taken as it is; a sentence may say "terminal" before it."""
    return printed == row.terminal or (
        row.spoken and re.fullmatch(rf"\w+ {re.escape(row.terminal)}", printed) is not None
    )


def _equal(torque: Torque, stated: Limits) -> bool:
    """Tell whether both ends are as stated; an upper bound alone is a limit."""
    if stated[0] is None and torque.max_nm is not None:
        return False
    highest = torque.limit_nm if stated[0] is None else torque.max_nm
    return all(
        value is said if value is None or said is None else abs(value - said) < NEAR
        for value, said in zip((torque.min_nm, highest), stated, strict=True)
    )
