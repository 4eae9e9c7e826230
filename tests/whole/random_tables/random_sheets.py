"""Datasheets with one table of random layout, language and unit, and what each row of them says.

The truth is known by construction. Factors to N·m are written out here, not taken from the code under test:
NIST SP 811, Appendix B.8 (pound-force inch, pound-force foot, kilogram-force metre); the rest is decimal.
"""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache
from importlib.resources import files
from pathlib import Path

from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.profiles import Profile

POUND_INCH = Decimal("0.1129848290276167")
POUND_FOOT = Decimal("1.3558179483314004")
KILOGRAM_CENTIMETRE = Decimal("0.0980665")
UNITS = {
    "N·m": Decimal(1), "Nm": Decimal(1), "N m": Decimal(1), "N.m": Decimal(1), "cN·m": Decimal("0.01"),
    "dN·m": Decimal("0.1"), "daNm": Decimal(10), "lb·in": POUND_INCH, "lbf·in": POUND_INCH, "in-lb": POUND_INCH,
    "in-lbs": POUND_INCH, "ft-lb": POUND_FOOT, "lbf-ft": POUND_FOOT, "kgf·cm": KILOGRAM_CENTIMETRE,
}  # fmt: skip
# Conductor sizes in mm² (IEC 60228) and torques in N·m that a terminal for them takes (common practice).
CASES = (
    ("0.75", "4", ("0.5", "0.8", "1.2")),
    ("1.5", "10", ("1.2", "2", "2.5")),
    ("2.5", "16", ("2", "2.5", "3")),
    ("10", "50", ("4", "6", "7.5")),
)
MARKINGS = ("L1", "L2", "L3", "N", "PE", "A1", "A2", "T1", "1", "2", "13", "95")
DASHES = ("–", "-", "…", " - ", " to ")
LAYOUTS = ("ruled", "lines", "aligned", "transposed", "csv", "csv")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """What one row states: terminal and figure as printed, torque limits in N·m, conductor limits in mm².

    None is an open side, or a conductor that is not stated in mm². `gauge` is the size in AWG, thinner first,
    `stranding` a vocabulary key, `device` what the device's name must hold. `also` is another torque that the
    row states as well (the same in another unit). A row that is `unsettled` must be held: nothing on the sheet
    says for certain what it means. `spoken` tells that a sentence states it,
    `mark` is the ditto mark printed for its figure.
    """

    terminal: str
    figure: str
    torque: tuple[Decimal | None, Decimal | None]
    conductor: tuple[Decimal | None, Decimal | None]
    size: str = ""
    gauge: tuple[str | None, str | None] = (None, None)
    stranding: str = ""
    device: str = ""
    also: tuple[Decimal | None, Decimal | None] | None = None
    unsettled: bool = False
    spoken: bool = False
    mark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A sheet that was written, its truth, and the layout profiles that it is read with."""

    path: Path
    layout: str
    language: str
    stated: tuple[Stated, ...]
    traits: tuple[str, ...] = ()
    profiles: tuple[Profile, ...] = ()


@cache
def words_for(language: str, kind: str, concept: str | None = None) -> list[str]:
    """Return a language's words of a kind, or of one concept of it."""
    read = json.loads((files("torquary_schema") / "words" / f"{language}.json").read_text("utf-8")).get(kind, {})
    chosen = read.get(concept, []) if concept else [word for words in read.values() for word in words]
    # Words for gauges head no sizes in mm².
    return [word.strip("|=") for word in chosen if not any(part in word.lower() for part in ("*", "awg", "kcmil"))]


@cache
def languages() -> list[str]:
    """Languages that have words for torque, conductor and terminal."""
    found = sorted(path.name.removesuffix(".json") for path in (files("torquary_schema") / "words").iterdir())
    return [name for name in found if all(words_for(name, "heading", c) for c in ("torque", "conductor", "terminal"))]


