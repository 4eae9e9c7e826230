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


@click.command("tables")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--pictures", is_flag=True, help="Look into pictures beside live text too, at some seconds each.")
@password_option
@json_option
def command(file: Path, pictures: bool, password: str, as_json: bool) -> None:
    """Show the tables that are seen on all pages of FILE, cell by cell."""
    from torquary_ingest.reader import read_tables

    if not file.is_file():
        raise TorquaryError(f"{file}: there is no such file: check the name", status=WRONG_USE)
    findings, tables = read_tables(file, every_page=True, password=password, pictures=pictures, cells_only=True)
    if as_json:
        print_json({"tables": [_as_dict(table) for table in tables]})
    else:
        for table in tables:
            say(*_write_lines(table))
        if not tables:
            say(f"{file.name}: no table is seen")
    for finding in findings:
        say(f"{file.name}: {finding.message} [{finding.code}]", err=True)
    sys.exit(0 if tables else NO_ANSWER)


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
