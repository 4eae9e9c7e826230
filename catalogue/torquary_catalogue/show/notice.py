"""An answer as text with labels, before it is laid out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice

from torquary_catalogue.find import Answer, Row
from torquary_catalogue.find.answer import CAUTIONS
from torquary_catalogue.find.difference import NOT_SAID
from torquary_catalogue.find.question import Question
from torquary_catalogue.find.remarks import name_roles, not_stated
from torquary_catalogue.show.figures import write_limit, write_torque
from torquary_schema.file_kinds import WORKBOOKS, has_ending
from torquary_schema.places import name_table
from torquary_schema.vocabulary import VocabularyName, vocabulary

_HEADLINES = {
    "one": "One figure",
    "agree": "{count} rows agree",
    "one limit": "One limit, no setting is printed",
    "agree limit": "{count} rows agree on a limit, no setting is printed",
    "differ": "{count} rows differ: say more, or choose by the sheet",
    "outside": "{size} is outside what is printed; the nearest rows, nothing interpolated",
    "across": "{size} is not printed in this system; no plain answer",
    "held": "Held, not given: {count} reading(s) wait for a decision",
    "unknown": "Nothing known",
    "near": "No figure known for it",
}

_USUAL = "witnessed"
"""The remark that every figure of a printed page bears; the absence of it is told, not its presence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """One row: its torque, shown large, and labelled lines."""

    large: str
    lines: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """What is shown: headline, what was understood, what is said before the blocks, blocks, notes, cautions."""

    headline: str
    asked: str
    blocks: tuple[Block, ...]
    notes: tuple[str, ...]
    said_first: tuple[str, ...] = ()
    cautions: tuple[str, ...] = CAUTIONS


MOST_SHOWN = 12
"""Rows shown of a broad answer unless all are asked for: more say nothing to someone with a screwdriver."""

MOST_VALUES = 8


def write_notice(answer: Answer, unit: str = "newton_metre", *, every_row: bool = False) -> Notice:
    """Put an answer into words, torques in the unit (canonical name).

    Of more than `MOST_SHOWN` rows each figure's first are shown, and a note counts the others, unless
    `every_row`.
    """
    headline = _HEADLINES[_choose_headline(answer)].format(count=len(answer.rows), size=answer.question.size)
    notes = [answer.correspondence] if answer.correspondence else []
    for difference in answer.differences:
        role = "would tell them apart" if difference.settles else "differs too"
        notes.append(f"{difference.aspect} {role}: {_some(difference.values, every_row=every_row)}")
    if answer.kind == "differ" and not answer.differences and not any(row.is_limit for row in answer.rows):
        notes.append("The rows say the same in all but the figure: see the sheet.")
    shown = answer.kind in ("one", "agree")
    rows = answer.rows if every_row else choose_shown(answer.rows)
    if len(rows) < len(answer.rows):
        notes.append(_say_left_out(answer.rows, rows))
    return Notice(
        headline=headline,
        asked=_write_asked(answer),
        blocks=tuple(_write_block(row, unit, answer.question, large=shown and at == 0) for at, row in enumerate(rows)),
        notes=(*notes, *answer.notes),
        said_first=answer.said_first,
    )


def _choose_headline(answer: Answer) -> str:
    if answer.correspondence:
        return "across"
    if answer.kind in ("one", "agree") and answer.rows[0].is_limit:
        return f"{answer.kind} limit"
    return "near" if answer.kind == "unknown" and answer.notes else answer.kind


def choose_shown(rows: Sequence[Row]) -> tuple[Row, ...]:
    """Choose at most `MOST_SHOWN` rows in their order: one of each figure before a second of any."""
    if len(rows) <= MOST_SHOWN:
        return tuple(rows)
    first = set({row.figures: at for at, row in reversed(list(enumerate(rows)))}.values())
    others = (at for at in range(len(rows)) if at not in first)
    chosen = [*sorted(first), *islice(others, MOST_SHOWN)][:MOST_SHOWN]
    return tuple(rows[at] for at in sorted(chosen))


def _say_left_out(rows: Sequence[Row], shown: Sequence[Row]) -> str:
    unseen = len({row.figures for row in rows} - {row.figures for row in shown})
    others = f", among them {unseen} more figure(s)" if unseen else ""
    count = len(rows) - len(shown)
    return f"{count} more row(s) are not shown{others}: say maker, model or terminal, or ask with --all."


def _some(values: Sequence[str], *, every_row: bool) -> str:
    kept = values if every_row else values[:MOST_VALUES]
    more = f" | and {len(values) - len(kept)} more" if len(kept) < len(values) else ""
    return " | ".join(kept) + more


