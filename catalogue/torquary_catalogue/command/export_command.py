"""`torquary export`: the catalogue for other programs."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from torquary_catalogue.command.keeping import keep_or_say
from torquary_catalogue.command.options import catalogue_option, json_option
from torquary_catalogue.show.visible import print_json, say

if TYPE_CHECKING:
    from torquary_catalogue.export import Part


@click.command("export")
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option("--format", "kind", type=click.Choice(["parquet", "csv", "jsonl"]), help="Default: by the ending.")
@click.option(
    "--no-formulas", is_flag=True, help="CSV only: an apostrophe before what a spreadsheet would take for a formula."
)
@click.option("--to", "folder", type=click.Path(path_type=Path), metavar="DIR", help="Write a folder of Parquet files.")
@click.option(
    "--partition",
    "parts",
    type=click.Choice(["maker", "family", "state"]),
    multiple=True,
    help="With --to: a folder for each maker, family or state; may be given several times. Default: maker.",
)
@json_option
@catalogue_option
def command(
    file: Path | None,
    kind: str | None,
    no_formulas: bool,
    folder: Path | None,
    parts: tuple[Part, ...],
    as_json: bool,
    catalogue: Path,
) -> None:
    """Write the settings of all sheets that are in force to FILE (.parquet, .csv or .jsonl), or to a folder.

    Parquet and CSV show a figure for released settings only; JSON Lines holds whole records with their state.
    Texts stand as printed; a terminal may be marked + or −, which a spreadsheet takes for a formula (--no-formulas).
    The catalogue keeps which figures were written, for torquary recall.
    """
    from torquary_catalogue.export import export, export_parted
    from torquary_catalogue.store import open_catalogue
    from torquary_catalogue.store.settings import read_released

    target = _choose_target(file, folder, parts, for_files=bool(kind or no_formulas))
    with open_catalogue(catalogue) as opened:
        if folder:
            count = export_parted(opened, folder, tuple(dict.fromkeys(parts)) or ("maker",))
        else:
            count = export(opened, target, kind, no_formulas=no_formulas)
        figures = read_released(opened)
    given = {"what_for": target.name, "question": "", "answer": "parquet" if folder else target.suffix.lstrip(".")}
    keep_or_say(catalogue, figures, str(target), kind="export", **given)
    if as_json:
        print_json({"file": str(target), "settings": count})
    else:
        say(f"{target}: {count} setting(s)")


def _choose_target(file: Path | None, folder: Path | None, parts: tuple[Part, ...], *, for_files: bool) -> Path:
    """Return where to write; a usage error where options do not go together."""
    if file and folder:
        raise click.UsageError("name a FILE, or a folder with --to, not both")
    if folder and for_files:
        raise click.UsageError("--format and --no-formulas are for a FILE: a folder is always Parquet")
    if parts and not folder:
        raise click.UsageError("--partition is for a folder: name one with --to DIR")
    target = file or folder
    if target is None:
        raise click.UsageError("name a FILE to write, or a folder with --to DIR")
    return target
