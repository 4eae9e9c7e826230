"""`torquary pocket`: the catalogue in one page for where there is no network."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import click

from torquary_catalogue.command.keeping import keep_or_say, list_figures
from torquary_catalogue.command.options import catalogue_option, json_option
from torquary_catalogue.errors import WRONG_USE, TorquaryError
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
@click.option("--unit", default="Nm", show_default=True, help="Unit to show: Nm, cNm, lb-in, lb-ft or kgf-cm.")
@json_option
@catalogue_option
def command(
    output: Path,
    sheets: tuple[str, ...],
    makers: tuple[str, ...],
    devices: tuple[str, ...],
    pictures: bool,
    good_for: int,
    unit: str,
    as_json: bool,
    catalogue: Path,
) -> None:
    """Write the released settings as one page that opens without a network and answers as torquary find does.

    A held reading is named with sheet and page, and its figure is not in the page. The catalogue keeps which figures
    the page has, for torquary recall.
    """
    from torquary_catalogue.decide.sheet_decision import find_sheet
    from torquary_catalogue.find.remarks import count_of
    from torquary_catalogue.pocket import choose, write_pocket
    from torquary_catalogue.show.figures import read_unit
    from torquary_catalogue.store import open_catalogue
    from torquary_catalogue.whole_file import put_whole

    if output.suffix.lower() not in (".html", ".htm"):
        raise TorquaryError(f"{output}: a page is written as HTML: name a file that ends in .html", status=WRONG_USE)
    shown_in = read_unit(unit)
    with open_catalogue(catalogue) as opened:
        digests = [find_sheet(opened, named)["digest"] for named in sheets]
        chosen = choose(opened, digests, makers, devices)
        made_on = datetime.now(UTC).date()
        page = write_pocket(opened, chosen, made_on=made_on, good_for=good_for, unit=shown_in, pictures=pictures)
    put_whole(output, page.text.encode())
    given = {"what_for": output.name, "question": chosen.said, "answer": f"good for {count_of(good_for, 'day')}"}
    keep_or_say(catalogue, list_figures(chosen.rows), str(output), kind="pocket", **given)
    told: dict[str, Any] = {"file": str(output), "released": page.released, "held": page.held}
    told |= {"pictures": page.pictures, "bytes": len(page.text.encode()), "good_for": good_for}
    if as_json:
        print_json(told)
    else:
        settings = f"{count_of(page.released, 'setting')} and {count_of(page.held, 'held reading')}"
        say(f"{output}: {settings}, good for {count_of(good_for, 'day')}")
