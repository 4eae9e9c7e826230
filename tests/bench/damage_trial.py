"""Damage sheets and read them: rows released that the original lacks, rows lost in silence, what is said, what is same.

Usage: python tests/bench/damage_trial.py [--count 700] [--seed 1] [--jobs 1] [--keep FOLDER]

Sheets are the samples and small ones drawn here; mutations those of `mutations.py`. A digit of a CSV file or web page
that became another one (so in the text of a PDF that is not compressed; else its checksum tells), and a CSV file cut
where its last row has all its cells, are other sheets and no damage: what has the form of a whole sheet is counted
apart (`another`).
Exit status 1 when a row was released that the original lacks, or lost in silence.
"""

from __future__ import annotations

import argparse
import io
import re
import sys
import tempfile
from collections import Counter
from pathlib import Path
from random import Random

from mutations import EVERY, OF_FILES
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.reader import read_sheets
from torquary_schema.values import Setting, SheetReport

SAMPLES = Path(__file__).parents[2] / "sample_sheets"
KINDS = (".pdf", ".csv", ".tsv", ".html", ".xlsx", ".ods")
TEXTS = (".csv", ".tsv", ".html")
FOREIGN, SHOWN = re.compile(r"\\x[0189]|\\x7f|\\\\0"), re.compile(rb"\(([^()]*)\) Tj")
FIELD = re.compile(rb"[;\t]|(?<!\d),|,(?!\d)")
ROWS = (("L1", "1.5-6", "2.5"), ("N", "1.5-10", "2.0"), ("PE", "2.5-16", "3.0"), ("PEN", "4-25", "3.5"))
HEADS = ("Terminal", "Conductor mm²", "Torque N·m")

Row = tuple[object, ...]


def draw(*, compressed: bool, pages: int = 1) -> bytes:
    """Draw a small sheet of ruled tables, one a page."""
    stream = io.BytesIO()
    canvas = Canvas(stream, pagesize=(595, 842), invariant=True, pageCompression=int(compressed))
    for page in range(pages):
        canvas.setFont("Helvetica-Bold", 12)
        canvas.drawString(60, 790, f"Quillhaven QX{page + 1} load switch")
        canvas.setFont("Helvetica", 9)
        for line, row in enumerate((HEADS, *ROWS)):
            for column, text in enumerate(row):
                canvas.rect(60 + 120 * column, 740 - 20 * line, 120, 20)
                canvas.drawString(66 + 120 * column, 746 - 20 * line, text)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


def small_sheets() -> dict[str, bytes]:
    """Return small sheets by file name."""
    lines = [";".join(row) for row in (HEADS, *ROWS)]
    cells = ["".join(f"<td>{cell}</td>" for cell in row) for row in (HEADS, *ROWS)]
    table = "<table>\n" + "".join(f"<tr>{row}</tr>\n" for row in cells) + "</table>"
    page = f"<!DOCTYPE html>\n<html><body><h1>Quillhaven QX1 load switch</h1>\n{table}\n</body></html>\n"
    return {
        "small_lf.csv": ("Quillhaven QX1\n" + "\n".join(lines) + "\n").encode(),
        "small_crlf.csv": ("\r\n".join(lines) + "\r\n").encode(),
        "small_open.csv": "\n".join(lines).encode(),
        "small_page.html": page.encode(),
        "small_packed.pdf": draw(compressed=True),
        "small_plain.pdf": draw(compressed=False),
        "small_pages.pdf": draw(compressed=True, pages=3),
    }


def key(setting: Setting) -> Row:
    """Return what a row states: device, terminal, conductor, torque."""
    size, torque = setting.conductor, setting.torque
    figures = (torque.min_nm, torque.nominal_nm, torque.max_nm) if torque else ()
    sizes = (size.min_mm2, size.max_mm2, size.min_awg, size.max_awg, size.material, size.stranding)
    return setting.device.model, setting.terminal.printed, sizes, figures


