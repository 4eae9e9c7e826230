"""Pieces to words: joined along their line, with raised marks, unit exponents and small fractions told apart."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from torquary_ingest.document import Doubt, Mark, Rule, Word
from torquary_ingest.openers.pdf.letters import NOTE_SIGNS, RAISED_DIGITS, runs_leftwards
from torquary_ingest.openers.pdf.pieces import GAP, Piece, surround_both
from torquary_schema.values import Box

SMALL = 0.78
"""A piece of at most this part of its neighbour's size is small: a mark, exponent, index or fraction part."""

_UNIT_BEFORE_EXPONENT = re.compile(r"(?:^|[\d\s(\[/])(?:mm|cm|in)$|(?:^|[\d\s])m$")
_FRACTION = re.compile(r"^\d{1,2}[/⁄]\d{1,3}$")
_UPPER = re.compile(r"^\d{1,2}[/⁄]?$")
_LOWER = re.compile(r"^[/⁄]?\d{1,3}$")
_RAISED_TAIL = re.compile(r"(?<=[^\s⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺])([⁰¹²³⁴⁵⁶⁷⁸⁹ᵃᵇᶜᵈᵉ][⁰¹²³⁴⁵⁶⁷⁸⁹ᵃᵇᶜᵈᵉ,⁾)]*)$")
_SIGN_TAIL = re.compile(r"(?<=[^\s*†‡※])([*†‡※]+\)?)$")


@dataclass(slots=True, kw_only=True)
class Strand:
    """A word in the making: its pieces, its text so far and the marks that hang on it."""

    main: Piece
    text: str
    end: float
    box: tuple[float, float, float, float]
    pieces: list[Piece] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)


def make_words(pieces: Sequence[Piece], rules: Sequence[Rule]) -> list[tuple[Word, tuple[Piece, ...]]]:
    """Return the live words of a page, each with the pieces it was made of, line by line."""
    by_turn: dict[int, list[Piece]] = defaultdict(list)
    for piece in pieces:
        by_turn[piece.turn].append(piece)
    made: list[tuple[Word, tuple[Piece, ...]]] = []
    for turn in sorted(by_turn):
        walls = [rule for rule in rules if not rule.horizontal] if turn == 0 else []
        strands = _chain(_join_fractions(by_turn[turn]), walls)
        line = [(_finish(strand), tuple(strand.pieces)) for strand in strands]
        made += _join_leftward(line) if turn == 0 else line
    return made


def _join_leftward(line: list[tuple[Word, tuple[Piece, ...]]]) -> list[tuple[Word, tuple[Piece, ...]]]:
    """Put neighbouring words of a script written from right to left into one, in reading order.

    Whoever joins words from left to right would read such a phrase backwards.
    """
    joined: list[tuple[Word, tuple[Piece, ...]]] = []
    for word, pieces in line:
        if joined and runs_leftwards(word.text) and runs_leftwards(joined[-1][0].text):
            last, before = joined[-1]
            gap = word.box.x0 - last.box.x1
            if 0 <= gap <= 0.5 * word.size and abs(word.baseline - last.baseline) <= 0.1 * word.size:
                whole = replace(
                    last,
                    text=f"{word.text} {last.text}",
                    box=last.box.union(word.box),
                    marks=word.marks + last.marks,
                    doubts=last.doubts + word.doubts,
                )
                joined[-1] = (whole, before + pieces)
                continue
        joined.append((word, pieces))
    return joined


