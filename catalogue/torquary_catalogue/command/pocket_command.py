"""`torquary pocket`: the catalogue in one page for where there is no network."""

from __future__ import annotations

import sys
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import click

from torquary_catalogue.command.keeping import keep_or_say, list_figures
from torquary_catalogue.command.options import catalogue_option, day_option, driver_option, json_option, unit_option
from torquary_catalogue.errors import NO_ANSWER, WRONG_USE, TorquaryError
from torquary_catalogue.show.visible import print_json, say

GOOD_FOR = 90
"""Days that a page is good for unless another life is stated; a choice of ours: sheets change, and a page does not."""


@click.command("pocket")
@click.option(
    "-o", "--output", type=click.Path(path_type=Path, dir_okay=False), metavar="FILE.html", required=True,
    help="The page.",
)  # fmt: skip
@click.option("--sheet", "sheets", multiple=True, metavar="ID", help="Only this sheet (id or file name); repeatable.")
@click.option("--maker", "makers", multiple=True, help="Only this maker; repeatable.")
@click.option("--device", "devices", multiple=True, metavar="WORDS", help="Only devices with these words; repeatable.")
@click.option("--pictures", is_flag=True, help="Put the small picture of each printed row into the page.")
@click.option(
    "--good-for", type=click.IntRange(1, 3650), default=GOOD_FOR, show_default=True, metavar="DAYS",
    help="Days after which the page asks before it answers.",
)  # fmt: skip
@click.option(
    "--plan", "board_list", type=click.Path(path_type=Path), metavar="LIST",
    help="Put the work plan of this board list (see torquary plan) into the page.",
)  # fmt: skip
@driver_option
@click.option("--who", default="", help="Who does the work of the plan. [default: to be filled in]")
@day_option("Day of the work of the plan")
@unit_option
@json_option
@catalogue_option
def command(
    output: Path,
    sheets: tuple[str, ...],
    makers: tuple[str, ...],
    devices: tuple[str, ...],
    pictures: bool,
    good_for: int,
    board_list: Path | None,
    drivers: tuple[Path, ...],
    who: str,
    day: date,
    unit: str,
    as_json: bool,
    catalogue: Path,
) -> None:
    """Write the released settings as one page that opens without a network and answers as torquary find does.

    A held reading is named with sheet and page, and its figure is not in the page. The catalogue keeps which figures
    the page has, for torquary recall. Of a plan in it the page has what torquary plan -o FILE.html writes; what is
    wrong with the plan is printed, and gives exit status 1.
    """
    from torquary_catalogue.board.page import write_part
    from torquary_catalogue.board.plan_text import write_plan_head
    from torquary_catalogue.command.board_options import keep_plans, plan_for_page
    from torquary_catalogue.decide.sheet_decision import find_sheet
    from torquary_catalogue.find.remarks import count_of
    from torquary_catalogue.pocket import choose, write_pocket
    from torquary_catalogue.show.figures import read_unit
    from torquary_catalogue.store import open_catalogue
    from torquary_catalogue.whole_file import put_whole

    if output.suffix.lower() not in (".html", ".htm"):
        raise TorquaryError(f"{output}: a page is written as HTML: name a file that ends in .html", status=WRONG_USE)
    if drivers and board_list is None:
        raise TorquaryError("--driver is for a plan: say of which list with --plan LIST", status=WRONG_USE)
    shown_in = read_unit(unit)
    with open_catalogue(catalogue) as opened:
        digests = [find_sheet(opened, named)["digest"] for named in sheets]
        chosen = choose(opened, digests, makers, devices)
        made_on = datetime.now(UTC).date()
        plans = plan_for_page(opened, board_list, drivers, catalogue, unit=shown_in, today=day) if board_list else []
        part = write_part(plans, who) if plans else None
        wishes: dict[str, Any] = {"good_for": good_for, "unit": shown_in, "pictures": pictures, "plan": part}
        page = write_pocket(opened, chosen, made_on=made_on, **wishes)
    put_whole(output, page.text.encode())
    given = {"what_for": output.name, "question": chosen.said, "answer": f"good for {count_of(good_for, 'day')}"}
    keep_or_say(catalogue, list_figures(chosen.rows), str(output), kind="pocket", **given)
    told: dict[str, Any] = {"file": str(output), "released": page.released, "held": page.held}
    told |= {"pictures": page.pictures, "bytes": len(page.text.encode()), "good_for": good_for}
    told |= {"boards": [plan.board for plan in plans]}
    keep_plans(catalogue, plans)
    if as_json:
        print_json(told)
    else:
        say(*(line for plan in plans for line in (*write_plan_head(plan), "")))
        settings = f"{count_of(page.released, 'setting')} and {count_of(page.held, 'held reading')}"
        say(f"{output}: {settings}, good for {count_of(good_for, 'day')}")
    sys.exit(0 if all(plan.is_whole for plan in plans) else NO_ANSWER)