def _write_asked(answer: Answer) -> str:
    question = answer.question
    told = [
        _term("family", question.family),
        question.maker or "",
        question.series or "",
        _write_terminal(answer),
        question.size,
        f"{question.conductors} in one terminal" if question.conductors else "",
        _term("material", question.material),
        _term("stranding", question.stranding),
        {True: "with ferrule", False: "without ferrule", None: ""}[question.ferrule],
        f"{_term('purpose', question.purpose)} screw" if question.purpose else "",
        f'"{question.words}"' if question.words else "",
    ]
    return ", ".join(part for part in told if part)


def _write_terminal(answer: Answer) -> str:
    """Write the terminal asked for; of a word with two meanings those that the rows have, or the first."""
    question, fits = answer.question, {row.terminal_fit for row in (*answer.rows, *answer.held)}
    second = question.or_roles if "or_role" in fits else None
    first = None if fits == {"or_role"} else question.roles
    return " or ".join(name_roles(roles) for roles in (first, second) if roles) or question.terminal or ""


def _term(name: VocabularyName, key: str | None) -> str:
    if key is None:
        return ""
    entry = vocabulary(name).get(key)
    return entry.term if entry else key


def _write_block(row: Row, unit: str, question: Question, *, large: bool) -> Block:
    torque = write_torque(row.figures[:3], unit)
    lines = [] if large or not torque else [("torque", torque)]
    lines.append(("limit", write_limit(row.figures, unit)))
    if row.torque_printed is not None:
        lines.append(("printed", _write_printed(row)))
    lines += [
        ("driver bit", write_bit(row)),
        ("device", " ".join(part for part in (row.maker, row.device_printed or row.model) if part)),
        ("terminal", _join(row.terminal_printed, name_roles(row.roles), row.thread)),
        ("screw", _write_purpose(row)),
        ("conductor", _write_conductor(row, question)),
        ("condition", "; ".join(_term("condition", key) for key in row.conditions)),
        ("sheet", write_place(row)),
    ]
    lines += [("decided", _write_decision(row))] if row.verdict else []
    label = "why held" if row.state == "held" else "finding"
    lines += [(label, message) for code, message in row.findings if code != _USUAL]
    return Block(large=torque if large else "", lines=tuple((name, text) for name, text in lines if text))


def _write_printed(row: Row) -> str:
    printed, unit = row.torque_printed or "", row.unit_printed or ""
    return f"“{printed}”" if unit in printed else f"“{printed}”, unit “{unit}”"


def write_bit(row: Row) -> str:
    """Write the driver bits of a row; that the sheet says nothing is said."""
    if not row.drive:
        return NOT_SAID
    return write_bits(row.drive)


def write_bits(drive: Sequence[tuple[str, str]]) -> str:
    """Write driver bits, each a kind and a size; "" for none."""
    return " or ".join(f"{_term('drive', kind)}{f', size {size}' if size else ''}" for kind, size in drive)


def _join(*parts: str | None) -> str:
    return ", ".join(part for part in parts if part)


def _write_purpose(row: Row) -> str:
    """Write what the screw is for, "" if it is a terminal's."""
    return "" if row.purpose == "electrical_terminal" else f"{_term('purpose', row.purpose)}, no electrical terminal"


def _write_conductor(row: Row, question: Question) -> str:
    return _join(
        row.conductor_printed,
        " or ".join(_term("material", key) for key in row.material),
        " or ".join(_term("stranding", key) for key in row.stranding),
        {True: "with ferrule", False: "without ferrule", None: None}[row.ferrule],
        f"{row.conductor_count} in one terminal" if row.conductor_count else None,
        *(f"{aspect} not stated" for aspect in not_stated(question, row)),
    )


def write_place(row: Row) -> str:
    """Write sheet, edition, page (in a workbook: worksheet), table and row."""
    page = "worksheet" if has_ending(row.file, WORKBOOKS) else "page"
    return _join(
        row.file,
        row.edition if row.edition else f"edition {NOT_SAID}",
        f"{page} {row.page}" if row.page else None,
        name_table(row.table_number) if row.table_number else None,
        f"row {row.row_number}" if row.row_number else None,
    )


def _write_decision(row: Row) -> str:
    when = f"{row.decided_at:%Y-%m-%d}" if row.decided_at else ""
    to = f"to {row.torque_given}" if row.torque_given else "in its device, terminal or conductor"
    done = {"correct": f"corrected {to}", "add": "row added, which the reader missed,"}
    what = done.get(row.verdict or "", "accepted")
    return f"{what} by {row.who}, {when}: {row.why}"
