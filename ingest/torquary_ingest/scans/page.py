"""A page that is a picture, as a `Page`: its words are proposals, and its upright picture goes with it."""

from __future__ import annotations

import zlib
from typing import TYPE_CHECKING

from torquary_ingest.document import Page, Seen
from torquary_ingest.scans.budget import MOST_PICTURES, Budget
from torquary_ingest.scans.flatten import flatten
from torquary_ingest.scans.scan import Scan, read_scan
from torquary_schema.values import Finding, Place

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

PICTURE = "is a picture without live text"

_KEPT_SCALE = 2.0
"""Pixels a point (144 dpi) of the picture that goes on with a page: figures of 6 pt can be read in it."""


def read_picture_page(
    grey: NDArray[numpy.uint8], scale: float, number: int, budget: Budget, what: str = PICTURE
) -> Page:
    """Return the page that a grey picture shows; a finding says `what` it is and what was done, or why not.

    The recogniser must be there (`is_ready`), and the budget have something left.
    """
    budget.take()
    flat = flatten(grey)
    scan = read_scan(grey if flat is None else flat, scale, budget)
    if not scan.words:
        why = scan.fault or "no word was found in it"
        finding = page_finding(number, f"and it could not be read ({why}): read it by eye", what)
        return Page(number=number, width=grey.shape[1] / scale, height=grey.shape[0] / scale, findings=(finding,))
    high, wide = scan.grey.shape
    done = describe(scan) + ("" if flat is None else ", its corners set square")
    return Page(
        number=number,
        width=wide / scale,
        height=high / scale,
        words=scan.words,
        rules=scan.rules,
        findings=(page_finding(number, f"; {done}: its figures are held until a person accepts them", what),),
        seen=_keep(scan),
    )


def say_why_left(budget: Budget, most: int = MOST_PICTURES) -> str:
    """Return why no further picture is read; `most` is how many would be."""
    if budget.is_spent():
        return "the time for the pictures of one file was over"
    return f"no more than {most} pictures of one file are read"


def describe(scan: Scan) -> str:
    """Return what was read of a picture, and how it was straightened, in one line."""
    done = f"{len(scan.words)} words were read from it"
    if scan.turned:
        done += f", turned by {scan.turned}°"
    if scan.slant:
        done += f", straightened by {abs(scan.slant):.1f}°"
    if scan.missed:
        done += f", and print in {scan.missed} place(s) was not read (look at the picture whether it is figures)"
    return done


def page_finding(number: int, rest: str, what: str = PICTURE) -> Finding:
    """Return the finding of a page without live text that can be read."""
    joint = "" if rest.startswith(";") else " "
    message = f"page {number} {what}{joint}{rest}"
    return Finding(code="page_no_text", scope="page", message=message, place=Place(page=number))


def _keep(scan: Scan) -> Seen:
    import cv2
    import numpy as np

    factor = min(1.0, _KEPT_SCALE / scan.scale)
    kept = np.asarray(cv2.resize(scan.grey, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA), dtype=np.uint8)
    # Sixteen levels pack well and are all that the small pictures show.
    return Seen(packed=zlib.compress((kept // 17 * 17).tobytes(), 1), wide=kept.shape[1], scale=scan.scale * factor)
