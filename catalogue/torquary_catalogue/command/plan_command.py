"""`torquary plan`: the order of work on a whole board."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path

import click

from torquary_catalogue.command.options import (
    catalogue_option,
    day_option,
    driver_option,
    json_option,
    paper_option,
    unit_option,
)
from torquary_catalogue.errors import NO_ANSWER
from torquary_catalogue.show.visible import print_json, say


@click.command("plan")
@click.argument("board_list", metavar="LIST", type=click.Path(path_type=Path))
@driver_option
@click.option(
    "-o",
    "--output",
    "targets",
    multiple=True,
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Write the plan to FILE, by its ending; may be given several times.",
)
@click.option(
    "--board", "only", metavar="NAME", help="Of a list that names several, this board alone."
)
@unit_option
@click.option(
    "--heading",
    "headings",
    multiple=True,
    metavar="HEADING=KEY",
    help="What a heading of the list means (none: not used); may be given several times. It is "
    "kept for lists with the same headings.",
)
@paper_option
@click.option(
    "--who", default="", help="Who does the work, for the paper. [default: to be filled in]"
)
@day_option("Day of the work")
@click.option(
    "--keep-inside",
    is_flag=True,
    help="Rather one setting more than a deviation that may leave a printed range.",
)
@json_option
@catalogue_option
def command(
    board_list: Path,
    drivers: tuple[Path, ...],
    targets: tuple[Path, ...],
    only: str | None,
    unit: str,
    headings: tuple[str, ...],
    paper: str,
    who: str,
    day: date,
    keep_inside: bool,
    as_json: bool,
    catalogue: Path,
) -> None:
    """Plan the work on the boards of LIST (CSV or workbook): fewest settings of the driver, then
    fewest bit changes.

    Terminals without a certain figure stand first and are never planned. With -o what is wrong is
    printed, and how many settings there are; the catalogue keeps which figures were written, for
    torquary recall. Exit status 1 if a terminal is not planned, or if a row of the list or a driver
    has a fault.
    """
    from torquary_catalogue.board.plan_files import Wish, check_targets, write_files
    from torquary_catalogue.board.plan_record import plans_to_dict
    from torquary_catalogue.board.plan_text import write_plan_head, write_plan_text
    from torquary_catalogue.command.board_options import (
        keep_plans,
        make_plans,
        read_drivers,
        read_list,
    )
    from torquary_catalogue.show.figures import read_unit
    from torquary_catalogue.store import open_catalogue

    check_targets(targets, (board_list, *drivers))
    shown_in, tools = read_unit(unit), read_drivers(drivers)
    listed = read_list(board_list, headings, catalogue)
    with open_catalogue(catalogue) as opened:
        made = make_plans(
            opened, listed, tools, unit=shown_in, today=day, only=only, keep_inside=keep_inside
        )
        plans = list(made)
    write_files(plans, targets, Wish(paper=paper, who=who))
    if targets:
        keep_plans(catalogue, plans)
    if as_json:
        print_json(plans_to_dict(plans))
    else:
        write = write_plan_head if targets else write_plan_text
        say(
            *(
                line
                for at, plan in enumerate(plans)
                for line in (*([""] if at else []), *write(plan))
            )
        )
    if targets and not as_json:
        say(*(f"written: {path}" for path in targets))
    sys.exit(0 if all(plan.is_whole for plan in plans) else NO_ANSWER)
