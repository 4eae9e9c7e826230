"""Sheets of lines and ruled tables, drawn one under the other, and what is released of them."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from reportlab.lib.styles import getSampleStyleSheet
from reportlab.platypus import Flowable, Paragraph, SimpleDocTemplate, Spacer, Table, TableStyle

from torquary_ingest.reader import read_sheet
from torquary_schema.values import Setting

Span = tuple[tuple[int, int], tuple[int, int]]


def draw(
    path: Path,
    *parts: str | tuple[Sequence[Sequence[str]], Sequence[Span]],
    across: bool = False,
    ruled: bool = True,
) -> Path:
    """Draw lines and ruled tables one under the other; a span is its first and last cell (column, row).

    `across`: the tables have rules between their rows alone, and each text stands in the middle of its row.
    `ruled` off: they have none, and texts begin at the left of their columns.
    """
    rules = [("LINEABOVE", (0, 0), (-1, 0), 0.8, "black"), ("LINEBELOW", (0, 0), (-1, -1), 0.4, "black")]
    rules += [("VALIGN", (0, 0), (-1, -1), "MIDDLE"), ("ALIGN", (0, 0), (-1, -1), "CENTER")]
    story: list[Flowable] = []
    for part in parts:
        if isinstance(part, str):
            story.append(Paragraph(part, getSampleStyleSheet()["BodyText"]))
        else:
            rows, spans = part
            grid = [("GRID", (0, 0), (-1, -1), 0.5, "black")] if ruled else []
            look = [
                *(rules if across else grid),
                ("FONTSIZE", (0, 0), (-1, -1), 8),
            ]
            story.append(Table(rows, style=TableStyle([*look, *(("SPAN", *span) for span in spans)])))
        story.append(Spacer(1, 8))
    SimpleDocTemplate(str(path)).build(story)
    return path


def released(path: Path) -> list[tuple[str, str, str]]:
    """Device, terminal and printed torque of what is released."""
    settings: tuple[Setting, ...] = read_sheet(path).settings
    return [
        (s.device.printed, s.terminal.printed, s.torque.printed) for s in settings if s.torque and s.state == "released"
    ]
