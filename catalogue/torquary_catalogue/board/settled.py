"""What the catalogue says of each terminal of a board by the rules of `find`: certain, or what
would settle it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from torquary_catalogue.board.bands import Band, read_band
from torquary_catalogue.board.driver import Bit
from torquary_catalogue.board.listed import ListedTerminal
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.find import Answer, Row, find, read_question
from torquary_catalogue.find.together import AskedTogether
from torquary_catalogue.show.figures import write_figures
from torquary_catalogue.show.notice import write_notice
from torquary_catalogue.show.row_words import term, write_bits, write_size
from torquary_catalogue.store import Catalogue

_Asked = tuple[str, tuple[tuple[str, str], ...]]
_FERRULES = {"with": "with ferrule", "without": "without ferrule"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Certain:
    """A terminal with one certain figure: the rows it is printed in (the first is shown), and its
    band.

    `bits` are driver bits that all of the rows that print any allow, each enough alone; empty where
    none is printed. `conditions` are keys of the vocabulary; `notes` what find says beside the
    figure.
    """

    terminal: ListedTerminal
    rows: tuple[Row, ...]
    band: Band
    bits: tuple[Bit, ...]
    conditions: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def row(self) -> Row:
        """The row that is shown."""
        return self.rows[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Unsettled:
    """A terminal without a certain figure: why, what would settle it, and the question to go on
    with.

    `column` is the column of the list that is at fault, "" where none is.
    """

    terminal: ListedTerminal
    why: str
    settles: tuple[str, ...]
    command: str
    column: str = ""


def settle(
    catalogue: Catalogue, terminals: Sequence[ListedTerminal]
) -> Iterator[Certain | Unsettled]:
    """Yield what the catalogue says of each terminal; terminals with the same question are asked
    for once.
    """
    asked = [_write_question(terminal) for terminal in terminals]
    answers = _ask_all(catalogue, dict.fromkeys(asked))
    for terminal, question in zip(terminals, asked, strict=True):
        answer = answers[question]
        if isinstance(answer, str):
            yield Unsettled(
                terminal=terminal, why=answer, settles=(), command="", column=_blame(answer)
            )
        else:
            yield _judge(terminal, answer)


def _write_question(terminal: ListedTerminal) -> _Asked:
    """Return the words and the options of the question for a terminal."""
    size = terminal.conductor
    if size and terminal.conductors > 1:
        size = f"{terminal.conductors}x{size}"
    words = " ".join(filter(None, (terminal.device, _FERRULES.get(terminal.ferrule))))
    options = {
        "maker": terminal.maker,
        "terminal": terminal.terminal,
        "conductor": size,
        "material": terminal.material,
        "stranding": terminal.stranding,
    }
    return words, tuple((name, text) for name, text in options.items() if text)


def _ask_all(catalogue: Catalogue, questions: Iterable[_Asked]) -> dict[_Asked, Answer | str]:
    """Return the answer to each question, or what is wrong with it."""
    together = AskedTogether(catalogue)

    def ask(asked: _Asked) -> Answer:
        words, options = asked
        return find(together, read_question(together, words, **dict(options)))

    asked = list(questions)
    told = together.tell_each([partial(ask, one) for one in asked])
    wrong = next(
        (one for one in told if isinstance(one, TorquaryError) and one.status != WRONG_USE), None
    )
    if wrong is not None:
        raise wrong
    answers = (one.message if isinstance(one, TorquaryError) else one for one in told)
    return dict(zip(asked, answers, strict=True))


def _blame(message: str) -> str:
    """Return the column of the list that a fault of the question names as an option of find."""
    return next(
        (
            name
            for name in ("conductor", "material", "stranding", "terminal")
            if f"--{name}" in message
        ),
        "",
    )


def _judge(terminal: ListedTerminal, answer: Answer) -> Certain | Unsettled:
    why = _find_size_in_device(terminal, answer) or _find_doubt(answer)
    if why:
        return _leave(terminal, answer, why)
    band, bits = read_band(answer.rows[0].figures), _share_bits(answer.rows)
    if band is None or bits is None:
        why = (
            "the rows that agree print different driver bits"
            if band
            else "no torque is printed that can be set"
        )
        return _leave(terminal, answer, why)
    rows = answer.rows
    size = () if terminal.conductor else _say_size(rows)
    findings = tuple(
        dict.fromkeys(
            message for row in rows for code, message in row.findings if code != "witnessed"
        )
    )
    return Certain(
        terminal=terminal,
        rows=rows,
        band=band,
        bits=bits,
        conditions=tuple(dict.fromkeys(key for row in rows for key in row.conditions)),
        notes=(*answer.said_first, *answer.notes, *size, *findings),
    )


def _find_size_in_device(terminal: ListedTerminal, answer: Answer) -> str:
    """Return that a number of the device was taken for a size, "" if none was: the answer may be
    another device's.
    """
    if terminal.conductor or not answer.question.size:
        return ""
    size = answer.question.size
    return f"a number in the device was taken for {size}: write the conductor in its column"


def _find_doubt(answer: Answer) -> str:
    """Return why an answer gives no figure to work by, "" if it does."""
    if not answer.answered or answer.kind == "differ":
        return write_notice(answer).headline
    if answer.held:
        return "a reading that would fit as well is held"
    if any(row.terminal_fit == "elsewhere" for row in answer.rows):
        return "the sheet names its terminals by other words"
    if any(row.is_limit for row in answer.rows):
        return f"no setting is printed: {write_figures(answer.rows[0].figures)}"
    return ""


def _leave(terminal: ListedTerminal, answer: Answer, why: str) -> Unsettled:
    notice = write_notice(answer)
    settles = (
        *notice.said_first,
        *notice.notes,
        *notice.choices,
        *_name_held(answer),
        *_name_nearest(answer),
    )
    return Unsettled(
        terminal=terminal,
        why=why,
        settles=tuple(dict.fromkeys(settles)),
        command=answer.question.command,
    )


def _name_held(answer: Answer) -> Iterator[str]:
    rows = answer.held or (answer.rows if answer.kind == "held" else ())
    for row in rows:
        reasons = "; ".join(message for _, message in row.findings)
        yield f"held: {row.id}, {row.file} page {row.page}, {row.terminal_printed}: {reasons}"


def _name_nearest(answer: Answer) -> Iterator[str]:
    """Name the printed sizes about one that is outside them; no figure is given with them."""
    if answer.kind == "outside":
        for row in answer.rows:
            where = f"{row.terminal_printed}, {row.file} page {row.page}"
            yield f"printed: {write_size(row)} for {where}"


def _share_bits(rows: Sequence[Row]) -> tuple[Bit, ...] | None:
    """Return the bits that all rows which print any allow; None where they have none in common."""
    printed = [row.drive for row in rows if row.drive]
    if not printed:
        return ()
    shared = tuple(bit for bit in printed[0] if all(bit in other for other in printed))
    return shared or None


def _say_size(rows: Sequence[Row]) -> tuple[str, ...]:
    printed = dict.fromkeys(filter(None, map(write_size, rows)))
    return (
        (f"No size is on the list; the figure is printed for {' and '.join(printed)}.",)
        if printed
        else ()
    )


def name_bit(bit: Bit) -> str:
    """Return what people call a bit: "cross recess type Z, size 2"."""
    return write_bits([bit])


def name_conditions(keys: Sequence[str]) -> list[str]:
    """Return the terms of conditions."""
    return [term("condition", key) for key in keys]
