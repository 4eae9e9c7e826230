"""Holds what stands near damage that an opener found, and all of a sheet that was not read whole.

On damaged content a page's own figures may have lost or changed their rows. Titles, headings, units and the devices
of a table that goes on overleaf are carried from page to page, always forward: near is the page and all behind it.
Where the damage is to the file as a whole, near is everything. Of a file that breaks off, the opener doubts the cells.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from torquary_ingest.checks import add_findings
from torquary_ingest.document import Document
from torquary_ingest.opening import tell_unread
from torquary_schema.values import Finding, Setting

WHOLE, PAGE = "sheet_damaged", "page_damaged"


def hold_damaged(document: Document, settings: Iterable[Setting]) -> tuple[Setting, ...]:
    """Return the settings, each that stands on a damaged page, or behind one, held.

    All are where the file is damaged, and where pages were not read, which may print another torque for the terminal.
    """
    whole = (_find(WHOLE, document.findings), *tell_unread(document))
    pages = [(page.number, found) for page in document.pages if (found := _find(PAGE, page.findings)) is not None]
    first, told = min(pages, key=lambda one: one[0], default=(0, None))
    return tuple(
        _hold(setting, [*whole, told if told is not None and _is_behind(setting, first) else None])
        for setting in settings
    )


def _is_behind(setting: Setting, page: int) -> bool:
    return setting.place.page is None or setting.place.page >= page


def _find(code: str, findings: Iterable[Finding]) -> Finding | None:
    return next((finding for finding in findings if finding.code == code), None)


def _hold(setting: Setting, found: Iterable[Finding | None]) -> Setting:
    place = setting.place
    own = [replace(one, scope="setting", place=place, printed=place.text) for one in found if one is not None]
    return add_findings(setting, own)
