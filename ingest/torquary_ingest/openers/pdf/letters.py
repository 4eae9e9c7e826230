"""Single characters: what is kept, expanded or dropped before words are made."""

from __future__ import annotations

import unicodedata

BLANKS = frozenset(
    " \t\n\r\f\v\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000"
)
DROPPED = frozenset("\u200b\u200c\u200d\u200e\u200f\u2060\u2061\u2062\u2063\u2064\ufeff\u202a\u202b\u202c\u202d\u202e")

_REPLACED = {"\u00ad": "-", "\u2215": "/", "\u2126": "Ω", "\u00b5": "µ", "\u03bc": "µ"}
_OWN_FORMS = {chr(0xF730 + digit): str(digit) for digit in range(10)} | {
    chr(0xF761 + letter): chr(0x41 + letter) for letter in range(26)
}
"""Old-style figures and small capitals, as the Adobe Glyph List keeps them in the private block."""


def clean_character(text: str) -> str:
    """Return the character as it is to be read: "" to drop it, " " for every kind of blank.

    Ligatures are spelt out. A soft hyphen that a page draws is a hyphen to the reader.
    """
    if len(text) == 1 and (" " < text < "\x7f"):
        return text
    if all(part in BLANKS for part in text):
        return " "
    return "".join(
        _REPLACED.get(part) or _OWN_FORMS.get(part) or _spell_out(part) for part in text if part not in DROPPED
    )


def _spell_out(part: str) -> str:
    if "\ufb00" <= part <= "\ufb06":
        return unicodedata.normalize("NFKC", part)
    if "\u2e80" <= part <= "\u2fdf":
        # Radicals that stand for whole characters in some fonts' maps.
        return unicodedata.normalize("NFKC", part)
    return part


def is_unreadable(text: str) -> bool:
    """Tell whether the character stands for a glyph without a known meaning (none, private use, control)."""
    if text.isascii() and text.isprintable():
        return False
    return any(part == "\ufffd" or unicodedata.category(part) in ("Co", "Cn", "Cc", "Cs") for part in text)


def runs_leftwards(text: str) -> bool:
    """Tell whether the text is written from right to left (Hebrew, Arabic)."""
    if text.isascii():
        return False
    return any(unicodedata.bidirectional(part) in ("R", "AL") for part in text)
