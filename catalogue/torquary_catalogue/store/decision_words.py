"""What is said of a decision that waits for a new word, or that has no reading any more."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from torquary_catalogue.decimals import shorten
from torquary_catalogue.store.rows_added import NOT_READABLE
from torquary_catalogue.store.same_print import PARTS, PrintRead, Word, tell_differences
from torquary_schema.values import Finding, Place

UNCONFIRMED = "decision_unconfirmed"
WITHOUT_READING = "decision_without_reading"
REOPENED = "decision_reopened"


def describe_reopened(word: Word) -> Finding:
    """Return what holds a reading that a person opened again."""
    message = f"{word.who} opened it again on {word.decided_at:%Y-%m-%d}: {word.why}"
    return Finding(code=REOPENED, message=message, printed=word.about.columns["torque_printed"] or "")


def describe_asking(word: Word, now: PrintRead) -> Finding:
    """Return what holds a reading of a print that was read otherwise when a person decided about it."""
    parts = tell_differences(word.about, now)
    told = "; ".join(_tell_part(part, word.about, now) for part in parts) or "several readings stand there alike"
    if word.about.columns["page"] is None:
        told = "how it was read then is not known"
    if word.verdict == "add" and not parts:
        told = "the reader missed it then, and reads another figure in its place now"
    if word.verdict == "add" and word.before == NOT_READABLE:
        told = (
            "the file could not be read then, and is read now: accept it if the row is not among those read, else "
            "reject it"
        )
        return Finding(code=UNCONFIRMED, message=f"{tell_word(word)}; {told}", printed=word.given or "")
    message = f"{tell_word(word)}, when the print was read otherwise ({told}): look at the sheet and decide anew"
    return Finding(code=UNCONFIRMED, message=message, printed=now.columns["torque_printed"] or "")


def describe_gone(word: Word) -> Finding:
    """Return what is said of a decision whose print is not read any more."""
    columns = word.about.columns
    names = (columns["device_printed"], columns["terminal_printed"], columns["conductor_printed"])
    named = " | ".join(name for name in names if name) or word.about.id
    printed = columns["torque_printed"] or ""
    message = f"{tell_word(word)} for {named}, and no such print is read any more: the decision is kept; see the sheet"
    place = Place(
        page=columns["page"],
        table=columns["table_number"],
        row=columns["row_number"],
        column=columns["column_number"],
        text=columns["place_text"] or "",
    )
    return Finding(code=WITHOUT_READING, message=message, scope="sheet", place=place, printed=printed)


_DONE = {
    "accept": "accepted", "reject": "rejected", "correct": "corrected", "reopen": "opened again", "add": "added"
}  # fmt: skip


def tell_word(word: Word) -> str:
    """Return who decided what, and when, as the beginning of a sentence."""
    printed = word.about.columns["torque_printed"]
    done = _DONE[word.verdict]
    to = f" to {word.given}" if word.given else ""
    return f"{word.who} {done} “{printed or ''}”{to} on {word.decided_at:%Y-%m-%d}"


def _tell_part(part: str, before: PrintRead, now: PrintRead) -> str:
    """Say what differs in one part: the column that differs first, as it was and as it is."""
    if part == "torque":
        was, read = (_tell_torque(one) for one in (before, now))
        return f"torque {was} N·m then, {read} N·m now"
    if part == "doubts":
        return f"new doubts: {', '.join(sorted(now.doubts - before.doubts))}"
    columns = {"place": ("page", "table_number", "row_number"), "printed figure": ("torque_printed",)}.get(part)
    differing = [name for name in columns or PARTS[part] if before.columns[name] != now.columns[name]]
    if not differing:
        return f"another {part}"
    was, read = (_tell_value(one.columns[differing[0]]) for one in (before, now))
    name = part if len(columns or PARTS[part]) == 1 else f"{part}: {differing[0].replace('_', ' ')}"
    return f"{name} {was} then, {read} now"


def _tell_value(value: Any) -> str:
    if isinstance(value, list):
        return ", ".join(value) or "not said"
    if isinstance(value, Decimal):
        return f"{shorten(value):f}"
    return f"“{value}”" if isinstance(value, str) else "not said" if value is None else str(value)


def _tell_torque(one: PrintRead) -> str:
    names = ("read_min_nm", "read_nominal_nm", "read_max_nm")
    figures = dict.fromkeys(shorten(one.columns[name]) for name in names)
    setting = "–".join(f"{figure:f}" for figure in figures if figure is not None)
    limit = shorten(one.columns["read_limit_nm"])
    return ", ".join(part for part in (setting, "" if limit is None else f"at most {limit:f}") if part) or "no"
