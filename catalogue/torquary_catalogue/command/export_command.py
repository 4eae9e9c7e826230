"""`torquary export`: the catalogue for other programs."""

from __future__ import annotations

from pathlib import Path

import click

from torquary_catalogue.command.keeping import keep_or_say
from torquary_catalogue.command.options import catalogue_option, json_option
from torquary_catalogue.show.visible import print_json, say


@click.command("export")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--format", "kind", type=click.Choice(["parquet", "csv", "jsonl"]), help="Default: by the ending.")
@click.option(
    "--no-formulas", is_flag=True, help="CSV only: an apostrophe before what a spreadsheet would take for a formula."
)
@json_option
@catalogue_option
def command(file: Path, kind: str | None, no_formulas: bool, as_json: bool, catalogue: Path) -> None:
    """Write the settings of all sheets that are in force to FILE (.parquet, .csv or .jsonl).

    Parquet and CSV show a figure for released settings only; JSON Lines holds whole records with their state.
    Texts stand as printed; a terminal may be marked + or −, which a spreadsheet takes for a formula (--no-formulas).
    The catalogue keeps which figures were written, for torquary recall.
    """
    from torquary_catalogue.export import export
    from torquary_catalogue.store import open_catalogue
    from torquary_catalogue.store.settings import read_released

    with open_catalogue(catalogue) as opened:
        count = export(opened, file, kind, no_formulas=no_formulas)
        figures = read_released(opened)
    given = {"what_for": file.name, "question": "", "answer": file.suffix.lstrip(".")}
    keep_or_say(catalogue, figures, str(file), kind="export", **given)
    if as_json:
        print_json({"file": str(file), "settings": count})
    else:
        say(f"{file}: {count} setting(s)")
