"""Pieces to words: joined along their line, with raised marks, unit exponents and small fractions told apart."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from torquary_ingest.document import Doubt, Mark, Rule, Word
from torquary_ingest.lexis.note_marks import LEADING_MARK, lower, split_head, split_tail, takes_exponent
from torquary_ingest.openers.pdf.brackets import close_brackets
from torquary_ingest.openers.pdf.fractions import Lines, join_fractions
from torquary_ingest.openers.pdf.letters import runs_leftwards
from torquary_ingest.openers.pdf.marks import order_letters
from torquary_ingest.openers.pdf.pieces import EXACT, GAP, Piece, surround_both
from torquary_schema.values import Box

SMALL = 0.78
"""A piece of at most this part of its neighbour's size is small: a mark, exponent, index or fraction part."""

NARROW = 0.08
"""A drawn blank parts two words when at least this part of the font size is left of it."""

OVERLAP = 0.12
"""Kerned letters drawn one by one overlap by at most this part of the font size."""

RAISED = 0.12
"""What stands higher by this part of the font size than the word that it touches is no part of it."""

_FRACTION = re.compile(r"^\d{1,2}[/⁄]\d{1,3}$")


@dataclass(slots=True, kw_only=True)
class Strand:
    """A word in the making: its pieces, its text so far and the marks that hang on it."""

    main: Piece
    text: str
    end: float
    box: tuple[float, float, float, float]
    pieces: list[Piece] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)
    broken: bool = False


def make_words(pieces: Sequence[Piece], rules: Sequence[Rule]) -> list[tuple[Word, tuple[Piece, ...]]]:
    """Return the live words of a page, each with the pieces it was made of, line by line."""
    by_turn: dict[int, list[Piece]] = defaultdict(list)
    for piece in pieces:
        by_turn[piece.turn].append(piece)
    made: list[tuple[Word, tuple[Piece, ...]]] = []
    for turn in sorted(by_turn):
        walls = [rule for rule in rules if not rule.horizontal] if turn == 0 else []
        strands = _chain(join_fractions(by_turn[turn]), walls)
        line = [(_finish(strand), tuple(strand.pieces)) for strand in strands]
        made += _join_leftward(close_brackets(line)) if turn == 0 else line
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


def _chain(pieces: list[Piece], walls: Sequence[Rule]) -> list[Strand]:
    """Hang each piece on the one it continues; those that continue none begin a word."""
    lines = Lines(pieces)
    used: set[int] = set()
    strands: list[Strand] = []
    # Large pieces first, so that a small one hangs on its word before it could begin one of its own.
    for piece in sorted(pieces, key=lambda one: (-round(one.size, 1), round(one.base), one.start)):
        if id(piece) in used or _is_continuation(piece, lines, used) or _hangs_behind(piece, lines, used):
            continue
        strands.append(_grow(piece, lines, used, walls))
    for piece in sorted(pieces, key=lambda one: (round(one.base), one.start)):
        if id(piece) not in used:
            strands.append(_grow(piece, lines, used, walls))
    return sorted(strands, key=lambda one: (round(one.main.base), one.main.start))


def _is_continuation(piece: Piece, lines: Lines, used: set[int]) -> bool:
    """Tell whether the piece goes on from another one of its size, which must then begin the word."""
    low = piece.start - GAP * piece.size
    return any(
        other is not piece
        and id(other) not in used
        and low <= other.end <= piece.start + 0.1 * piece.size
        and not (other.parted and piece.start - other.end > NARROW * piece.size)
        and abs(other.base - piece.base) <= 0.1 * piece.size
        and 0.75 <= other.size / piece.size <= 1.34
        for other in lines.before(piece.start, piece.base, piece.size)
    )


def _hangs_behind(piece: Piece, lines: Lines, used: set[int]) -> bool:
    """Tell whether the piece is raised behind another of about its size, whose word must take it first."""
    return any(
        other is not piece
        and id(other) not in used
        and not other.parted
        and other.hidden == piece.hidden
        and _is_raised(piece, other, (piece.start - other.end) / other.size)
        for other in lines.before(piece.start, piece.base, piece.size)
    )


def _grow(piece: Piece, lines: Lines, used: set[int], walls: Sequence[Rule]) -> Strand:
    used.add(id(piece))
    strand = Strand(main=piece, text=piece.text, end=piece.end, box=piece.box, pieces=[piece])
    for lead in lines.before(piece.start, piece.base, piece.size):
        if id(lead) not in used and _leads(lead, piece, lines, walls):
            used.add(id(lead))
            strand.pieces.insert(0, lead)
            strand.marks.append(Mark(text=lower(lead.text), box=as_box(lead.box)))
            break
    while True:
        for follower in lines.after(strand.end, piece.base, piece.size):
            if id(follower) in used or _parted(strand, follower, walls):
                continue
            if _hang(strand, follower):
                used.add(id(follower))
                break
        else:
            return strand