class _Lines:
    """Pieces found by where they start."""

    def __init__(self, pieces: Sequence[Piece]) -> None:
        self._cells: dict[tuple[int, int], list[Piece]] = defaultdict(list)
        self._ends: dict[tuple[int, int], list[Piece]] = defaultdict(list)
        for piece in pieces:
            self._cells[(int(piece.start // 16), int(piece.base // 16))].append(piece)
            self._ends[(int(piece.end // 16), int(piece.base // 16))].append(piece)

    def before(self, start: float, base: float, size: float) -> list[Piece]:
        """Return the pieces that end near `start` on about the same line."""
        low, high = start - 0.35 * size, start + 0.35 * size
        return [
            piece
            for across in range(int(low // 16), int(high // 16) + 1)
            for down in range(int((base - size) // 16), int((base + size) // 16) + 1)
            for piece in self._ends.get((across, down), ())
            if low <= piece.end <= high and abs(piece.base - base) <= size
        ]

    def after(self, end: float, base: float, size: float) -> list[Piece]:
        """Return the pieces that start near `end` on about the same line, nearest first."""
        low, high = end - 0.35 * size, end + 0.5 * size
        found = [
            piece
            for across in range(int(low // 16), int(high // 16) + 1)
            for down in range(int((base - size) // 16), int((base + size) // 16) + 1)
            for piece in self._cells.get((across, down), ())
            if low <= piece.start <= high and abs(piece.base - base) <= size
        ]
        return sorted(found, key=lambda piece: abs(piece.start - end))


def _join_fractions(pieces: list[Piece]) -> list[Piece]:
    """Put a raised numerator, its slash and its denominator together into one piece "1/2"."""
    lines = _Lines(pieces)
    gone: set[int] = set()
    joined: list[Piece] = []
    for piece in pieces:
        if id(piece) in gone or not _UPPER.match(piece.text):
            continue
        parts = _fraction_parts(piece, lines)
        if not parts or any(id(part) in gone for part in parts):
            continue
        gone.update(id(part) for part in parts)
        whole = "".join(part.text for part in parts).replace("⁄", "/")
        last = parts[-1]
        box = parts[0].box
        for part in parts[1:]:
            box = surround_both(box, part.box)
        joined.append(
            Piece(
                text=whole,
                start=piece.start,
                end=last.end,
                base=max(part.base for part in parts),
                size=last.size,
                turn=piece.turn,
                box=box,
                font=piece.font,
                order=piece.order,
                hidden=piece.hidden,
                cut=any(part.cut for part in parts),
                fonts={key for part in parts for key in part.fonts},
                stops=[stop for part in parts for stop in part.stops],
            )
        )
    return [piece for piece in pieces if id(piece) not in gone] + joined


def _fraction_parts(upper: Piece, lines: _Lines) -> list[Piece]:
    parts = [upper]
    if not upper.text.endswith(("/", "⁄")):
        for slash in lines.after(upper.end, upper.base, upper.size * 1.6):
            if slash is not upper and slash.text in ("/", "⁄") and _touches(upper, slash):
                parts.append(slash)
                break
    for lower in lines.after(parts[-1].end, upper.base, upper.size * 1.6):
        slashes = "".join(part.text for part in [*parts, lower])
        if (
            lower not in parts
            and _LOWER.match(lower.text)
            and len(re.findall("[/⁄]", slashes)) == 1
            and 0.8 <= lower.size / upper.size <= 1.25
            and lower.base - upper.base >= 0.1 * upper.size
            and _touches(parts[-1], lower)
        ):
            return [*parts, lower]
    return []


def _touches(left: Piece, right: Piece) -> bool:
    reach = 0.25 * max(left.size, right.size)
    return -1.6 * reach <= right.start - left.end <= reach


def _chain(pieces: list[Piece], walls: Sequence[Rule]) -> list[Strand]:
    """Hang each piece on the one it continues; those that continue none begin a word."""
    lines = _Lines(pieces)
    used: set[int] = set()
    strands: list[Strand] = []
    # Large pieces first, so that a small one hangs on its word before it could begin one of its own.
    for piece in sorted(pieces, key=lambda one: (-round(one.size, 1), round(one.base), one.start)):
        if id(piece) in used or _is_continuation(piece, lines, used):
            continue
        strands.append(_grow(piece, lines, used, walls))
    for piece in sorted(pieces, key=lambda one: (round(one.base), one.start)):
        if id(piece) not in used:
            strands.append(_grow(piece, lines, used, walls))
    return sorted(strands, key=lambda one: (round(one.main.base), one.main.start))


def _is_continuation(piece: Piece, lines: _Lines, used: set[int]) -> bool:
    """Tell whether the piece goes on from another one of its size, which must then begin the word."""
    low = piece.start - GAP * piece.size
    return any(
        other is not piece
        and id(other) not in used
        and low <= other.end <= piece.start + 0.1 * piece.size
        and abs(other.base - piece.base) <= 0.1 * piece.size
        and 0.75 <= other.size / piece.size <= 1.34
        for other in lines.before(piece.start, piece.base, piece.size)
    )


def _grow(piece: Piece, lines: _Lines, used: set[int], walls: Sequence[Rule]) -> Strand:
    used.add(id(piece))
    strand = Strand(main=piece, text=piece.text, end=piece.end, box=piece.box, pieces=[piece])
    while True:
        for follower in lines.after(strand.end, piece.base, piece.size):
            if id(follower) in used or _parted(strand, follower, walls):
                continue
            if _hang(strand, follower):
                used.add(id(follower))
                break
        else:
            return strand


def _parted(strand: Strand, follower: Piece, walls: Sequence[Rule]) -> bool:
    """Tell whether an upright rule stands between a word and what would continue it."""
    if strand.pieces[-1].cut or follower.cut:
        return True
    left, right = strand.pieces[-1].stops[-1][0], follower.stops[0][1]
    return any(left <= wall.at <= right and wall.start <= strand.main.base <= wall.end for wall in walls)


def _hang(strand: Strand, follower: Piece) -> bool:
    """Add the follower to the word as text, fraction or mark; False when it does not belong to it."""
    main = strand.main
    gap = (follower.start - strand.end) / main.size
    rise = (main.base - follower.base) / main.size
    ratio = follower.size / main.size
    if follower.hidden != main.hidden:
        return False
    if 0.75 <= ratio <= 1.34 and abs(rise) <= 0.1:
        return -0.3 <= gap <= GAP and _add_text(strand, follower, follower.text)
    if ratio <= 0.85 and _FRACTION.match(follower.text) and abs(rise) <= 0.5 and gap <= 0.45:
        before = " " if strand.text[-1:].isdigit() else ""
        return _add_text(strand, follower, before + follower.text.replace("⁄", "/"))
    if (ratio <= SMALL and 0.12 <= rise <= 0.8 and gap <= 0.35) or (
        ratio <= 1.02 and 0.25 <= rise <= 0.7 and gap <= 0.12
    ):
        return _add_raised(strand, follower)
    if ratio <= SMALL and -0.45 <= rise < -0.03 and gap <= 0.2:
        if strand.text[-1:].isalpha():
            return _add_text(strand, follower, follower.text)
        return _add_mark(strand, follower, follower.text)
    if ratio <= SMALL and abs(rise) <= 0.12 and gap <= GAP and not follower.text[:1].isdigit():
        return _add_text(strand, follower, follower.text)
    return False


def _add_text(strand: Strand, follower: Piece, text: str) -> bool:
    strand.text += text
    strand.end = max(strand.end, follower.end)
    strand.box = surround_both(strand.box, follower.box)
    strand.pieces.append(follower)
    return True


def _add_raised(strand: Strand, follower: Piece) -> bool:
    text = follower.text
    # In "(mm²)" the bracket may be raised with the exponent; it closes the one before.
    closes = strand.text.count("(") > strand.text.count(")")
    if text[:1] in "23²³" and _UNIT_BEFORE_EXPONENT.search(strand.text) and (closes or text[1:2] not in (")", "⁾")):
        _add_text(strand, follower, "²" if text[0] in "2²" else "³")
        text = text[1:]
        if closes and text[:1] in (")", "⁾"):
            strand.text, text = strand.text + ")", text[1:]
        return not text or _add_mark(strand, follower, text)
    return _add_mark(strand, follower, text)


def _add_mark(strand: Strand, follower: Piece, text: str) -> bool:
    box = as_box(follower.box)
    for part in text.translate(RAISED_DIGITS).split(","):
        if part.strip():
            strand.marks.append(Mark(text=part.strip(), box=box))
    strand.end = max(strand.end, follower.end)
    if follower not in strand.pieces:
        strand.pieces.append(follower)
    return True


def _finish(strand: Strand) -> Word:
    text, tail = split_marks(strand.text)
    if runs_leftwards(text):
        text = order_letters(text)
    box = as_box(strand.box)
    main = strand.main
    return Word(
        text=text,
        box=box,
        size=round(main.size, 2),
        baseline=main.base if main.turn == 0 else 0.0,
        turn=max(main.turn, 0),
        bold=any(piece.bold for piece in strand.pieces if piece.size >= 0.8 * main.size),
        font=main.font.split("+")[-1],
        marks=tuple(Mark(text=mark, box=box) for mark in tail) + tuple(strand.marks),
        doubts=tuple(_doubts(strand, text)),
    )


def split_marks(text: str) -> tuple[str, tuple[str, ...]]:
    """Part a word from the raised figures and note signs printed behind it: ("2.3", ("1",)) for "2.3¹".

    The square and cube of a unit stay; so does a power of ten.
    """
    marks: list[str] = []
    if all(part in NOTE_SIGNS for part in text.rstrip(")")):
        return text, ()
    if found := _SIGN_TAIL.search(text):
        marks.append(found.group(1))
        text = text[: found.start()]
    if found := _RAISED_TAIL.search(text):
        before, tail = text[: found.start()], found.group(1)
        if before.count("(") > before.count(")") and tail.endswith((")", "⁾")):
            # The bracket of "(mm²)" closes the one before; it is no part of a mark "2)".
            return (before + tail, tuple(marks)) if len(tail) == 2 else (text, tuple(marks))
        if tail[0] in "²³" and _UNIT_BEFORE_EXPONENT.search(before) and tail[1:2] not in (")", "⁾"):
            before, tail = before + tail[0], tail[1:]
        power = re.search(r"(?:[×x·*]|^)10$", before) is not None
        if tail and not power:
            marks = [part for part in tail.translate(RAISED_DIGITS).split(",") if part] + marks
            text = before
    return text, tuple(marks)


def order_letters(text: str) -> str:
    """Turn letters that stand from right to left on paper into reading order; figures keep their own."""
    tokens = re.findall(r"[0-9]+(?:[.,:/][0-9]+)*|[A-Za-z]+|.", text)
    mirror = str.maketrans("()[]{}<>", ")(][}{><")
    return "".join(
        token if token[0].isalnum() and token.isascii() else token.translate(mirror) for token in tokens[::-1]
    )


def _doubts(strand: Strand, text: str) -> list[Doubt]:
    doubts = []
    if any(piece.unreadable for piece in strand.pieces):
        doubts.append(Doubt(code="character_unreadable", message=f"a glyph in {text!r} has no known character"))
    if strand.main.hidden == "recognised":
        doubts.append(
            Doubt(code="text_invisible", message=f"{text!r} is invisible text over a picture: compare the picture")
        )
    if any(piece.cut for piece in strand.pieces) and any(part.isdigit() for part in text):
        doubts.append(Doubt(code="text_covered", message=f"part of {text!r} is covered or cut off"))
    return doubts


def as_box(bounds: tuple[float, float, float, float]) -> Box:
    """Return the rectangle as a `Box`."""
    return Box(x0=bounds[0], top=bounds[1], x1=bounds[2], bottom=bounds[3])
