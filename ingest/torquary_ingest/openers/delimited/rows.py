"""What a record is by its form: blank, a comment, one line of text, a heading row, a row with figures."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from torquary_ingest.openers.delimited.records import Record
from torquary_schema.roles import is_terminal
from torquary_schema.words import spot

_FIGURE = re.compile(r"\A[<>≤≥±~≈+−–-]?\s*[\d½¼¾⅛⅜⅝⅞]")
_MEASURE = re.compile(
    r"\d\s*[.,]\s*\d|\d\s*(?:c|d|m)?N\W{0,3}m\b|\d\s*(?:lb|lbf|in|ft|mm[²2]?|awg|kcmil)(?!\w)", re.IGNORECASE
)
_COMMENT = re.compile(r"\A\s*(?:#\s*(?=[^\W\d])|#\s|//|%%|--\s|!\s|REM\s)", re.IGNORECASE)
_UNIT_ONLY = re.compile(
    r"\A[\[(]?\s*(?:[cdm]?N\W{0,3}(?:m|cm|mm)|(?:lbf?|in|ft|oz|kgf?)\W{0,3}(?:in|ft|lbf?s?|cm|m)"
    r"|mm[²2]?|AWG|kcmil|MCM|A|-|–)\s*[\])]?\Z",
    re.IGNORECASE,
)
_FOOTNOTE = re.compile(r"\A\s*(?:[(\[]?[\da-z][)\].](?!\d)|[*†‡¹²³⁴⁵⁶⁷⁸⁹]+)\s*\S", re.IGNORECASE)
_WORD = re.compile(r"[^\W\d_]{4}")
_MARK_ALONE = re.compile(r"\A(?:[(\[]?[\da-z]{1,2}[)\].]|[*†‡¹²³⁴⁵⁶⁷⁸⁹]{1,3})\Z", re.IGNORECASE)


def is_blank(record: Record) -> bool:
    """Tell a line without any text (delimiters alone count as none)."""
    return not record.filled


def is_comment(record: Record, width: int) -> bool:
    """Tell a line marked as a comment (#, //, …) from a row whose first cell begins with that sign."""
    return bool(_COMMENT.match(record.raw)) and (
        len(record.filled) < max(2, width) or any(f.startswith(" ") for f in record.raw.split(",")[1:])
    )


def is_line(record: Record) -> bool:
    """Tell a line that speaks for others: one cell of text and nothing beside it."""
    return len(record.filled) == 1


def is_terminal_alone(record: Record) -> bool:
    """Tell a row that is left with the name of its terminal ("L2", "neutral"): its figures stand in a lost span."""
    return is_line(record) and is_terminal(record.fields[record.filled[0]].strip())


def is_figure(text: str) -> bool:
    """Tell a cell that begins with a number, a limit sign or a fraction."""
    return bool(_FIGURE.match(text))


def _is_figure_alone(text: str) -> bool:
    """Tell a cell that is a figure or a range ("0.75 - 4", "2.5 mm²") from prose that begins with a number."""
    return is_figure(text) and (len(text.split()) < 3 or not _WORD.search(text))


def has_figures(record: Record) -> bool:
    """Tell a row of at least two cells with a figure behind the first."""
    return len(record.filled) > 1 and any(is_figure(record.fields[i]) for i in record.filled)


def has_measures(record: Record) -> bool:
    """Tell a row that states a decimal figure or a figure with a unit anywhere."""
    return any(_MEASURE.search(text) for text in record.fields)


def may_head(record: Record) -> bool:
    """Tell a row that can be a heading by its form: two cells or more, none of them a figure, no property."""
    texts = [record.fields[i] for i in record.filled]
    return len(texts) > 1 and not any(map(is_figure, texts)) and not _is_property(texts)


def _is_property(texts: list[str]) -> bool:
    """Tell a name and its value, which gives a measure behind other words: "Cross-section", "up to 300 mm²"."""
    return len(texts) == 2 and bool(_MEASURE.search(texts[1])) and not _MEASURE.search(texts[0])


def is_of_record(record: Record, following: Sequence[Record]) -> bool:
    """Tell a row of a record that takes several: its first text comes again in the next row with a figure.

    A heading stands once over its rows.
    """
    below = next(filter(has_figures, following), None)
    return below is not None and record.filled[:1] == below.filled[:1] == (0,) and record.fields[0] == below.fields[0]


@lru_cache(maxsize=4096)
def _is_known_heading(text: str) -> bool:
    return bool(_UNIT_ONLY.match(text)) or bool(spot("heading", text))


def known_headings(record: Record) -> int:
    """Count the cells of a row that are heading words or bare units."""
    return sum(_is_known_heading(record.fields[i]) for i in record.filled if len(record.fields[i]) < 80)


def is_units_row(record: Record) -> bool:
    """Tell a row of bare units ("mm²", "N·m") that belongs under a heading row."""
    return bool(record.filled) and all(_UNIT_ONLY.match(record.fields[i]) for i in record.filled)


def leans_on_row_above(record: Record, above: Record) -> bool:
    """Tell a heading row that cannot stand alone: units, columns left blank, or the same word twice."""
    texts = [record.fields[i] for i in record.filled]
    missing = set(above.filled) - set(record.filled)
    return is_units_row(record) or bool(missing) or len(set(texts)) < len(texts)


def heads_groups(record: Record, below: Record) -> bool:
    """Tell a row of headings over some columns of the heading row below, the first not among them."""
    over = set(record.filled)
    known = may_head(record) and known_headings(record) == len(over)
    return known and 0 not in over and over < set(below.filled)


def is_footnote(text: str) -> bool:
    """Tell a line that begins with a note mark."""
    return bool(_FOOTNOTE.match(text))


def is_sentence(record: Record, width: int, *, after_gap: bool) -> bool:
    """Tell prose that the delimiter has cut from a row: it opens as a note or stands apart, and has no figure cell."""
    filled = [record.fields[i] for i in record.filled]
    if len(filled) == 2 and _MARK_ALONE.match(filled[0]) and len(filled[1].split()) > 2:
        return True
    if record.celled or record.extent == width or any(map(_is_figure_alone, filled)):
        return False
    words = sum(len(text.split()) for text in filled)
    opens = is_footnote(filled[0]) or bool(spot("note_word", filled[0]))
    return words > 3 if opens else after_gap and words > 2 * len(filled)


def line_text(record: Record) -> str:
    """Return a caption, comment or note as one text, without comment sign and empty cells."""
    texts = [record.fields[i] for i in record.filled]
    named = len(texts) == 2 and len(texts[0].split()) < 4 and not re.search(r"[\d:]", texts[0])
    text = (": " if named else "; ").join(texts)
    return re.sub(r"\A\s*(?:#+|//|%%|--)\s*", "", text)


def same_heading(one: Record, other: Record) -> bool:
    """Tell a heading that repeats another in at least half of its cells."""
    alike = sum(a == b != "" for a, b in zip(one.fields, other.fields, strict=False))
    return alike * 2 >= len(one.filled) and alike > 0
