"""Picture file to `Document`: each picture is a page without live text."""

from __future__ import annotations

import hashlib
from pathlib import Path

from PIL import Image

from torquary_ingest.document import Document, Page
from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.picture.file import count_pictures, open_pictures, take_picture
from torquary_ingest.scans.budget import Budget
from torquary_ingest.scans.page import page_finding, read_picture_page, say_why_left
from torquary_ingest.scans.scan import RECOGNISER_WANTED, is_ready
from torquary_schema.places import write_pages
from torquary_schema.values import Finding, Place


def read_picture_file(path: Path) -> Document:
    """Return the document; raise `SheetRefused` for a file in which no word can be read."""
    with open_pictures(path) as opened:
        if not is_ready():
            raise SheetRefused("sheet_no_text", f"the file is a picture: {RECOGNISER_WANTED}")
        count, whole = count_pictures(opened)
        pages = _read_pages(opened, count)
    if not any(page.words for page in pages):
        raise SheetRefused("sheet_no_text", pages[0].findings[0].message)
    return Document(
        file=path.name,
        kind="picture",
        pages=tuple(pages),
        page_count=count,
        digest=hashlib.sha256(path.read_bytes()).hexdigest(),
        findings=() if whole else (_describe_break(count),),
    )


def _describe_break(count: int) -> Finding:
    message = f"the file breaks off behind page {count}, and what pages follow is not known: ask for a sound copy"
    return Finding(code="sheet_damaged", scope="sheet", message=message)


def _read_pages(opened: Image.Image, count: int) -> list[Page]:
    """Return the pages read; where the budget ends, the last one says which were not."""
    budget = Budget()
    pages: list[Page] = []
    for number in range(1, count + 1):
        if not budget.has_left():
            left = write_pages(range(number, count + 1))
            message = f"{left}: not read: {say_why_left(budget)}: split the file, or read them by eye"
            place = Place(page=number)
            finding = Finding(code="page_no_text", scope="page", message=message, place=place)
            pages.append(Page(number=number, findings=(finding,)))
            break
        try:
            pages.append(read_picture_page(*take_picture(opened, number), number, budget))
        except SheetRefused as refused:
            if count == 1:
                raise
            pages.append(Page(number=number, findings=(page_finding(number, f"and was not read: {refused.message}"),)))
    return pages
