"""Tags of a table that were damaged: a cell is then taken into another, or left out, and no parser says so.

What stands between cells of a table may be tags of its structure alone (HTML Living Standard, 4.9). A damaged tag
moves cells, and a lost end lets what follows run on: near is its table and all behind it.
"""

from __future__ import annotations

import re

from lxml.html import defs

from torquary_ingest.openers.web_page.cut import PARTS

_CELLS = frozenset({"td", "th", "caption"})
_STRUCTURE = _CELLS | {"tr", "thead", "tbody", "tfoot", "col", "colgroup", "table"}
_MAY_STAND = _STRUCTURE | {"script", "style", "template", "form", "input", "noscript"}
_NEWER = frozenset({"bdi", "data", "dialog", "main", "nobr", "picture", "search", "slot", "template"})
_DRAWN = frozenset({"svg", "math"})
_KNOWN = frozenset(defs.tags) | _NEWER | _DRAWN
_REMAINS = re.compile(r"\b(?:t[dhr]|table)\s*>", re.IGNORECASE)
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0e-\x1f\x7f]")
_QUOTED = re.compile(r"\"[^\"]*\"|'[^']*'")


def has_control_characters(text: str) -> bool:
    """Tell whether characters stand in a page that no sound page has (HTML Living Standard, 13.2.3.5).

    What they were written over is not known: a tag, a style that hides a row, a statement below the table.
    """
    return _CONTROL.search(text) is not None


def find_broken_tag(text: str) -> tuple[str, int]:
    """Return what is wrong with the first damaged tag in a table, in words, and how many tables begin from there on.

    ("", 0) when no tag is damaged.
    """
    walk = _Walk()
    told, at = "", 0
    for part in PARTS.finditer(text):
        told = walk.find_loose_text(text[at : part.start()]) or walk.find_fault(part)
        if told:
            return told, 1 + len(re.findall(r"<table\b", text[part.end() :], re.IGNORECASE))
        at = part.end()
    return "", 0


def _is_known(name: str) -> bool:
    """Tell a tag of HTML, or one that a program or a page brings ("o:p", "my-mark")."""
    return name in _KNOWN or "-" in name or ":" in name


class _Walk:
    """Where in the tables of a page the walk along its tags stands: for each open table, whether in a cell."""

    def __init__(self) -> None:
        self._in_cell: list[bool] = []
        self._drawn = 0

    def find_loose_text(self, text: str) -> str:
        """Return a fault when text stands in a table outside its cells, or has the remains of a tag."""
        remains = _REMAINS.search(text) if self._in_cell else None
        if remains:
            return f"the text has {remains[0]!r} in it"
        loose = text.strip() if self._in_cell and not self._in_cell[-1] else ""
        return f"text stands outside its cells ({loose[:30]!r})" if loose else ""

    def find_fault(self, part: re.Match[str]) -> str:
        """Return what is wrong with a tag in a table, "" if nothing; go on behind it."""
        name = (part["name"] or "").lower()
        bare = name.removeprefix("/")
        if part["end"] != ">" or (not self._in_cell and name != "table"):
            return ""
        if "<" in _QUOTED.sub("", part[0][1:]):
            return f"a tag is damaged ({part[0][:30]!r})"
        between = bool(self._in_cell) and not self._in_cell[-1]
        strange = bare not in _MAY_STAND if between else not self._drawn and not _is_known(bare)
        self._go_on(name, bare)
        return f"a tag that has no place in a table ({part[0][:30]!r})" if strange else ""

    def _go_on(self, name: str, bare: str) -> None:
        if bare in _DRAWN:
            self._drawn = max(0, self._drawn + (1 if name == bare else -1))
        elif name == "table":
            self._in_cell.append(False)
        elif name == "/table":
            self._in_cell.pop()
        elif bare in _STRUCTURE:
            self._in_cell[-1] = name in _CELLS
