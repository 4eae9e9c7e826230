"""A page of its own for plans: to work by on a telephone, to enter what is found and done, and to
print.

It needs no network and no other file. What is entered the browser keeps, and saves as a file
(`work_record.schema.json`) that `torquary board take` takes in.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from string import Template

from torquary_catalogue.board.listed import ListedTerminal
from torquary_catalogue.board.plan import CAUTIONS, STEPS, DriverSetting, Plan, Task, name_sheets
from torquary_catalogue.board.plan_text import say_not_settable, say_unsettled, say_wrong
from torquary_catalogue.board.plan_words import (
    say_alike,
    say_count,
    say_fitted,
    say_setting,
    write_bit_of,
    write_value,
)
from torquary_catalogue.board.record import IN_WORDS
from torquary_catalogue.decimals import shorten
from torquary_catalogue.show.row_words import join
from torquary_catalogue.show.visible import put_on_one_line, to_json
from torquary_catalogue.show.web_page import (
    PagePart,
    keep,
    read_parts,
    read_script,
    read_style,
    write,
)

_HERE = "torquary_catalogue.board"

PATTERNS = 8
"""Patterns of the style sheet (p0 to p7); the ninth setting has the first again, and its own
number.
"""


def write_page(plans: Sequence[Plan], who: str = "") -> str:
    """Return the page of plans, ready to be written to a file."""
    part = write_part(plans, who)
    parts = {
        "title": _write(part.title),
        "style": f"{read_style(_HERE)}\n{part.style}",
        "script": f"{read_script(_HERE)}\n{part.script}",
        "work": part.text,
    }
    return Template(read_parts(_HERE, "page.html")).substitute(parts)


def write_part(plans: Sequence[Plan], who: str = "") -> PagePart:
    """Return what of a page is of plans, for a page of their own or another one."""
    boards = ", ".join(plan.board for plan in plans)
    names = "\n".join(
        f"{plan.board} {plan.made_on} {one.name}" for plan in plans for one in plan.terminals
    )
    wrong = [line for plan in plans for line in say_wrong(plan)]
    others = [line for plan in plans for line in (*say_unsettled(plan), *say_not_settable(plan))]
    parts = {
        "key": f"torquary-work-{hashlib.sha256(names.encode()).hexdigest()[:16]}",
        "count": _write("; ".join(say_count(plan) for plan in plans)),
        "cautions": "".join(f"<li>{_write(caution)}</li>" for caution in CAUTIONS),
        "before": _list("Before the work begins", wrong) + _list("Not planned", others),
        "who": _write(who),
        "day": plans[0].made_on.isoformat(),
        "plans": "\n".join(line for plan in plans for line in _write_plan(plan)),
    }
    return PagePart(
        title=f"Board {boards}: work plan of {plans[0].made_on}",
        style=read_parts(_HERE, "page.css"),
        script=read_parts(_HERE, "page.js"),
        text=Template(read_parts(_HERE, "work.html")).substitute(parts),
    )


def _write(text: str) -> str:
    """Return text as the page shows it."""
    return write(put_on_one_line(text))


def _list(title: str, lines: Iterable[str]) -> str:
    shown = "".join(f'<p class="{_kind_of(line)}">{_write(line)}</p>' for line in lines)
    return f"<h3>{_write(title)}</h3>{shown}" if shown else ""


def _kind_of(line: str) -> str:
    return "warn" if line.strip().startswith("!") else "said"


def _write_plan(plan: Plan) -> Iterator[str]:
    yield f'<section aria-label="{_write(f"Board {plan.board}")}">'
    yield "<h3>The board: number and pattern tell the setting</h3>"
    yield from _draw(plan)
    yield _list("At each terminal", (f"{at}. {step}" for at, step in enumerate(STEPS, start=1)))
    for setting in plan.settings:
        yield from _write_setting(plan, setting)
    yield _list("Left out", (f"{one.name}: {one.joint}" for one in plan.left_out))
    yield _list(
        "Sheets used",
        (join(*sheet) for sheet in name_sheets([task.certain for task in plan.tasks])),
    )
    yield "</section>"


def _draw(plan: Plan) -> Iterator[str]:
    numbers = {
        task.terminal.name: setting.number for setting in plan.settings for task in setting.tasks
    }
    for _, row in groupby(plan.terminals, key=lambda one: one.place.row):
        ways = groupby(row, key=lambda one: one.place.name or one.device)
        cells = (
            f"<li>{_write(name)}<ul>{_draw_way(list(some), numbers)}</ul></li>"
            for name, some in ways
        )
        yield f'<ul class="row">{"".join(cells)}</ul>'


def _draw_way(terminals: Sequence[ListedTerminal], numbers: dict[str, int]) -> str:
    lines = []
    for (name, number), some in groupby(
        terminals, key=lambda one: (one.terminal or one.joint, numbers.get(one.name))
    ):
        count = len(list(some))
        sign = _sign(number) if number else '<span class="sign">–</span>'
        lines.append(f"<li>{sign} {_write(name)}{f' × {count}' if count > 1 else ''}</li>")
    return "".join(lines)


def _sign(number: int) -> str:
    return f'<span class="sign p{(number - 1) % PATTERNS}"><b>{number}</b></span>'


def _write_setting(plan: Plan, setting: DriverSetting) -> Iterator[str]:
    yield f"<h2>{_sign(setting.number)} SET {_write(write_value(setting, plan.unit))}</h2>"
    yield from (f'<p class="said">{_write(line)}</p>' for line in say_setting(setting, plan.unit))
    for batch in setting.batches:
        yield f"<h3>bit: {_write(write_bit_of(batch))}</h3>"
        for tasks, lines in say_alike(batch.tasks, plan.unit):
            yield from (_write_card(plan, setting, task, lines) for task in tasks)


def _write_card(plan: Plan, setting: DriverSetting, task: Task, lines: Sequence[str]) -> str:
    """Return the card of a terminal: what is said of it, and what is entered."""
    name, row = task.terminal.name, task.certain.row
    calibrated = next((one.calibrated for one in plan.drivers if one.name == setting.driver), None)
    entry = {
        "board": plan.board,
        "terminal": name,
        "driver": setting.driver,
        "calibrated": calibrated.isoformat() if calibrated else "",
        "set_nm": f"{shorten(setting.value_nm)}",
        "sheet": row.sheet,
        "setting": row.id,
    }
    group = hashlib.sha256(f"{plan.board}\n{name}".encode()).hexdigest()[:12]
    fitted = say_fitted(task)
    said = "".join(f'<p class="said">{_write(line)}</p>' for line in lines)
    found = "".join(
        f'<label><input type="radio" name="found-{group}" value="{key}"> {text}</label>'
        for key, text in IN_WORDS.items()
    )
    return (
        f'<article data-entry="{keep(to_json(entry))}" aria-label="{_write(name)}">'
        f"<h4>{_write(name)}{f' <small>{_write(fitted)}</small>' if fitted else ''}</h4>{said}"
        f"<fieldset><legend>Found</legend>{found}</fieldset>"
        f'<label class="done"><input type="checkbox" name="done"> Set to '
        f"{_write(write_value(setting, plan.unit))}</label>"
        '<details class="more"><summary>Photograph, remark</summary>'
        '<label>File name of the photograph <input type="text" name="photo" maxlength="300">'
        '</label><label>Remark <input type="text" name="remark" maxlength="2000"></label>'
        "</details></article>"
    )
