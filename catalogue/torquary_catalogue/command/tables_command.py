"""`torquary tables`: which tables are seen in a file."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from torquary_catalogue.command.options import json_option, password_option
from torquary_catalogue.errors import NO_ANSWER, WRONG_USE, TorquaryError
from torquary_catalogue.show.visible import print_json, put_on_one_line, say

if TYPE_CHECKING:
    from torquary_ingest.document import Table
    from torquary_schema.values import Finding


@click.command("tables")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--pictures", is_flag=True, help="Look into pictures beside live text too, at some seconds each.")
@click.option("--page", type=click.IntRange(min=1), help="Show this page alone.")
@click.option(
    "--picture",
    type=click.Path(path_type=Path),
    help="Also write a PNG of the page (of the first with a table) with the boxes of tables and cells drawn.",
)
@password_option
@json_option
def command(
    file: Path, pictures: bool, page: int | None, picture: Path | None, password: str, as_json: bool
) -> None:
    """Show the tables that are seen on all pages of FILE, cell by cell."""
    if not file.is_file():
        raise TorquaryError(f"{file}: there is no such file: check the name", status=WRONG_USE)
    if picture is not None:
        findings, tables, written = _draw(file, picture, page, password, pictures)
    else:
        from torquary_ingest.reader import read_tables

        findings, tables = read_tables(file, every_page=True, password=password, pictures=pictures, cells_only=True)
        tables, written = tuple(table for table in tables if page in (None, table.page)), ""
    if as_json:
        named = {"picture": str(picture) if written else None} if picture is not None else {}
        print_json({"tables": [_as_dict(table) for table in tables], **named})
    else:
        for table in tables:
            say(*_write_lines(table))
        if not tables:
            say(f"{file.name}: no table is seen" + (f" on page {page}" if page else ""))
        if written:
            say(written)
    for finding in findings:
        say(f"{file.name}: {finding.message} [{finding.code}]", err=True)
    sys.exit(0 if tables else NO_ANSWER)


def _draw(
    file: Path, picture: Path, page: int | None, password: str, pictures: bool
) -> tuple[tuple[Finding, ...], tuple[Table, ...], str]:
    """Write the picture of a page; return what there is to say of the file, the page's tables, and what was written."""
    from torquary_ingest.reader import draw_tables

    drawn = draw_tables(file, page, password=password, pictures=pictures)
    if drawn.pages and drawn.page > drawn.pages:
        raise TorquaryError(f"{file}: there is no page {drawn.page}, the file has {drawn.pages}", status=WRONG_USE)
    if drawn.picture is None:
        if drawn.pages:
            say(f"{file.name}: no picture: it has no printed page, or one that cannot be drawn", err=True)
        return drawn.findings, drawn.tables, ""
    try:
        picture.write_bytes(drawn.picture)
    except OSError as error:
        raise TorquaryError(f"{picture} cannot be written ({error.strerror})", status=WRONG_USE) from None
    return drawn.findings, drawn.tables, f"{picture}: page {drawn.page} of {file.name}"


def _as_dict(table: Table) -> dict[str, Any]:
    box = table.box
    return {
        "page": table.page,
        "box": [box.x0, box.top, box.x1, box.bottom] if box else None,
        "cells": [
            {
                "row": cell.row,
                "column": cell.column,
                "row_span": cell.row_span,
                "column_span": cell.column_span,
                "text": cell.text,
            }
            for cell in table.cells
        ],
    }


def _write_lines(table: Table) -> list[str]:
    lines = [f"page {table.page}, table {table.number}: {table.rows} rows, {table.columns} columns ({table.means})"]
    for number in range(1, table.rows + 1):
        texts = [put_on_one_line(cell.text) for cell in table.cells if cell.row == number]
        lines.append("  " + " | ".join(texts))
    return lines
