"""An answer as text with labels, before it is laid out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

from torquary_catalogue.find import Answer, Row
from torquary_catalogue.find.answer import CAUTIONS
from torquary_catalogue.find.choices import MOST as MOST_CHOICES
from torquary_catalogue.find.question import Question
from torquary_catalogue.find.remarks import count_of, list_some
from torquary_catalogue.show.asked_words import write_asked
from torquary_catalogue.show.figures import write_limit, write_torque
from torquary_catalogue.show.row_table import RowTable, lay_out_rows
from torquary_catalogue.show.row_words import (
    join,
    term,
    write_bit,
    write_conductor,
    write_decision,
    write_device,
    write_place,
    write_printed,
    write_purpose,
    write_short_place,
    write_terminal,
)
from torquary_schema.findings import WITNESSED

HEADLINES = {
    "one": "One figure",
    "agree": "{count} rows agree",
    "one limit": "One limit, no setting is printed",
    "agree limit": "{count} rows agree on a limit, no setting is printed",
    "differ": "{count} rows differ: say more, or choose by the sheet",
    "beside held": "{count} known, and others that may be meant are held: say more",
    "outside": "{size} is outside what is printed; the nearest rows, nothing interpolated",
    "across": "{size} is not printed in this system; no plain answer",
    "held": "Held, not given: {count} waiting for a decision",
    "unknown": "Nothing known",
    "near": "No figure known for it",
    "strange": "Not understood: {strange}",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """One row: its torque, shown large, and labelled lines."""

    large: str
    lines: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """What is shown: headline, what was understood, what is said before the rows, the rows, notes, cautions.

    Rows are `blocks`; those that agree one block and a list of `places`; those that differ a `table`.
    """

    headline: str
    asked: str
    blocks: tuple[Block, ...]
    notes: tuple[str, ...]
    said_first: tuple[str, ...] = ()
    places: tuple[str, ...] = ()
    table: RowTable | None = None
    choices: tuple[str, ...] = ()
    cautions: tuple[str, ...] = CAUTIONS


MOST_SHOWN = 12
"""Rows shown of a broad answer unless all are asked for: more say nothing to someone with a screwdriver."""

MOST_VALUES = 8


def write_notice(answer: Answer, unit: str = "newton_metre", *, every_row: bool = False) -> Notice:
    """Put an answer into words, torques in the unit (canonical name).

    Of more than `MOST_SHOWN` rows each figure's first are shown, and a note counts the others, unless
    `every_row`.
    """
    rows = answer.rows if every_row else choose_shown(answer.rows)
    agree, differ = answer.kind == "agree", answer.kind == "differ"
    notes = _write_notes(answer, rows, every_row=every_row)
    shown = [] if differ else rows[:1] if agree else rows
    large = answer.answered and not differ
    return Notice(
        headline=_write_headline(answer),
        asked=write_asked(answer),
        blocks=tuple(_write_block(row, unit, answer, large=large) for row in shown),
        places=tuple(_write_same(row, answer.question) for row in rows[1:]) if agree else (),
        table=lay_out_rows(rows, answer.question, unit) if differ else None,
        notes=(*(_say_of_rows(rows, shown) if agree or differ else ()), *notes),
        said_first=(*_say_strange(answer), *answer.said_first),
        choices=tuple(_write_choices(answer, every_row=every_row)),
    )


def _write_headline(answer: Answer) -> str:
    counted = count_of(len(answer.rows), "row")
    count = counted if answer.kind == "held" or _stands_alone(answer) else str(len(answer.rows))
    strange = ", ".join(f"“{word}”" for word in answer.not_understood)
    return HEADLINES[_choose_headline(answer)].format(count=count, size=answer.question.size, strange=strange)


def _choose_headline(answer: Answer) -> str:
    if answer.not_understood:
        return "strange"
    if answer.correspondence:
        return "across"
    if _stands_alone(answer):
        return "beside held"
    if answer.kind in ("one", "agree") and answer.rows[0].is_limit:
        return f"{answer.kind} limit"
    return "near" if answer.kind == "unknown" and answer.notes else answer.kind


def _stands_alone(answer: Answer) -> bool:
    """Tell whether the rows have one figure, and differ only in that others are held."""
    return answer.kind == "differ" and len({row.figures for row in answer.rows}) == 1


def _say_strange(answer: Answer) -> Iterator[str]:
    if answer.not_understood and answer.rows:
        yield f"Without {'it' if len(answer.not_understood) == 1 else 'them'}: {write_asked(answer)}."


def _write_notes(answer: Answer, rows: Sequence[Row], *, every_row: bool) -> Iterator[str]:
    if answer.correspondence:
        yield answer.correspondence
    if answer.kind == "differ":
        yield from _say_differences(answer, every_row=every_row)
    if len(rows) < len(answer.rows):
        yield _say_left_out(answer.rows, rows)
    yield from answer.notes


def _say_of_rows(rows: Sequence[Row], shown: Sequence[Row]) -> Iterator[str]:
    """Say once what is told of rows that have no block of their own: conditions, decisions and findings."""
    told: dict[tuple[str, str], list[Row]] = {}
    for row in rows:
        for line in write_remarks(row):
            told.setdefault(line, []).append(row)
    said = {line for row in shown for line in write_remarks(row)}
    for (label, text), of in told.items():
        where = "" if len(of) == len(rows) else f" (for {list_some(dict.fromkeys(map(_name_row, of)), '; ')})"
        if (label, text) not in said or where:
            yield f"{label}: {text}{where}"


def _name_row(row: Row) -> str:
    return f"{row.terminal_printed} of {write_device(row)}"


def write_remarks(row: Row) -> Iterator[tuple[str, str]]:
    """Write what is to be said of a row beside its figure: conditions, decision, findings, each under its name."""
    if row.conditions:
        yield "condition", "; ".join(term("condition", key) for key in row.conditions)
    if row.purpose != "electrical_terminal":
        yield "screw", write_purpose(row)
    if row.verdict:
        yield "decided", write_decision(row)
    label = "why held" if row.state == "held" else "finding"
    yield from ((label, message) for code, message in row.findings if code != WITNESSED)


def _say_differences(answer: Answer, *, every_row: bool) -> Iterator[str]:
    settling = [one for one in answer.differences if one.settles]
    for one in settling[:1]:
        yield f"Say the {one.aspect} to tell them apart: {_some(one.values, every_row=every_row)}"
    alike = len({row.figures for row in answer.rows}) > 1 and not answer.differences
    if alike and not any(row.is_limit for row in answer.rows):
        yield "The rows say the same in all but the figure: see the sheet."


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
    others = f", among them {count_of(unseen, 'more figure')}" if unseen else ""
    count = len(rows) - len(shown)
    are = "row is" if count == 1 else "rows are"
    return f"{count} more {are} not shown{others}: say maker, model or terminal, or ask with --all."


def _some(values: Sequence[str], *, every_row: bool) -> str:
    kept = values if every_row else values[:MOST_VALUES]
    more = f" | and {len(values) - len(kept)} more" if len(kept) < len(values) else ""
    return " | ".join(kept) + more


def _write_choices(answer: Answer, *, every_row: bool) -> Iterator[str]:
    """Write what can be asked instead or added; with figures on show the table says it already."""
    for offer in answer.offers:
        instead = f"“{offer.instead}” in place of “{offer.word}”" if offer.instead else "the nearest known words"
        yield f"Did you mean {instead}? torquary find {offer.words}"
    if answer.kind == "differ" or not answer.choices:
        return
    shown = answer.choices if every_row else answer.choices[:MOST_CHOICES]
    yield f"Say which {shown[0].what}:"
    yield from (f"  {choice.name} ({count_of(choice.count, 'row')})" for choice in shown)
    if len(shown) < len(answer.choices):
        yield f"  and {len(answer.choices) - len(shown)} more: ask with --all."


def _write_same(row: Row, question: Question) -> str:
    """Write a further row that agrees, in one line."""
    return join(write_device(row), row.terminal_printed, write_conductor(row, question), write_short_place(row))


def _write_block(row: Row, unit: str, answer: Answer, *, large: bool) -> Block:
    torque = write_torque(row.figures[:3], unit)
    lines = [] if large or not torque else [("torque", torque)]
    lines.append(("limit", write_limit(row.figures, unit)))
    lines += [
        ("driver bit", write_bit(row)),
        *(remark for remark in write_remarks(row) if remark[0] == "condition"),
        ("device", write_device(row)),
        ("terminal", write_terminal(row)),
        ("conductor", write_conductor(row, answer.question)),
    ]
    lines += [("printed", write_printed(row))] if row.torque_printed is not None else []
    lines.append(("sheet", write_place(row)))
    pictures = (one.picture for one in answer.look_at if (one.sheet, one.id) == (row.sheet, row.id))
    lines += [("picture", f"{name}, written by torquary held --pictures FOLDER") for name in pictures if name]
    lines += [remark for remark in write_remarks(row) if remark[0] != "condition"]
    return Block(large=torque if large else "", lines=tuple((name, text) for name, text in lines if text))
