"""Printed texts that can be no terminal's name: a thread, current, class, drive, standard, size, sentence, question."""

from __future__ import annotations

import re

from torquary_ingest.figures import read_drive
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.sense import cut_out, make_sense
from torquary_ingest.lexis.threads import is_counted_thread, is_thread
from torquary_schema.units import find_units
from torquary_schema.words import spot

_STRENGTH_CLASS = re.compile(r"\d{1,2}\.\d|A[24]-\d{2}")
_CURRENT = re.compile(r"\d+(?:[.,]\d+)?\s*(?:[-–…/]\s*\d+\s*)?(?:m|k)?A(?:\s*(?:AC|DC))?")
_STANDARD = re.compile(r"(?:IEC|EN|DIN|ISO|UL|VDE|BS|NEC|CSA)[\s-]?(?:EN\s)?\d.*", re.I)
_CONTACTS = re.compile(r"\d+\s*[x×]?\s*(?:NO|NC|CO|C/O)(?!\w)")  # "1 NO + 1 NC" counts contacts
_COUNTED = re.compile(r"\d+\s*[x×]\s*M?[\d.,]+(?:\s*[+,]\s*\d+\s*[x×]\s*M?[\d.,]+)*")  # "1 × 25 + 6 × 16" are holes
_RATING = re.compile(r"\d\s*(?:k?V(?:AC|DC)?|Hz|k?W|k?A|%|°C)(?!\w)")
"""Two of these make a text a rating: "Single phase, 100-240 V, 50 Hz"."""

_DATA_TYPE = re.compile(r"(?<!\w)(?:U?[SDL]?INT\d{0,2}|L?REAL|FLOAT\d{0,2}|BOOL|D?WORD)(?!\w)")
"""Types of data, as lists of registers print them (IEC 61131-3)."""

_NUMBER_WORDS = re.compile(
    r"(?:one|two|three|four|five|six|seven|eight|nine|ten|twelve"
    r"|eine?|zwei|drei|vier|fünf|sechs|acht|zehn|zwölf"
    r"|une?|deux|trois|quatre|cinq|huit|dix|uno|dos|tres|cuatro|cinco|ocho|due|tre|quattro|cinque|otto)",
    re.IGNORECASE,
)
"""Numbers written out, in the languages met most: they count terminals and name none (common practice)."""

_PROTECTION = re.compile(r"(?<!\w)IP\s?[0-6X][0-9X](?!\w)")
"""A degree of protection (IEC 60529)."""

_END_WORDS = 4
"""Words of the end of a sentence at least (own choice)."""

_ABBREVIATED = 5
"""Letters of an abbreviation at most, its full stop among them (own choice)."""

_NAME_WORDS = 12
"""Words of a name of a terminal at most, in each of the languages it is printed in."""


def is_no_name(text: str) -> bool:
    """Tell whether a text can be no terminal's name: a thread, current, class, drive, standard, size, sentence."""
    bare = text.strip(" ()[].,:;")
    if bare.endswith(("?", "？")):
        return True
    if _is_shape(bare):
        return True
    if states_torque(text) or _is_value(text) or _is_document(bare) or len(_RATING.findall(text)) > 1:
        return True
    if _DATA_TYPE.search(text) or _PROTECTION.search(text) or _excludes_terminals(text):
        return True
    if len(text.split()) > _NAME_WORDS * max(1, text.count(" / ") + 1) or _ends_sentence(text):
        return True
    return _is_drive(text)


def _ends_sentence(text: str) -> bool:
    """Tell whether a text is what a line or column leaves of a sentence's end: "de ligação à terra."."""
    words = text.split()
    return text.endswith(".") and text[:1].islower() and len(words) >= _END_WORDS and len(words[-1]) > _ABBREVIATED


def _is_shape(bare: str) -> bool:
    """Tell whether a text is a thread, class, current, standard, or so many of something, by its shape."""
    shapes = (_STRENGTH_CLASS, _CURRENT, _STANDARD, _NUMBER_WORDS)
    counted = _COUNTED.fullmatch(bare) is not None and not is_counted_thread(bare)
    shaped = any(shape.fullmatch(bare) for shape in shapes) or _CONTACTS.match(bare) is not None
    return counted or shaped or is_thread(bare)


def _is_drive(text: str) -> bool:
    """Tell whether a text is nothing but a drive with its size; "Battery +/-" is a name."""
    words = [(match.start, match.end) for match in spot("drive", text) if len(match.printed) > 1]
    rest = cut_out(text, [*words, *((unit.start, unit.end) for unit in find_units(text))])
    return bool(words) and bool(read_drive(text)) and not any(map(str.isalpha, rest))


def _is_value(text: str) -> bool:
    """Tell whether a text is a quantity with its unit, or the corner of a list ("Value", "Unit")."""
    sense = make_sense(text)
    if sense.figure and sense.units:
        return True
    heads = bool(sense.fields) and not sense.rest and not sense.has("terminal")
    return heads and set(sense.fields) <= {"value", "unit", "property", "torque", "conductor", "thread", "model"}


def _is_document(text: str) -> bool:
    """Tell whether a text is a word for a document, or gives an edition: "Connection data, revision 7"."""
    found = spot("document_word", text)
    whole = len(text) > 1 and any(match.end - match.start == len(text) for match in found)  # "S" is a marking
    numbered = (text[match.end :].strip(" .:")[:1].isdigit() for match in found if match.concept == "edition")
    return whole or any(numbered)


def _excludes_terminals(text: str) -> bool:
    """Tell whether a text says that it is about no terminals: "General hardware, not for terminals"."""
    except_for = (match.end for match in spot("connective", text) if match.concept == "except")
    terminals = [match.start for match in spot("tightened", text) if match.concept == "terminal"]
    return any(start - end <= 1 for end in except_for for start in terminals if start >= end)
