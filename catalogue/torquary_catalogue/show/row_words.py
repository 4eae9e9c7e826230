"""One row of an answer in words: its terminal, conductor, driver bit, place and decision."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_catalogue.find import Row
from torquary_catalogue.find.question import Question
from torquary_catalogue.find.remarks import name_roles, not_stated
from torquary_catalogue.show.figures import write_figures
from torquary_schema.file_kinds import WORKBOOKS, has_ending
from torquary_schema.places import name_table
from torquary_schema.vocabulary import VocabularyName, vocabulary

NO_BIT = "not printed: match it to the screw head"
_SYSTEMS = {
    "mm2": (" mm²", ("mm", "²", "sq")),
    "awg": (" AWG", ("awg", "#", "no.", "mcm", "mil")),
    "kcmil": (" kcmil", ("mil", "mcm")),
}
"""System of sizes → unit, and what shows that the printed text has it already."""


def term(name: VocabularyName, key: str | None) -> str:
    """Return what people call a key; the key itself if the vocabulary lacks it, "" for None."""
    if key is None:
        return ""
    entry = vocabulary(name).get(key)
    return entry.term if entry else key.replace("_", " ")


def join(*parts: str | None) -> str:
    """Return the parts that say something, with commas."""
    return ", ".join(part for part in parts if part)


def write_bit(row: Row) -> str:
    """Write the driver bits of a row; that the sheet says nothing is said."""
    if not row.drive:
        return NO_BIT
    return write_bits(row.drive)


def write_bits(drive: Sequence[tuple[str, str]]) -> str:
    """Write driver bits, each a kind and a size; "" for none."""
    return " or ".join(f"{term('drive', kind)}{f', size {size}' if size else ''}" for kind, size in drive)


def write_device(row: Row) -> str:
    """Write maker and device as printed."""
    return " ".join(part for part in (row.maker, row.device_printed or row.model) if part)


def write_size(row: Row) -> str:
    """Write the conductor as printed, with the unit that its column had."""
    printed = row.conductor_printed
    unit, shown = _SYSTEMS.get(row.system or "", ("", ()))
    has_unit = any(sign in printed.lower() for sign in shown)
    return printed if not printed or not unit or has_unit else f"{printed}{unit}"


def write_conductor(row: Row, question: Question) -> str:
    """Write all that is known of the conductor, and what the question asks for and the sheet does not say."""
    return join(
        write_size(row),
        " or ".join(term("material", key) for key in row.material),
        " or ".join(term("stranding", key) for key in row.stranding),
        {True: "with ferrule", False: "without ferrule", None: None}[row.ferrule],
        f"{row.conductor_count} in one terminal" if row.conductor_count else None,
        *(f"{aspect} not stated" for aspect in not_stated(question, row)),
    )


def write_terminal(row: Row) -> str:
    """Write the terminal as printed, what it is, and its thread."""
    return join(row.terminal_printed, name_roles(row.roles), row.thread)


def write_printed(row: Row) -> str:
    """Write the torque as printed, with its unit."""
    printed, unit = row.torque_printed or "", row.unit_printed or ""
    return f"“{printed}”" if unit in printed else f"“{printed}”, unit “{unit}”"


def write_place(row: Row) -> str:
    """Write sheet, edition, page (in a workbook: worksheet), table and row."""
    page = "worksheet" if has_ending(row.file, WORKBOOKS) else "page"
    return join(
        row.file,
        row.edition if row.edition else "edition not said",
        f"{page} {row.page}" if row.page else None,
        name_table(row.table_number) if row.table_number else None,
        f"row {row.row_number}" if row.row_number else None,
    )


def write_short_place(row: Row) -> str:
    """Write sheet and page."""
    return join(row.file, f"page {row.page}" if row.page else None)


def write_torques(row: Row, unit: str) -> str:
    """Write the setting with its limit, or the limit alone."""
    return write_figures(row.figures, unit)


def write_purpose(row: Row) -> str:
    """Write what the screw is for, "" if it is a terminal's."""
    return "" if row.purpose == "electrical_terminal" else f"{term('purpose', row.purpose)}, no electrical terminal"


def write_decision(row: Row) -> str:
    """Write what a person decided about the row."""
    when = f"{row.decided_at:%Y-%m-%d}" if row.decided_at else ""
    to = f"to {row.torque_given}" if row.torque_given else "in its device, terminal or conductor"
    done = {"correct": f"corrected {to}", "add": "row added, which the reader did not read,"}
    what = done.get(row.verdict or "", "accepted")
    return f"{what} by {row.who}, {when}: {row.why}"
