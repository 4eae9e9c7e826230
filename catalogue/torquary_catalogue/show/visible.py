"""The one way out for text: everything that torquary prints or writes on a page goes through here.

Sheets, file names and catalogues are made by others, and a character that is obeyed instead of shown can make a
2.5 look like a 9.0. What has no picture of its own is therefore written as what it is: `<U+001B>`, the way pagers
show it; a byte of a file name that is no UTF-8 as `<byte FF>`. Files for other programs (`torquary export`) keep
the text as printed.
"""

from __future__ import annotations

import re

import click

# Control characters (C0, DEL, C1), lone surrogates, line and paragraph separators, format characters (category Cf:
# bidirectional and zero-width marks among them), and what Unicode calls default-ignorable beside those: variation
# selectors, fillers, joiners (DerivedCoreProperties.txt). A test holds the list against Python's Unicode tables.
UNSEEN = re.compile(
    r"[\x00-\x1f\x7f-\x9f\xad\u034f\u0600-\u0605\u061c\u06dd\u070f\u0890\u0891\u08e2\u115f\u1160\u17b4\u17b5"
    r"\u180b-\u180f\u200b-\u200f\u2028-\u202e\u2060-\u206f\u3164\ud800-\udfff\ufe00-\ufe0f\ufeff\uffa0"
    r"\ufff0-\ufffb\U000110bd\U000110cd\U00013430-\U0001345f\U0001bca0-\U0001bca3\U0001d173-\U0001d17a"
    r"\U000e0000-\U000e0fff]"
)
_BREAKS = re.compile(r"(?:\r\n|[ \t\n])+")
_BYTES = range(0xDC80, 0xDD00)
"""Surrogates that stand for the bytes 80 to FF of a file name that is not UTF-8 (Python, PEP 383)."""


def make_visible(text: str) -> str:
    """Return the text with every character that would steer or not show written as what it is."""
    return UNSEEN.sub(lambda found: _name(ord(found[0])), text)


def _name(code: int) -> str:
    return f"<byte {code - 0xDC00:02X}>" if code in _BYTES else f"<U+{code:04X}>"


def put_on_one_line(text: str) -> str:
    """Return the text of a cell with blanks for its line breaks and tabs, as one line shows them."""
    return _BREAKS.sub(" ", text).strip(" ")


def say(*lines: str, err: bool = False) -> None:
    """Print lines, on standard error if wished. A line break within a line is no line break."""
    click.echo("\n".join(map(make_visible, lines)), err=err)


def print_json(value: object) -> None:
    """Print a value as JSON (`to_json`)."""
    click.echo(to_json(value))


def to_json(value: object) -> str:
    """Return a value as JSON, numbers with their digits; what would steer or not show stands as `\\u001b`."""
    from torquary_schema.report import dump_json

    # In JSON text a line break is always one of the layout: those of strings are escaped already.
    return UNSEEN.sub(lambda found: found[0] if found[0] == "\n" else _escape(found[0]), dump_json(value))


def _escape(letter: str) -> str:
    digits = letter.encode("utf-16-be", "surrogatepass").hex()
    return "".join(f"\\u{digits[at : at + 4]}" for at in range(0, len(digits), 4))
