"""Files that a person fills in: JSON, read whole or refused in one line."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

_MOST_DIGITS = 30
"""Digits before or behind the point beyond which no quantity of a form lies."""


class FormWrong(Exception):  # noqa: N818  (a fact, not a fault of ours)
    """A form cannot be used. `message` is one line: which file, where in it, what to do."""

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message


def read_form(path: Path, *, largest: int, kind: str) -> Any:
    """Return what a JSON file of at most `largest` bytes holds, a field twice in one item being a fault.

    Numbers that are not whole are `Decimal`, digit by digit as written. `kind` is what messages call it ("the
    profile"). Raises `FormWrong`.
    """
    try:
        with path.open("rb") as file:
            raw = file.read(largest + 1)
    except OSError as error:
        why = error.strerror or str(error)
        raise FormWrong(f"{path}: {kind} cannot be opened ({why}): check its name and rights") from None
    if len(raw) > largest:
        raise FormWrong(f"{path}: is larger than {kind} may be ({largest // 1024**2} MB): name the right file")
    try:
        return json.loads(
            raw.decode("utf-8-sig"), object_pairs_hook=_take_once, parse_float=_read_exactly, parse_constant=_no_number
        )
    except UnicodeDecodeError:
        raise FormWrong(f"{path}: is not UTF-8 text; save it again with the encoding UTF-8") from None
    except json.JSONDecodeError as error:
        raise FormWrong(
            f"{path}: line {error.lineno}, column {error.colno}: {error.msg}; JSON wants plain quotes and a comma "
            "between the items, none behind the last"
        ) from None
    except (RecursionError, ValueError) as error:
        raise FormWrong(f"{path}: {str(error)[:120] or 'is not JSON'}; take it out of the file") from None


def _take_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    names = [name for name, _ in pairs]
    double = next((name for name in names if names.count(name) > 1), None)
    if double is not None:
        raise ValueError(f"the field {double[:60]!r} stands twice in one item")
    return dict(pairs)


def _read_exactly(text: str) -> Decimal:
    number = Decimal(text)
    if abs(number.adjusted()) > _MOST_DIGITS:
        raise ValueError(f"{text[:60]} is no number that can be meant")
    return number


def _no_number(text: str) -> Any:
    raise ValueError(f"{text} is no number")


_TOKENS = re.compile(r'"(?:[^"\\]|\\.)*"|[{}\[\],:]|[^\s{}\[\],:"]+|\n')


def line_of(path: Path, place: Sequence[str | int]) -> int:
    """Return the line (from 1) in which an item of a JSON file begins; of one that is not there, that of what holds it.

    `place` are the names and numbers (from 0) that lead to it: ("decisions", 4, "torque").
    """
    text = path.read_text("utf-8-sig")
    lines: dict[tuple[str | int, ...], int] = {(): 1}
    _note_lines(text, lines)
    wanted = tuple(place)
    return next(lines[wanted[:length]] for length in range(len(wanted), -1, -1) if wanted[:length] in lines)


def _note_lines(text: str, lines: dict[tuple[str | int, ...], int]) -> None:
    """Note the line in which each item of a JSON text begins."""
    line = 1
    stack: list[str | int] = []
    key = ""
    before = ""
    for token in (found[0] for found in _TOKENS.finditer(text)):
        if token == "\n":
            line += 1
            continue
        if token in "]}":
            stack.pop()
        elif token == ",":
            stack[-1] = stack[-1] + 1 if isinstance(stack[-1], int) else stack[-1]
        elif token == ":":
            stack[-1] = json.loads(key)
            lines[tuple(stack)] = line
        elif token in "[{":
            lines.setdefault(tuple(stack), line)
            stack.append(0 if token == "[" else "")
        elif stack and isinstance(stack[-1], int):
            lines[tuple(stack)] = line
        else:
            key = token if before != ":" else key
        before = token