def write_sheet(folder: Path, seed: int) -> Sheet:
    """Write the sheet of this seed into the folder."""
    dice = random.Random(seed)
    layout = dice.choice(LAYOUTS)
    language, head, labels = choose_words(dice, printable=layout != "csv")
    unit, mark, place = dice.choice(list(UNITS)), dice.choice(".,"), dice.choice(("head", "round", "square", "cell"))
    printed, stated = choose_rows(dice, labels, unit if place == "cell" else "", UNITS[unit], mark)
    torque = {"head": f"{head[2]} {unit}", "round": f"{head[2]} ({unit})", "square": f"{head[2]} [{unit}]"}
    rows = [[head[0], f"{head[1]} mm²", torque.get(place, head[2])], *printed]
    order = dice.sample(range(3), 3)
    if layout != "transposed":
        rows = [[row[i] for i in order] for row in rows]
    path = folder / f"sheet_{seed}.{'csv' if layout == 'csv' else 'pdf'}"
    if layout == "csv":
        delimiter = dice.choice(";\t")
        text = "".join(delimiter.join(row) + "\n" for row in rows)
        path.write_text(text, encoding=dice.choice(("utf-8", "utf-8-sig")))
    else:
        draw_table(path, rows, layout)
    return Sheet(path=path, layout=layout, language=language, stated=tuple(stated))


def in_latin(text: str) -> bool:
    """Tell whether the standard fonts of PDF can print the text."""
    return text.encode("cp1252", "ignore").decode("cp1252") == text


def choose_words(
    dice: random.Random, *, printable: bool, spoken: Sequence[str] = (), prints: Callable[[str], bool] = in_latin
) -> tuple[str, list[str], list[str]]:
    """A language, its three heading words and one to five labels; only what Latin-1 fonts can print, if asked."""
    while True:
        language = dice.choice(spoken or languages())
        head = [dice.choice(words_for(language, "heading", concept)) for concept in ("terminal", "conductor", "torque")]
        labels = dice.sample(sorted({*MARKINGS, *words_for(language, "role")}), dice.choice((1, 2, 4, 5)))
        if not printable or prints("".join([*head, *labels])):
            return language, head, labels


def choose_rows(
    dice: random.Random, labels: Sequence[str], unit: str, factor: Decimal, mark: str
) -> tuple[list[list[str]], list[Stated]]:
    """Rows of label, size and figure with what they state; in a third of the sheets all rows but the label alike."""
    alike = dice.random() < 1 / 3
    rows: list[list[str]] = []
    stated: list[Stated] = []
    for label in labels:
        if alike and rows:
            rows.append([label, *rows[0][1:]])
            stated.append(replace(stated[0], terminal=label))
            continue
        low, high, torques = dice.choice(CASES)
        places = 2 if factor >= 1 else 0
        least = round(Decimal(dice.choice(torques)) / factor, places)
        most = round(least + dice.choice((Decimal(0), least / 4)), places)
        first, last = (f"{value.normalize():f}".replace(".", mark) for value in (least, most))
        figure = first if least == most else first + dice.choice(DASHES) + last
        sizes = (low + dice.choice(DASHES[:4]) + high).replace(".", mark)
        rows.append([label, sizes, f"{figure} {unit}".strip()])
        limits = (least * factor, most * factor)
        stated.append(Stated(terminal=label, figure=figure, torque=limits, conductor=(Decimal(low), Decimal(high))))
    return rows, stated


def draw_table(path: Path, rows: Sequence[Sequence[str]], layout: str) -> None:
    """Draw a page with a title and the table: ruled, with lines across only, without any, or turned."""
    canvas = Canvas(str(path), pagesize=(595, 842))
    canvas.setFont("Helvetica-Bold", 14)
    canvas.drawString(60, 780, "Lantern Quay breakers")
    turned = layout == "transposed"
    lines = [list(column) for column in zip(*rows, strict=True)] if turned else [list(row) for row in rows]
    width, height, top = 495 / len(lines[0]), 20, 720
    widest = max(stringWidth(text, "Helvetica", 8) for line in lines for text in line)
    canvas.setFont("Helvetica", min(8, 8 * (width - 12) / widest))
    for r, line in enumerate(lines):
        for c, text in enumerate(line):
            x, y = 50 + c * width, top - r * height
            canvas.drawString(x + 4, y + 6, text)
            if layout in ("ruled", "transposed"):
                canvas.rect(x, y, width, height)
        if layout == "lines":
            canvas.line(50, top - r * height, 50 + width * len(line), top - r * height)
    canvas.save()
