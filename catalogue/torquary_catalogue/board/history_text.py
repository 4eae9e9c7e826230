"""The history of boards as lines of text, and as a mapping for --json."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Any

from torquary_catalogue.board.history import Compared, Visit, Work
from torquary_catalogue.board.record import IN_WORDS
from torquary_catalogue.find.remarks import count_of
from torquary_catalogue.show.figures import write_torque
from torquary_catalogue.show.row_words import join
from torquary_catalogue.show.visible import put_on_one_line


def write_visits(visits: Sequence[Visit], unit: str, *, every: bool) -> list[str]:
    """Return the visits in lines; `every` shows each terminal, else those that were not found as
    set or not done.
    """
    lines: list[str] = []
    for visit in visits:
        lines.append(f"{visit.board}, visit of {visit.day}: {say_counts(visit)}")
        shown = [
            work
            for work in visit.works
            if every or work.found != "as_set" or not work.done or work.remark
        ]
        lines += [f"    {write_work(work, unit)}" for work in shown]
    return [_tidy(line) for line in lines]


def say_counts(visit: Visit) -> str:
    """Say in one line how many terminals were found as what, and set."""
    counts = ", ".join(
        f"{visit.counts[key]} {text}" for key, text in IN_WORDS.items() if visit.counts.get(key)
    )
    return f"{count_of(len(visit.works), 'terminal')}: {counts}; {visit.done} set"


def write_work(work: Work, unit: str) -> str:
    """Write what was found and done at a terminal in one line."""
    value, details = write_details(work, unit)
    done = f"set to {value}" if work.done and value else "set" if work.done else "not set"
    return f"{work.terminal}: {join(f'found {IN_WORDS[work.found]}', done, details)}"


def write_details(work: Work, unit: str) -> tuple[str, str]:
    """Return what the driver was set to, and who did it, when, with what, and what else is said."""
    driver = (
        f"{work.driver}{f', calibrated {work.calibrated}' if work.calibrated else ''}"
        if work.driver
        else ""
    )
    return write_torque((work.set_nm,) * 3, unit), join(
        work.who,
        work.worked_at.replace("T", " "),
        driver,
        f"photo {work.photo}" if work.photo else None,
        work.remark,
        f"corrects entry {', '.join(map(str, work.corrects))}" if work.corrects else None,
    )


def write_compared(
    first: Visit, second: Visit, compared: Sequence[Compared], unit: str
) -> list[str]:
    """Return the comparison of two visits in lines; what held is counted."""
    held = sum(one.change == "held" for one in compared)
    loosened = sum(one.change == "loosened" for one in compared)
    days = f"{second.day} compared with {first.day}"
    head = f"{second.board}, {days}: {loosened} had loosened, {held} held"
    return [_tidy(line) for line in (head, *_write_changes(compared, unit))]


def _write_changes(compared: Sequence[Compared], unit: str) -> Iterator[str]:
    for one in compared:
        if one.change != "held":
            yield f"    {one.change}: {one.terminal}{_say_before(one.first)}"
        if one.other_setting and one.first and one.second:
            values = [write_torque((work.set_nm,) * 3, unit) for work in (one.first, one.second)]
            yield f"    set otherwise: {one.terminal}: {values[0]} before, {values[1]} now"


def _say_before(first: Work | None) -> str:
    if first is None:
        return ""
    return f" (before: {IN_WORDS[first.found]}, {'set' if first.done else 'not set'})"


def _tidy(line: str) -> str:
    indent = len(line) - len(line.lstrip(" "))
    return " " * indent + put_on_one_line(line)


def history_to_dict(
    visits: Sequence[Visit], compared: Sequence[tuple[Visit, Visit, Sequence[Compared]]]
) -> dict[str, Any]:
    """Return visits and comparisons for --json; torques in N·m."""
    return {
        "visits": [
            {
                "board": visit.board,
                "day": visit.day,
                "terminals": [asdict(work) for work in visit.works],
            }
            for visit in visits
        ],
        "compared": [
            {
                "board": second.board,
                "first": first.day,
                "second": second.day,
                "terminals": [
                    {
                        "terminal": one.terminal,
                        "change": one.change,
                        "other_setting": one.other_setting,
                    }
                    for one in some
                ],
            }
            for first, second, some in compared
        ],
    }