def _leads(lead: Piece, main: Piece, lines: Lines, walls: Sequence[Rule]) -> bool:
    """Tell whether a small raised mark stands right before a text, behind nothing that it could hang on.

    A figure over another one (a fraction without its bar, a tolerance) is no mark.
    """
    gap, rise = (main.start - lead.end) / main.size, (main.base - lead.base) / main.size
    if not (lead.size <= SMALL * main.size and RAISED <= rise <= 0.8 and -0.02 <= gap <= GAP):
        return False
    if not LEADING_MARK.match(lead.text) or not main.text[:1].isalnum() or lead.cut or lead.hidden != main.hidden:
        return False
    before = lines.before(lead.start, main.base, main.size)
    beneath = lines.after(lead.start, lead.base, main.size)
    return (
        not any(other is not lead and other.end <= lead.start + 0.1 * main.size for other in before)
        and not any(abs(other.start - lead.start) < 0.3 * main.size < other.base - lead.base for other in beneath)
        and not any(lead.end <= wall.at <= main.start and wall.start <= main.base <= wall.end for wall in walls)
    )


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
        return _add_neighbour(strand, follower, gap)
    if ratio <= 0.85 and _FRACTION.match(follower.text) and abs(rise) <= 0.5 and gap <= 0.45:
        before = " " if strand.text[-1:].isdigit() else ""
        return _add_text(strand, follower, before + follower.text.replace("⁄", "/"))
    if (ratio <= SMALL and 0.12 <= rise <= 0.8 and gap <= 0.35) or _is_raised(follower, main, gap):
        return _add_raised(strand, follower)
    if ratio <= SMALL and -0.45 <= rise < -0.03 and gap <= 0.2:
        if strand.text[-1:].isalpha():
            return _add_text(strand, follower, follower.text)
        return _add_mark(strand, follower, follower.text)
    if ratio <= SMALL and abs(rise) <= 0.12 and gap <= GAP and not follower.text[:1].isdigit():
        return _add_text(strand, follower, follower.text)
    return False


def _is_raised(follower: Piece, main: Piece, gap: float) -> bool:
    """Tell whether a piece that is not small stands raised right behind another: a mark set in full size."""
    rise = (main.base - follower.base) / main.size
    return follower.size <= 1.02 * main.size and RAISED <= rise <= 0.7 and -OVERLAP <= gap <= 0.12


def _add_neighbour(strand: Strand, follower: Piece, gap: float) -> bool:
    """Add text of the same size and line that another show operator drew.

    Two figures that only almost touch may be two cells' or one number's: they are joined and doubted.
    """
    if strand.pieces[-1].parted and gap > NARROW:
        return False
    figures = strand.text[-1:].isdigit() and follower.text[:1].isdigit()
    if not (-EXACT if figures else -OVERLAP) <= gap <= GAP:
        return False
    strand.broken = strand.broken or (figures and gap > EXACT + 0.02)
    return _add_text(strand, follower, follower.text)


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
    if text[:1] in "23²³" and takes_exponent(strand.text) and (closes or text[1:2] not in (")", "⁾")):
        _add_text(strand, follower, "²" if text[0] in "2²" else "³")
        text = text[1:]
        if closes and text[:1] in (")", "⁾"):
            strand.text, text = strand.text + ")", text[1:]
        if text == ",":  # behind an exponent it parts no marks: "25 mm², torque"
            strand.text, text = strand.text + text, ""
        return not text or _add_mark(strand, follower, text)
    return _add_mark(strand, follower, text)


def _add_mark(strand: Strand, follower: Piece, text: str) -> bool:
    box = as_box(follower.box)
    for part in lower(text).split(","):
        if part.strip():
            strand.marks.append(Mark(text=part.strip(), box=box))
    strand.end = max(strand.end, follower.end)
    if follower not in strand.pieces:
        strand.pieces.append(follower)
    return True


def _finish(strand: Strand) -> Word:
    text, head = split_head(strand.text)
    text, tail = split_tail(text)
    spread = strand.main.spread
    for piece in strand.pieces:
        spread = surround_both(spread, piece.spread)
    if runs_leftwards(text):
        text = order_letters(text)
    main = strand.main
    box = with_width(as_box(strand.box), text, main.size)
    return Word(
        text=text,
        box=box,
        size=round(main.size, 2),
        baseline=main.base if main.turn == 0 else 0.0,
        turn=max(main.turn, 0),
        bold=any(piece.bold for piece in strand.pieces if piece.size >= 0.8 * main.size),
        font=main.font.split("+")[-1],
        marks=(*_heading_mark(head, box, main), *(Mark(text=mark, box=box) for mark in tail), *strand.marks),
        doubts=tuple(_doubts(strand, text)),
        spread=spread,
        bars=tuple(bar for piece in strand.pieces for bar in piece.bars),
    )


def with_width(box: Box, text: str, size: float) -> Box:
    """Return the box of a word; one whose font gives its letters no width gets half their size for each."""
    return box if box.width > 0 else replace(box, x1=box.x0 + 0.5 * size * len(text))


def _heading_mark(mark: str, box: Box, main: Piece) -> list[Mark]:
    """Return the mark that a word begins with, about where it stands."""
    reach = min(0.35 * main.size * len(mark), 0.5 * box.width)
    return [Mark(text=mark, box=replace(box, x1=box.x0 + reach))] if mark else []


def _doubts(strand: Strand, text: str) -> list[Doubt]:
    doubts = []
    if any(piece.unreadable for piece in strand.pieces):
        doubts.append(Doubt(code="character_unreadable", message=f"a glyph in {text!r} has no known character"))
    if strand.main.hidden == "recognised":
        doubts.append(
            Doubt(code="text_invisible", message=f"{text!r} is invisible text over a picture: compare the picture")
        )
    if strand.broken:
        doubts.append(
            Doubt(code="number_broken", message=f"the figures of {text!r} may be those of two texts side by side")
        )
    if any(piece.cut for piece in strand.pieces) and any(part.isdigit() for part in text):
        doubts.append(Doubt(code="text_covered", message=f"part of {text!r} is covered or cut off"))
    return doubts


def as_box(bounds: tuple[float, float, float, float]) -> Box:
    """Return the rectangle as a `Box`."""
    return Box(x0=bounds[0], top=bounds[1], x1=bounds[2], bottom=bounds[3])
