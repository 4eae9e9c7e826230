"""Questions made at random from what a catalogue has, to compare the page for the pocket with the command.

Words of all languages, labels, types and makers as printed, sizes and ratings in every spelling, misspellings and
words of nothing; some of them whole questions of the bank, with a word more or less.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from question_bank import questions

from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.find import Answer, Question, Row, find, read_question
from torquary_catalogue.store import Catalogue

_SIZES = (
    "10mm2", "10 mm²", "2,5mm2", "1.5 mm2", "25mm", "16sq", "6 sqmm", "35 qmm", "0.75mm2", "95mm2", "AWG 8", "14 AWG",
    "#10", "1/0 AWG", "250 kcmil", "350MCM", "2x10mm2", "3 x 2.5 mm²", "16", "2.5", "4", "7", "10mm2 16mm2", "100 mm2",
    "0.2mm2", "20000mm2", "AWG 24", "4/0", "00 AWG", "211.6kcmil", "AWG 57", "AWG 56",
)  # fmt: skip
_RATINGS = ("32A", "63 amp", "C16", "B32", "b 6", "D 20", "16a", "125 A", "K10", "C17", "40 amperes", "6,3A")
_KINDS_SAID = (
    "copper", "aluminium", "alu", "solid", "flexible", "stranded", "with ferrule", "Aderendhülse", "ohne Aderendhülse",
)  # fmt: skip
_OTHERS = (
    "bit", "for the", "please", "torque", "qxzzv", "mainswich", "neutrl", "top", "bottom", "pulse output",
    "cover screw", "mounting",
)  # fmt: skip
_MARKS = ("L1", "N", "PE", "2", "A1", "11", "+", "T2", "L 1")


def make_questions(catalogue: Catalogue, count: int, seed: int) -> Iterator[str]:
    """Yield so many questions; the same seed gives the same ones."""
    dice = random.Random(seed)
    stock = _read_stock(catalogue)
    bank = [question["words"] for question in questions()]
    for _ in range(count):
        if dice.random() < 0.2:
            yield _change(dice, dice.choice(bank), stock)
            continue
        parts = [dice.choice(stock[dice.choice(list(stock))]) for _ in range(dice.choice((1, 2, 2, 3, 3, 4, 5)))]
        dice.shuffle(parts)
        yield _misspell(dice, " ".join(parts)) if dice.random() < 0.1 else " ".join(parts)


def _read_stock(catalogue: Catalogue) -> dict[str, list[str]]:
    """Return the parts of questions by kind; a kind that is asked for often stands more than once."""

    def column(query: str) -> list[str]:
        return [text for (text,) in catalogue.connection.execute(query).fetchall() if text]

    printed = "SELECT DISTINCT {0} FROM setting ORDER BY ALL"
    known = "SELECT DISTINCT spelling FROM known_word WHERE kind = '{0}' ORDER BY ALL"
    types = "SELECT DISTINCT word FROM sheet_word WHERE regexp_matches(word, '[a-z][0-9]|[0-9][a-z]') ORDER BY ALL"
    stock = {kind: column(known.format(kind)) for kind in ("family", "role", "part", "purpose", "ferrule", "stranding")}
    stock |= {f"{name} again": stock[name] for name in ("family", "role")}
    stock |= {name: column(printed.format(name)) for name in ("device_printed", "terminal_printed", "model", "maker")}
    stock |= {"types": column(types), "types again": column(types)}
    stock["words"] = column("SELECT DISTINCT word FROM sheet_word ORDER BY ALL")
    stock["files"] = column("SELECT file FROM sheet ORDER BY ALL")
    stock |= {"sizes": [*_SIZES], "sizes again": [*_SIZES], "ratings": [*_RATINGS], "marks": [*_MARKS]}
    return stock | {"kinds": [*_KINDS_SAID], "others": [*_OTHERS]}


def _change(dice: random.Random, words: str, stock: dict[str, list[str]]) -> str:
    """Return a question of the bank as it stands, with a word less, one more, in another order, or misspelt."""
    parts = words.split()
    way = dice.randrange(5)
    if way == 1:
        dice.shuffle(parts)
    elif way == 2 and len(parts) > 1:
        del parts[dice.randrange(len(parts))]
    elif way == 3:
        parts.append(dice.choice(stock[dice.choice(list(stock))]))
    return _misspell(dice, words) if way == 4 else " ".join(parts)


def _misspell(dice: random.Random, words: str) -> str:
    at = dice.randrange(len(words))
    return words[:at] + dice.choice(("", words[at] * 2, "e", "X", " ")) + words[at + 1 :]


def answer_by_command(catalogue: Catalogue, words: str) -> dict[str, Any]:
    """Return what `torquary find` says to the words, in the shape that the page's script is asked for."""
    try:
        return write_answer(find(catalogue, read_question(catalogue, words)))
    except TorquaryError as error:
        return {"fault": error.message}


def write_answer(answer: Answer) -> dict[str, Any]:
    """Return all of an answer that page and command must have alike."""
    return {
        "kind": answer.kind,
        "question": _write_parts(answer.question),
        "rows": [_name(row) for row in answer.rows],
        "held": [_name(row) for row in answer.held],
        "figures": [[None if one is None else f"{one:f}" for one in row.figures] for row in answer.rows],
        "differences": [[one.aspect, list(one.values), one.settles] for one in answer.differences],
        "correspondence": answer.correspondence,
        "said_first": list(answer.said_first),
        "notes": [note.split(": torquary find")[0] for note in answer.notes],
        "not_understood": list(answer.not_understood),
        "offers": [[one.word, one.instead, one.words] for one in answer.offers],
        "choices": [[one.what, one.name, one.count] for one in answer.choices],
    }


def _write_parts(question: Question) -> dict[str, Any]:
    parts = question.parts()
    return {name: f"{value:f}" if name in ("mm2", "amps") else value for name, value in parts.items()} | {
        name: list(parts[name]) for name in ("roles", "or_roles") if name in parts
    }


def _name(row: Row) -> list[str]:
    return [row.sheet, row.id, row.fit, row.terminal_fit]


BY_PAGE = Path(__file__).with_name("answer_by_page.js").read_text("utf-8").strip()
"""A script that answers typed words in that shape; rows are told by their place on the page."""


def name_rows(told: dict[str, Any], rows: list[tuple[str, str]]) -> dict[str, Any]:
    """Return what the page's script told, its rows under the names (sheet, id) of the page's rows."""
    if "fault" in told:
        return told
    named = {part: [[*rows[at], *fits] for at, *fits in told[part]] for part in ("rows", "held")}
    return told | named
