"""Lines that may name a device: what they say, and what is no name at all."""

from __future__ import annotations

import re

from torquary_ingest.figures import read_drive
from torquary_ingest.headings.designations import find_types
from torquary_ingest.headings.sense import cut_out, make_sense
from torquary_schema.units import find_units
from torquary_schema.words import spot

# A breaker's sheet speaks of the board it goes into, a maker is called "switchgear": these yield to any other.
BOARDS = frozenset({"asm", "dbo"})
_PARTS = frozenset({"tb", "tb_pe", "pcb_tb"})

_INSTRUCTION = re.compile(r"\s*\d{1,2}\s?[.)]\s.*\.\s*$")
_NAME_LETTERS = 2
_NAME_NOTHING = ("numbering", "language")
_LENGTH = re.compile(r"\d\s*[mc]m\b")


def names_family(line: str) -> bool:
    """Tell whether a line names a kind of device; in a numbered instruction ("1. Switch off.") it is another word."""
    return not is_step(line) and any(match.concept not in BOARDS for match in spot("family", line))


def names_part(line: str) -> bool:
    """Tell whether a line names terminal blocks alone, without a type: of a device with a name they are a part."""
    families = {match.concept for match in spot("family", line)}
    return bool(families) and families <= _PARTS and not find_types(line)


def is_step(line: str) -> bool:
    """Tell whether a line names nothing: an instruction, a number ("Table 3-1"), a language ("Deutsch"), units.

    Units count where no figure stands beside them: behind a figure they may belong to a type.
    """
    words = [(match.start, match.end) for match in spot("document_word", line) if match.concept in _NAME_NOTHING]
    units = () if any(map(str.isdecimal, line)) else find_units(line)
    bare = cut_out(line, sorted([*words, *((unit.start, unit.end) for unit in units)]))
    return _INSTRUCTION.match(line) is not None or sum(map(str.isalpha, bare)) < _NAME_LETTERS


def whole_title(line: str, title: str) -> str:
    """Return the title when a line is one of its lines, else the line: half of a title names nothing."""
    return title if line and f" {line} " in f" {title} " else line


def is_length(text: str) -> bool:
    """Tell whether a text under "Device" is a length: "Device height: 85 mm"."""
    return make_sense(text).figure and _LENGTH.search(text) is not None


def is_prose(line: str) -> bool:
    """Tell whether a line is running text and no name."""
    return len(line) > 90 or (line.rstrip().endswith(".") and len(line.split()) > 4)


def designates(line: str) -> bool:
    """Tell whether a line about torques or terminals bears a type designation: "QX 16 – torques"."""
    return bool(find_types(make_sense(line).rest)) and not read_drive(line)
