"""Conductor sizes and drives inside a torque cell, gathered into one piece each."""

from __future__ import annotations

import re
from dataclasses import replace

from torquary_ingest.figures.conductor_words import read_conductor_words
from torquary_ingest.figures.tokens import Piece
from torquary_schema.sizes import awg_number

_NUMBERS = ("NUM", "AUGHT")
_LIMITS = ("MIN", "MAX", "FROM_SIGN", "UPTO_SIGN")
_DRIVE = re.compile(r"(?:PZ|PZD|PH|TX|T|SQ|SL)[0-9]{0,2}|(?:PZ|PH)/(?:S|FL|SL)", re.IGNORECASE)


def _falls_like_awg(pieces: list[Piece], index: int) -> bool:
    """Tell whether "14-10 Cu" begins here: whole AWG numbers that fall, with a word on the conductor behind.

    A torque range never falls, so this takes nothing from the figures.
    """
    run = pieces[index : index + 4]
    if [p.type for p in run] != ["NUM", "DASH", "NUM", "WORD"] or not read_conductor_words(run[3].text).known:
        return False
    sizes = [awg_number(run[at].text) for at in (0, 2)]
    return sizes[0] is not None and sizes[1] is not None and sizes[0] > sizes[1]


def open_brackets(pieces: list[Piece]) -> list[Piece]:
    """Return the pieces without the brackets around a tolerance or a limit alone: "2 Nm (±10 %)", "1.6 (max.)"."""
    out = list(pieces)
    index = 0
    while index + 1 < len(out):
        if out[index].type == "LP" and out[index + 1].type in ("PM", "PLUS"):
            close = next((i for i in range(index, len(out)) if out[i].type == "RP"), None)
            if close is not None:
                del out[close]
                del out[index]
        elif _is_limit_alone(out[index - 1 : index + 3] if index else []):
            out[index : index + 3] = [replace(out[index + 1], start=out[index].start, end=out[index + 2].end)]
        index += 1
    return out


def _is_limit_alone(run: list[Piece]) -> bool:
    """Tell whether a bracket behind a figure holds a word for a limit and nothing else."""
    types = [piece.type for piece in run]
    return len(run) == 4 and types[0] in ("NUM", "UNIT") and types[1::2] == ["LP", "RP"] and types[2] in ("MIN", "MAX")


def _is_size_unit(piece: Piece) -> bool:
    return piece.unit is not None and piece.unit.kind in ("area", "gauge")


def _is_gauge(piece: Piece) -> bool:
    return piece.unit is not None and piece.unit.kind == "gauge"


def collapse_sizes(pieces: list[Piece]) -> list[Piece]:
    """Return the pieces with every printed conductor size as one SIZE piece and every drive as DRIVE.

    A size is a number or a range with an area or gauge unit (before or behind), with a limit in front or behind.
    """
    taken: list[tuple[int, int]] = []
    pieces = _part_torn_limits(pieces)
    for index, piece in enumerate(pieces):
        if any(start <= index < end for start, end in taken):
            continue
        if _is_size_unit(piece):
            start = _reach_left(pieces, index)
            end = index + 1
            if start == index and _is_gauge(piece):
                end = _reach_right(pieces, index + 1)
                start = _limit_left(pieces, start)
            if end - start > 1:
                taken.append((start, _limit_right(pieces, end)))
        elif piece.type == "HASH":
            # "#2" alone may be the number of a driver bit or of a screw: only a range of sizes is a size.
            end = _reach_right(pieces, index + 1)
            if end > index + 2:
                taken.append((_limit_left(pieces, index), end))
        elif _falls_like_awg(pieces, index):
            taken.append((index, index + 3))
        elif piece.type == "DIAM" and index + 1 < len(pieces) and pieces[index + 1].type == "NUM":
            behind = pieces[index + 2] if index + 2 < len(pieces) else None
            length = behind is not None and behind.unit is not None and behind.unit.kind == "length"
            taken.append((index, index + (3 if length else 2)))
    return _replace(pieces, taken)


def _reach_left(pieces: list[Piece], unit: int) -> int:
    """Return where the size begins whose unit stands at index `unit`; `unit` itself if no number is there."""
    start = unit
    if not (start and pieces[start - 1].type in _NUMBERS):
        return unit
    start -= 1
    at = start
    if at and pieces[at - 1].type == "DASH":
        at -= 1
        while at and (_is_size_unit(pieces[at - 1]) or pieces[at - 1].type == "HASH"):
            at -= 1
        if at and pieces[at - 1].type in _NUMBERS:
            start = at - 1
    if start and (pieces[start - 1].type == "HASH" or _is_gauge(pieces[start - 1])):
        start -= 1
    if start > 1 and pieces[start - 1].type == "TIMES" and pieces[start - 2].type == "NUM":
        start -= 2
    return _limit_left(pieces, start)


def _limit_left(pieces: list[Piece], start: int) -> int:
    return start - 1 if start and pieces[start - 1].type in _LIMITS else start


def _part_torn_limits(pieces: list[Piece]) -> list[Piece]:
    """Return the pieces with a limit between a size and a figure as a mere word: "10 mm² max. 4 N·m" limits either."""
    out = list(pieces)
    for index in range(1, len(out) - 1):
        between = _is_size_unit(out[index - 1]) and out[index + 1].type in _NUMBERS
        if between and out[index].type in ("MIN", "MAX") and not _is_size(out, index + 1):
            out[index] = replace(out[index], type="WORD")
    return out


def _is_size(pieces: list[Piece], start: int) -> bool:
    end = _reach_right(pieces, start)
    return end < len(pieces) and _is_size_unit(pieces[end])


def _limit_right(pieces: list[Piece], end: int) -> int:
    """Return the index behind "or more" at `end`: of "10 mm² or more: 4 N·m" it limits the size, not the torque."""
    return end + 1 if end < len(pieces) and pieces[end].type in ("MORE", "LESS") else end


def _reach_right(pieces: list[Piece], start: int) -> int:
    """Return the index behind a number or range that begins at `start`; `start` if none does."""
    if start >= len(pieces) or pieces[start].type not in _NUMBERS:
        return start
    end = start + 1
    if end < len(pieces) and pieces[end].type == "DASH":
        at = end + 1
        while at < len(pieces) and (pieces[at].type == "HASH" or _is_gauge(pieces[at])):
            at += 1
        if at < len(pieces) and pieces[at].type in _NUMBERS:
            end = at + 1
    return end


def _replace(pieces: list[Piece], taken: list[tuple[int, int]]) -> list[Piece]:
    starts = {start: end for start, end in taken}
    out: list[Piece] = []
    index = 0
    while index < len(pieces):
        if index in starts:
            end = starts[index]
            out.append(Piece(type="SIZE", text="", start=pieces[index].start, end=pieces[end - 1].end))
            index = end
            continue
        piece = pieces[index]
        if piece.type == "WORD" and _DRIVE.fullmatch(piece.text):
            piece = Piece(type="DRIVE", text=piece.text, start=piece.start, end=piece.end)
        out.append(piece)
        index += 1
    return out
