"""What all pages of torquary have in common: each is one file without a server, its style and script in it.

A part of a page is a file beside the module that writes it. All that others wrote (sheets, file names) gets on to a
page by `write`, in an attribute by `keep`, in a script's data by `put_data`.
"""

from __future__ import annotations

import base64
import re
from dataclasses import dataclass
from html import escape
from importlib.resources import files

from torquary_catalogue.show.visible import UNSEEN, make_visible, to_json


@dataclass(frozen=True, slots=True, kw_only=True)
class PagePart:
    """What one page may take from another subject: its title, style, script and HTML, of files and written texts."""

    title: str
    style: str
    script: str
    text: str


def read_parts(package: str, *names: str) -> str:
    """Return the files of a package, one behind the other, as they go into a page."""
    return "\n".join((files(package) / name).read_text("utf-8").strip() for name in names)


def read_style(package: str, *names: str) -> str:
    """Return the style of a page: what all have, and its own."""
    return f"{read_parts(__package__ or '', 'web_page.css')}\n{read_parts(package, *names)}"


def read_script(package: str, *names: str) -> str:
    """Return the script of a page: what all have, and its own."""
    return f"{read_parts(__package__ or '', 'web_page.js')}\n{read_parts(package, *names)}"


def write(text: str) -> str:
    """Return text as the page shows it."""
    return escape(make_visible(text))


def keep(text: str) -> str:
    """Return text as an attribute keeps it, unchanged."""
    return escape(text)


def put_data(value: object) -> str:
    """Return a value as JSON that may stand in a script element: nothing in it ends the element."""
    return to_json(value).replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")


def embed_png(png: bytes) -> str:
    """Return a picture as the text that a page carries it in, without its head `data:image/png;base64,`."""
    return base64.b64encode(png).decode("ascii")


def unseen_in_script() -> str:
    """Return the characters that `make_visible` writes as what they are, as an expression of a script."""
    return re.sub(r"\\U([0-9a-f]{8})", lambda found: f"\\u{{{int(found[1], 16):x}}}", UNSEEN.pattern)
