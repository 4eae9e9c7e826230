"""Tell whether a sheet gives the same when only the pages that can hold a torque are read as when every page is.

Usage: python tests/bench/pages_passed.py FILE... [--jobs N]

Each PDF sheet is read twice as it is, and twice within a manual: pages of other things before, between and behind its
own, so that none of them is read for being the first. Settings are compared with all that they say, findings that hold
or leave something unread by code and page. A line for each sheet that differs; exit status 1 when any does.
"""

from __future__ import annotations

import argparse
import io
import random
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import replace
from multiprocessing import Pool
from pathlib import Path

import pypdfium2
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_schema.findings import leaves_unread
from torquary_schema.report import setting_to_dict
from torquary_schema.values import SheetReport

_PROSE = (
    "the enclosure is opened with care before the cover is lifted so that dust does not settle on the moving parts and "
    "the display shows what was chosen last while the fan is running and the door of the cabinet remains closed"
)
_OTHER = ("Width mm 54", "Mass kg 0.35", "Ambient air °C 40", "Supply V 230", "Losses W 3.5", "Class 2")


def differences(path: Path) -> list[str]:
    """Return in words what one PDF gives otherwise when every page is read, as it is and within a manual."""
    with tempfile.TemporaryDirectory() as folder:
        manual = Path(folder) / path.name
        told = _compare(path)
        return told + [f"within a manual: {one}" for one in _compare(manual)] if put_in_manual(path, manual) else told


def put_in_manual(path: Path, manual: Path, *, seed: int = 11) -> bool:
    """Write a manual that holds the sheet's pages among others; False where they cannot be taken out."""
    try:
        sheet = pypdfium2.PdfDocument(path)
        others = pypdfium2.PdfDocument(_other_pages(2 * len(sheet) + 4, random.Random(seed)))
        whole = pypdfium2.PdfDocument.new()
        whole.import_pages(others, [0, 1, 2])
        for page in range(len(sheet)):
            whole.import_pages(sheet, [page])
        whole.import_pages(others, range(3, len(others)))
        whole.save(manual)
    except pypdfium2.PdfiumError:
        return False
    return True


def _other_pages(pages: int, dice: random.Random) -> bytes:
    stream = io.BytesIO()
    canvas = Canvas(stream)
    for number in range(pages):
        canvas.setFont("Helvetica-Bold", 14)
        canvas.drawString(60, 780, "Handbook" if not number else f"{number} Housing and operation")
        canvas.setFont("Helvetica", 10)
        for at in range(20):
            sentence = " ".join(dice.choices(_PROSE.split(), k=12)).capitalize() + "."
            canvas.drawString(60, 750 - 14 * at, dice.choice(_OTHER) if number % 3 == 2 and at > 12 else sentence)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


def _compare(path: Path) -> list[str]:
    quick, every = (read_one(path, OpenWish(every_page=every)) for every in (False, True))
    here, there = ({str(one) for one in _told(report)} for report in (quick, every))
    return [f"only quickly: {one}" for one in sorted(here - there)] + [
        f"only of every page: {one}" for one in sorted(there - here)
    ]


def _told(report: SheetReport) -> Iterator[object]:
    yield report.state
    for setting in report.settings:
        # Sheets tell their headings and lines alike, whichever way they are read; what stands far off is no proof.
        yield setting_to_dict(replace(setting, id="", scope=(), missing=()))
    for finding in report.findings:
        if leaves_unread(finding.code) and finding.code not in _SEEN_ON_EVERY_PAGE:
            yield finding.code, finding.place.page if finding.place else None


_SEEN_ON_EVERY_PAGE = ("heading_unknown", "table_no_headings", "picture_read", "picture_not_read")
"""What is said of pages without any torque too, where they are read."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Compare the files of the command line; return the exit status."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("files", nargs="+", type=Path)
    parser.add_argument("--jobs", type=int, default=2)
    wish = parser.parse_args(arguments)
    sheets = [path for path in wish.files if path.suffix.lower() == ".pdf"]
    differing = 0
    with Pool(wish.jobs, maxtasksperchild=20) as pool:
        for path, told in zip(sheets, pool.imap(differences, sheets), strict=True):
            differing += bool(told)
            for one in told:
                print(f"{path.name}: {one[:600]}", flush=True)
    print(f"{len(sheets)} sheets, {differing} with differences")
    return int(differing > 0)


if __name__ == "__main__":
    sys.exit(main())
