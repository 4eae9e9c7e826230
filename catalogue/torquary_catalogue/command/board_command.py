"""`torquary board`: lists of boards, and the record of the work on them."""

from __future__ import annotations

from pathlib import Path

import click

from torquary_catalogue.command.board_record_commands import history, mark, take
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.show.visible import say
from torquary_schema.file_kinds import has_ending

_DRIVER = """{
 "torquary_driver": 1,
 "driver": "the number engraved on it",
 "type": "II",
 "class": "D",
 "scales": [
  {"unit": "Nm", "lowest": 1.0, "highest": 5.0, "mark_every": 0.2}
 ],
 "deviation_percent": 6,
 "calibrated": "2026-03-01",
 "certificate": "",
 "interval_months": 12,
 "interval_cycles": 5000,
 "cycles": 0,
 "bits": ["PZ2", "slot 1x5.5"]
}
"""


@click.group("board")
def command() -> None:
    """Write an empty board list, and keep the record of the work on a board."""


@command.command("new")
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@click.option(
    "--driver",
    is_flag=True,
    help="Write the description of a driver to fill in (FILE.json) instead.",
)
def new(file: Path, driver: bool) -> None:
    """Write an empty list to fill in: FILE.csv with the columns explained, or FILE.xlsx with
    drop-downs as well.
    """
    from torquary_catalogue.board.new_list import write_new_text, write_new_workbook

    if file.exists():
        raise TorquaryError(f"{file} is there already: name another file", status=WRONG_USE)
    kinds = (
        {".json": lambda path: path.write_text(_DRIVER, "utf-8")}
        if driver
        else {".csv": write_new_text, ".xlsx": write_new_workbook}
    )
    write = next(
        (write for ending, write in kinds.items() if has_ending(file.name, (ending,))), None
    )
    if write is None:
        raise TorquaryError(
            f"{file}: name a file that ends in {' or '.join(kinds)}", status=WRONG_USE
        )
    try:
        write(file)
    except OSError as error:
        raise TorquaryError(
            f"{file} cannot be written ({error.strerror})", status=WRONG_USE
        ) from None
    then = f"fill it in, then: torquary plan LIST --driver {file}"
    say(
        f"{file}: {then if driver else f'fill in a row for each terminal, then: torquary plan {file}'}"
    )


for one in (take, mark, history):
    command.add_command(one)