def judge(whole: SheetReport, mutant: SheetReport) -> tuple[str, list[Row]]:
    """Return the verdict on a mutant: false, lost, said or same; and the rows it is about."""
    before = {key(one) for one in whole.settings if one.state == "released"}
    after = {key(one) for one in mutant.settings if one.state == "released"}
    if after - before:
        return "false", sorted(after - before, key=str)
    told = Counter(one.code for one in mutant.findings) - Counter(one.code for one in whole.findings)
    if told or mutant.state != "read":
        return "said", []
    kept = {key(one) for one in mutant.settings}
    shown = [one.place.text for one in mutant.settings if one.state == "held"]
    shown += [one.printed for one in mutant.findings]
    lost = [one for one in whole.settings if one.state == "released" and key(one) not in kept]
    lost = [one for one in lost if not any(_shows(text, one) for text in shown)]
    if lost and len(mutant.settings) < len(whole.settings):
        return "lost", [key(one) for one in lost]
    return ("same" if after == before else "held"), []


def _shows(text: str, setting: Setting) -> bool:
    """Tell whether the row that a person is shown has the terminal and the torque of a setting."""
    return bool(setting.torque) and setting.torque.printed in text and setting.terminal.printed.split(" / ")[0] in text


def make(folder: Path, count: int, seed: int) -> list[tuple[str, str, Path]]:
    """Write the mutants; return of each the sheet's name, the mutation's and the path."""
    random = Random(seed)
    sheets = {path.name: path.read_bytes() for path in sorted(SAMPLES.iterdir()) if path.suffix in KINDS}
    sheets |= small_sheets()
    made: list[tuple[str, str, Path]] = []
    (folder / "whole").mkdir()
    for name, content in sheets.items():
        (folder / "whole" / name).write_bytes(content)
    names = sorted(sheets)
    while len(made) < count:
        name = random.choice(names)
        mutation = random.choice(list(EVERY if name.endswith(".pdf") else OF_FILES))
        content = EVERY[mutation](sheets[name], random)
        if content is None or content == sheets[name]:
            continue
        path = folder / f"{len(made):04d}" / name
        path.parent.mkdir()
        path.write_bytes(content)
        made.append((name, mutation, path))
    return made


def is_another(name: str, mutation: str, whole: bytes, mutant: bytes, rows: list[Row]) -> bool:
    """Tell a mutant that has the form of a whole sheet: letters changed, or a CSV file cut behind a row's last cell."""
    if mutation.startswith("flip") and name.endswith(TEXTS):
        return not FOREIGN.search(str(rows))
    if mutation.startswith("flip"):
        shown = [range(*found.span(1)) for found in SHOWN.finditer(whole)]
        changed = [at for at, (one, other) in enumerate(zip(whole, mutant, strict=True)) if one != other]
        return all(any(at in span for span in shown) for at in changed)
    if name.endswith((".html", ".pdf")) or not mutation.startswith("cut"):
        return False
    lines = mutant.rstrip(b"\r\n").splitlines()
    return mutant.endswith((b"\r", b"\n")) or len(FIELD.findall(lines[-1])) >= max(len(FIELD.findall(x)) for x in lines)


def main() -> int:
    """Run the trial."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("--count", type=int, default=700)
    ask.add_argument("--seed", type=int, default=1)
    ask.add_argument("--jobs", type=int, default=1)
    ask.add_argument("--keep", type=Path)
    asked = ask.parse_args()
    tally: Counter[str] = Counter()
    kinds: dict[str, Counter[str]] = {}
    with tempfile.TemporaryDirectory() as place:
        folder = asked.keep or Path(place)
        folder.mkdir(exist_ok=True)
        made = make(folder, asked.count, asked.seed)
        wholes = {one.file: one for one in read_sheets(sorted((folder / "whole").iterdir()), jobs=asked.jobs)}
        reports = read_sheets([path for _, _, path in made], jobs=asked.jobs)
        for (name, mutation, path), report in zip(made, reports, strict=True):
            verdict, rows = judge(wholes[name], report)
            bad = verdict if verdict in ("false", "lost") else ""
            if bad and is_another(name, mutation, (folder / "whole" / name).read_bytes(), path.read_bytes(), rows):
                verdict = "another"
            tally[verdict] += 1
            kinds.setdefault(mutation, Counter())[verdict] += 1
            if bad:
                print(f"{bad} ({verdict}): {path.parent.name} {name} {mutation}: {rows[:2]}", flush=True)
    for mutation, counts in sorted(kinds.items()):
        print(f"{mutation}: {dict(counts)}")
    print(f"{sum(tally.values())} mutated files: {dict(tally)}")
    return 1 if tally["false"] or tally["lost"] else 0


if __name__ == "__main__":
    sys.exit(main())
