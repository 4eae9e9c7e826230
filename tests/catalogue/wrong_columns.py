"""A sheet of which a column of sizes was read as torques, in a catalogue that is asked by its commands."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from click.testing import CliRunner, Result
from reportlab.pdfgen.canvas import Canvas

from torquary_catalogue.command import main
from torquary_catalogue.store import open_catalogue

ROWS = (
    ("L1", "0,5–2,5", "0,4–0,6"), ("L2", "0,5–4", "0,5–0,8"), ("N", "0,75–6", "0,8–1,2"), ("PE", "1,5–10", "1,2–1,8")
)  # fmt: skip
HEADS = ("Klemme", "Leiter mit Hülse, Drehmoment Nm", "Anzugsdrehmoment Nm")
"""Sizes under a heading into which that of the column beside it ran."""
TORQUES = {"L1": 0.6, "L2": 0.8, "N": 1.2, "PE": 1.8}


class Terminals:
    """A catalogue with one sheet, asked by its commands."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.catalogue = folder / "office.duckdb"

    def run(self, *words: str, status: int | None = 0) -> Result:
        deciding = words[0] == "decide" and "--from" not in words
        said = ("--who", "Ines", "--why", "sizes of conductors") if deciding else ()
        done = CliRunner().invoke(main, [*words, *said, "--catalogue", str(self.catalogue)], catch_exceptions=False)
        assert status in (None, done.exit_code), done.output
        return done

    def load(self, name: str, rows: Any = ROWS, line: str = "") -> None:
        file = self.folder / name
        if name.endswith(".pdf"):
            draw(file, rows)
        else:
            text = ["Reihenklemme RK", line, *(";".join(row) for row in (HEADS, *rows))]
            file.write_text("\n".join((*text, "")), "utf-8")
        self.run("load", str(file), status=None)

    def reading(self, printed: str) -> str:
        with open_catalogue(self.catalogue) as opened:
            return str(opened.rows("SELECT id FROM setting WHERE torque_printed = ?", [printed])[0]["id"])

    def figures(self) -> dict[str, float]:
        """Return terminal → torque of all that is released."""
        with open_catalogue(self.catalogue) as opened:
            rows = opened.rows("SELECT terminal_printed, max_nm FROM current_setting WHERE state = 'released'")
        return {row["terminal_printed"]: float(row["max_nm"]) for row in rows}


def draw(path: Path, rows: Any) -> None:
    canvas = Canvas(str(path), pagesize=(500, 300))
    canvas.setFont("Helvetica-Bold", 16)
    canvas.drawString(40, 260, "Reihenklemme RK")
    for at, row in enumerate((HEADS, *rows)):
        for column, text in enumerate(row):
            x, y, width = (40, 110, 290)[column], 220 - 20 * at, (70, 180, 150)[column]
            canvas.rect(x, y, width, 20)
            canvas.setFont("Helvetica", 9)
            canvas.drawString(x + 5, y + 6, text)
    canvas.save()
