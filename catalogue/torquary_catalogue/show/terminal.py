"""A notice on a terminal: the torque in tall digits, legible at arm's length."""

from __future__ import annotations

from rich.console import Console, Group, RenderableType
from rich.panel import Panel
from rich.table import Table
from rich.text import Text

from torquary_catalogue.show.notice import Block, Notice
from torquary_catalogue.show.row_table import RowTable
from torquary_catalogue.show.visible import make_visible, put_on_one_line

# Five rows of dots for each sign, top to bottom.
_DOTS = {
    "0": ("###", "# #", "# #", "# #", "###"),
    "1": (" # ", "## ", " # ", " # ", "###"),
    "2": ("###", "  #", "###", "#  ", "###"),
    "3": ("###", "  #", "###", "  #", "###"),
    "4": ("# #", "# #", "###", "  #", "  #"),
    "5": ("###", "#  ", "###", "  #", "###"),
    "6": ("###", "#  ", "###", "# #", "###"),
    "7": ("###", "  #", "  #", "  #", "  #"),
    "8": ("###", "# #", "###", "# #", "###"),
    "9": ("###", "# #", "###", "  #", "###"),
    ".": (" ", " ", " ", " ", "#"),
    "–": ("   ", "   ", "###", "   ", "   "),
    "≈": ("    ", " # #", "# # ", " # #", "# # "),
}
_HALVES = {(" ", " "): " ", ("#", " "): "▀", (" ", "#"): "▄", ("#", "#"): "█"}


def draw_tall(torque: str) -> str:
    """Return digits, points and dashes three lines tall, words and units beside them on the middle line."""
    lines = ["", "", ""]
    for sign in torque:
        dots = _DOTS.get(sign)
        if dots is None:
            cells = [" ", sign, " "]
        else:
            rows = (*dots, " " * len(dots[0]))
            pairs = (zip(rows[at], rows[at + 1], strict=True) for at in (0, 2, 4))
            cells = ["".join(_HALVES[pair] for pair in line) + " " for line in pairs]
        lines = [line + cell for line, cell in zip(lines, cells, strict=True)]
    return "\n".join(line.rstrip() for line in lines)


def print_notice(notice: Notice, console: Console | None = None) -> None:
    """Print the notice with colour and frames."""
    shown = console or Console()
    shown.print(_write(notice.headline, style="bold"), _write(f"taken as: {notice.asked}", style="dim"))
    for said in notice.said_first:
        shown.print(_write(said, style="yellow"))
    for block in notice.blocks:
        shown.print(Panel(_lay_out(block), expand=False))
    if notice.places:
        shown.print(_write("The same for:"), *(_write(f"  {place}") for place in notice.places), sep="\n")
    if notice.table:
        shown.print(_lay_out_table(notice.table))
    for note in (*notice.notes, *notice.choices):
        shown.print(_write(note, style="yellow"))
    for caution in notice.cautions:
        shown.print(_write(f"! {caution}", style="bold red"))


def _write(text: str, style: str = "") -> Text:
    """Return text in a style: the only codes that reach the terminal are those of the style."""
    return Text(make_visible(put_on_one_line(text)), style=style)


def _lay_out(block: Block) -> RenderableType:
    grid = Table.grid(padding=(0, 2))
    for name, text in block.lines:
        grid.add_row(_write(name, style="dim"), _write(text))
    if not block.large:
        return grid
    return Group(Text(draw_tall(block.large), style="bold green", no_wrap=True), Text(""), grid)


def _lay_out_table(table: RowTable) -> RenderableType:
    grid = Table(*table.headings)
    for torque, *others in table.lines:
        grid.add_row(_write(torque, style="bold"), *map(_write, others))
    same = Table.grid(padding=(0, 2))
    for name, text in table.same:
        same.add_row(_write(f"{name}, for all", style="dim"), _write(text))
    return Group(grid, same)
