"""Sheets of sentences, steps and items, each with what it must give, read from a text file.

    %% language: what it tries
    # the sheet's title        ## a heading        any other line is printed as it stands, a blank line is a gap
    > name | torque in N·m | more       a setting to release: 2.5, 2..2.5, <= 0.8 (a limit), 0.5 <= 0.6 (with a limit)
    ? hold                              nothing is released, and something is held or found
    ? other                             no terminal's setting is released, and something is said
`more`: purpose, device, thread, drive with its size, mm2 (2.5..6), awg, material, stranding, ferrule (yes or no).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from decimal import Decimal
from pathlib import Path

from torquary_ingest.document import Document, Page, Word
from torquary_ingest.extractors.headed import HeadedTables
from torquary_ingest.extractors.listed import KeyValueLists
from torquary_ingest.extractors.sentences import Sentences
from torquary_ingest.normalise import settle
from torquary_ingest.skeleton import make_skeleton
from torquary_schema.folding import fold
from torquary_schema.values import Box, Finding, Setting

_PITCH, _GAP, _LEFT, _TOP = 11.0, 8.0, 60.0, 60.0
_SIZES = {"# ": 15.0, "## ": 12.0}
_TEXT = 9.0
_NEAR = Decimal("0.015")
"""Share by which a figure may differ that is printed in two units."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A setting to release: a part of its name, its torque as written in the file, and what more it must say."""

    name: str
    torque: str
    more: tuple[str, ...] = ()


@dataclass(slots=True, kw_only=True)
class Sheet:
    """A case of the file: its printed lines, the settings wanted, and the verdict wanted if there are none."""

    title: str
    lines: list[str] = field(default_factory=list)
    wanted: list[Wanted] = field(default_factory=list)
    verdict: str = ""


def read_cases(path: Path) -> Iterator[Sheet]:
    """Yield the cases of a file in order."""
    sheet: Sheet | None = None
    for line in path.read_text("utf-8").splitlines():
        if line.startswith("%% "):
            if sheet is not None:
                yield sheet
            sheet = Sheet(title=line[3:])
        elif sheet is not None and line.startswith("> "):
            name, torque, *more = (part.strip() for part in line[2:].split("|"))
            sheet.wanted.append(Wanted(name=name, torque=torque, more=tuple(more)))
        elif sheet is not None and line.startswith("? "):
            sheet.verdict = line[2:].strip()
        elif sheet is not None:
            sheet.lines.append(line)
    if sheet is not None:
        yield sheet


def set_page(lines: list[str], width: float = 595.0) -> Document:
    """Set the lines on a page: a title in 15 points, headings in 12, the rest in 9; blank lines part paragraphs."""
    words: list[Word] = []
    top = _TOP
    for line in lines:
        mark = next((mark for mark in ("## ", "# ") if line.startswith(mark)), "")
        size = _SIZES.get(mark, _TEXT)
        x = _LEFT
        for text in line.removeprefix(mark).split():
            box = Box(x0=x, top=top, x1=x + 0.5 * size * len(text), bottom=top + size)
            words.append(Word(text=text, box=box, size=size, baseline=box.bottom))
            x = box.x1 + 0.3 * size
        top += (
            (_PITCH if line.strip() else 0)
            + (size - _TEXT)
            + (_GAP if mark or not line.strip() else 0)
        )
    page = Page(number=1, width=width, height=842, words=tuple(words))
    return Document(file="x", kind="test", pages=(page,), page_count=1)


def read(sheet: Sheet) -> tuple[list[Setting], list[Finding]]:
    """Return what the reader gives of a case."""
    document = set_page(sheet.lines)
    skeleton = make_skeleton(document, ())
    document = replace(document, sections=skeleton.sections, members=skeleton.members)
    extractors = (HeadedTables(), KeyValueLists(), Sentences())
    readings = [reading for each in extractors for reading in each.readings(document, ())]
    settings, findings = settle(document, (), readings, skeleton)
    return list(settings), list(findings)


def judge(sheet: Sheet, settings: list[Setting], findings: list[Finding]) -> dict[str, int]:
    """Count the wanted settings that came out right, held or lost, and the settings released wrongly."""
    released = [one for one in settings if one.state == "released"]
    if sheet.verdict == "other":
        released = [one for one in released if one.purpose == "electrical_terminal"]
    count = {"right": 0, "held": 0, "lost": 0, "wrong": 0}
    left = [
        one
        for at, one in enumerate(released)
        if not any(_twin(one, other) for other in released[:at])
    ]
    for wanted in sheet.wanted:
        hit = next((one for one in left if fits(wanted, one)), None)
        if hit is not None:
            left.remove(hit)
            count["right"] += 1
        else:
            said = any(one.state == "held" for one in settings) or bool(findings)
            count["held" if said else "lost"] += 1
    count["wrong"] += len(left)
    if sheet.verdict:
        said = len(settings) > len(released) or bool(findings)
        count[
            "right" if said and not released else "lost" if not released else "held"
        ] += not released
    return count


def _twin(one: Setting, other: Setting) -> bool:
    """Tell whether two settings say the same: "tighten to 10 N·m, … again to 10 N·m"."""
    return (one.terminal, one.conductor, one.torque) == (
        other.terminal,
        other.conductor,
        other.torque,
    )


def fits(wanted: Wanted, setting: Setting) -> bool:
    """Tell whether a released setting is the wanted one in name, torque and all else that is asked."""
    named = fold(wanted.name) in fold(setting.terminal.printed)
    purpose = next(
        (one.removeprefix("purpose ") for one in wanted.more if one.startswith("purpose ")), ""
    )
    return (
        named
        and setting.purpose == (purpose or "electrical_terminal")
        and _torque_fits(wanted.torque, setting)
        and all(_says(one, setting) for one in wanted.more if not one.startswith("purpose "))
    )


def _torque_fits(printed: str, setting: Setting) -> bool:
    torque = setting.torque
    if torque is None:
        return False
    setting_part, _, limit = (part.strip() for part in printed.partition("<="))
    low, _, high = setting_part.partition("..")
    ends = (low, high or low)
    figures = ((ends[0], torque.min_nm), (ends[1], torque.max_nm), (limit, torque.limit_nm))
    return all(_near(wanted, got) for wanted, got in figures)


def _near(wanted: str, got: Decimal | None) -> bool:
    if not wanted or got is None:
        return not wanted and got is None
    return abs(Decimal(wanted) - got) <= _NEAR * got


def _says(said: str, setting: Setting) -> bool:
    kind, _, value = said.partition(" ")
    conductor, terminal = setting.conductor, setting.terminal
    low, _, high = value.partition("..")
    told = {
        "device": lambda: fold(value) in fold(setting.device.printed),
        "thread": lambda: terminal.thread == value,
        "drive": lambda: (
            value
            in {f"{one.kind} {one.size}".strip() for one in terminal.drive}
            | {one.kind for one in terminal.drive}
        ),
        "mm2": lambda: _near(low, conductor.min_mm2) and _near(high or low, conductor.max_mm2),
        "awg": lambda: (conductor.min_awg, conductor.max_awg) == (low, high or low),
        "material": lambda: conductor.material == (value,),
        "stranding": lambda: conductor.stranding == tuple(value.split(",")),
        "ferrule": lambda: conductor.ferrule is (value == "yes"),
    }
    return bool(told[kind]())
