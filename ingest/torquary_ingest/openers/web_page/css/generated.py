"""Text that a style sheet adds before or after an element: quoted strings, and what an attribute holds."""

from __future__ import annotations

import unicodedata

from lxml import etree

from torquary_ingest.openers.web_page.css.cascade import Styles
from torquary_ingest.openers.web_page.css.declarations import words_of

_NOTHING = frozenset({"none", "normal", "no-open-quote", "no-close-quote", "initial", "unset", "revert", "inherit"})


def generated_text(element: etree._Element, styles: Styles) -> tuple[str | None, str]:
    """Return the text added (None if none is), and why it cannot be told what it shows ("" if it can)."""
    text = ""
    parts = words_of(styles.get("content", ()))
    if not parts or (parts[0].type == "ident" and parts[0].lower_value in _NOTHING):
        return None, ""
    for part in parts:
        if part == "/":
            break  # what follows is for readers aloud
        if part.type == "string":
            text += part.value
        elif part.type == "function" and part.lower_name == "attr" and len(words_of(part.arguments)) == 1:
            text += element.get(words_of(part.arguments)[0].value) or ""
        else:
            return None, "a style sheet adds a number or a picture to it"
    if any(unicodedata.category(letter) == "Co" for letter in text):
        return None, "a style sheet adds a sign to it"
    return text, ""
