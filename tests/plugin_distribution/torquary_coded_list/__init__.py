"""Reads a coded terminal list: words such as `K1>2,5N>6Q` beside a drawing, wherever they stand.

The legend on the same page says what the letters mean; without it nothing is read.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from torquary_ingest.document import Cell, Document, Entry, Page, Reading, Table, Word
from torquary_schema.values import Place

_CODE = re.compile(r"(?P<terminal>[A-Z]+\d*)>(?P<torque>\d+(?:[.,]\d+)?)N>(?P<conductor>\d+(?:[.,]\d+)?)Q")
_TORQUE_LEGEND = re.compile(r"N=(N·m|Nm)")
_CONDUCTOR_LEGEND = re.compile(r"Q=(mm²|mm2)")


class CodedList:
    """One code, one terminal."""

    name = "coded_list"
    specific = True

    def recognises(self, document: Document) -> bool:
        """Tell whether some page has codes and the legend that explains them."""
        return any(_legend(page) and _codes(page) for page in document.pages)

    def readings(self, document: Document, tables: tuple[Table, ...]) -> Iterable[Reading]:
        """Yield one reading for each code."""
        for page in document.pages:
            legend = _legend(page)
            for row, (word, parts) in enumerate(_codes(page) if legend else (), start=1):
                yield Reading(
                    place=Place(page=page.number, row=row, box=word.box, text=word.text),
                    entries=tuple(
                        Entry(field=field, cell=_cell(word, row, column, text), unit_printed=legend.get(field, ""))
                        for column, (field, text) in enumerate(parts.items(), start=1)
                    ),
                )


def _legend(page: Page) -> dict[str, str]:
    """Return the units that the page's legend gives, or nothing unless it gives both."""
    text = "".join(word.text for word in page.words)
    torque, conductor = _TORQUE_LEGEND.search(text), _CONDUCTOR_LEGEND.search(text)
    return {"torque": torque[1], "conductor": conductor[1]} if torque and conductor else {}


def _codes(page: Page) -> list[tuple[Word, dict[str, str]]]:
    matches = ((word, _CODE.fullmatch(word.text)) for word in page.words)
    return [(word, match.groupdict()) for word, match in matches if match]


def _cell(word: Word, row: int, column: int, text: str) -> Cell:
    return Cell(row=row, column=column, text=text, box=word.box, marks=word.marks, doubts=word.doubts, words=(word,))
