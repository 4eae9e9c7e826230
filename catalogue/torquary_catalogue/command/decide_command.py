"""`torquary decide`: a person's word on a reading."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from torquary_catalogue.command.options import catalogue_option, json_option, print_json
from torquary_catalogue.errors import WRONG_USE, TorquaryError


@click.command("decide")
@click.argument("setting", metavar="ID")
@click.argument("verdict", metavar="accept|correct|reject")
@click.option("--torque", help="The right figure, with its unit, for correct: '2.5 Nm'.")
@click.option("--who", default="", help="Who decides. [default: the user of this computer]")
@click.option("--why", default="", help="The reason.")
@json_option
@catalogue_option
def command(setting: str, verdict: str, torque: str | None, who: str, why: str, as_json: bool, catalogue: Path) -> None:
    """Accept, correct or reject the reading ID (its beginning is enough; see torquary held)."""
    from torquary_catalogue.decide import decide
    from torquary_catalogue.decide.decision import VERDICTS
    from torquary_catalogue.show.figures import write_torque
    from torquary_catalogue.store import open_catalogue

    if setting in VERDICTS:
        setting, verdict = verdict, setting
    chosen = next((one for one in VERDICTS if one == verdict), None)
    if chosen is None:
        raise TorquaryError(f"{verdict!r} is no decision: write accept, correct or reject", status=WRONG_USE)
    if not catalogue.exists():
        # Deciding never makes a catalogue; reading says that it is missing.
        open_catalogue(catalogue)
    with open_catalogue(catalogue, writing=True) as opened:
        done = decide(opened, setting, chosen, who=who or _take_user(), why=why, torque=torque)
    if as_json:
        given: dict[str, Any] = dict(zip(("min_nm", "nominal_nm", "max_nm"), done.figures, strict=True))
        told = {"id": done.id, "file": done.file, "verdict": done.verdict, "before": done.before, "after": done.after}
        print_json(told | given)
    else:
        figure = write_torque(done.figures)
        click.echo(f"{done.id} ({done.file}): {done.before} → {done.after}{f', {figure}' if figure else ''}")


def _take_user() -> str:
    import getpass

    try:
        return getpass.getuser()
    except (KeyError, OSError):
        return ""
