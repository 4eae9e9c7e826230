"""`torquary decide`: a person's word on readings."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from torquary_catalogue.command.options import catalogue_option, json_option, take_user
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.show.visible import print_json, say

if TYPE_CHECKING:
    from torquary_catalogue.decide import Decided, Verdict, Wish


@click.command("decide")
@click.argument("setting", metavar="ID", required=False)
@click.argument("verdict", metavar="accept|correct|reject|reopen", required=False)
@click.option("--torque", help="The right figure, with its unit, for correct: '2.5 Nm'.")
@click.option("--device", help="The device as it is printed, for correct.")
@click.option("--terminal", help="The label of the terminal as it is printed, for correct.")
@click.option("--conductor", help="The conductor size with its unit, for correct: '1.5-6 mm2'.")
@click.option("--who", default="", help="Who decides. [default: the user of this computer]")
@click.option("--why", default="", help="The reason.")
@click.option(
    "--from",
    "file",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Carry out the decisions in FILE, all or none (see torquary held --pictures).",
)
@json_option
@catalogue_option
def command(
    setting: str | None,
    verdict: str | None,
    torque: str | None,
    device: str | None,
    terminal: str | None,
    conductor: str | None,
    who: str,
    why: str,
    file: Path | None,
    as_json: bool,
    catalogue: Path,
) -> None:
    """Accept, correct, reject or reopen the reading ID (its beginning is enough; see torquary held).

    What is not given for correct stays as read. A device or terminal that nothing printed names must be given.
    What is opened again waits for a decision as it did before.
    """
    from torquary_catalogue.decide import Wish, decide, read_decisions
    from torquary_catalogue.store import open_catalogue

    if file is None:
        reading, chosen = _take_verdict(setting, verdict)
        given = {"torque": torque, "device": device, "terminal": terminal, "conductor": conductor}
        wishes: Sequence[Wish] = [Wish(setting=reading, verdict=chosen, who=who or take_user(), why=why, **given)]
    elif any((setting, verdict, torque, device, terminal, conductor, who, why)):
        raise TorquaryError("--from FILE says all that is decided: leave out the rest", status=WRONG_USE)
    else:
        wishes = read_decisions(file)
    if not catalogue.exists():
        # Deciding never makes a catalogue; reading says that it is missing.
        open_catalogue(catalogue)
    with open_catalogue(catalogue, writing=True) as opened:
        done = decide(opened, wishes)
    if as_json:
        told = [as_dict(one) for one in done]
        print_json(told[0] if file is None else {"decided": told})
    else:
        say(*map(write_decided, done))


def _take_verdict(setting: str | None, verdict: str | None) -> tuple[str, Verdict]:
    """Return the reading and the verdict, whichever was written first."""
    from torquary_catalogue.decide import VERDICTS

    if setting in VERDICTS:
        setting, verdict = verdict, setting
    if not setting or not verdict:
        raise TorquaryError("name the reading and accept, correct, reject or reopen; or --from FILE", status=WRONG_USE)
    chosen = next((one for one in VERDICTS if one == verdict), None)
    if chosen is None:
        raise TorquaryError(f"{verdict!r} is no decision: write accept, correct, reject or reopen", status=WRONG_USE)
    return setting, chosen


def as_dict(done: Decided) -> dict[str, Any]:
    """Return what was decided for --json."""
    told = {"id": done.id, "file": done.file, "verdict": done.verdict, "before": done.before, "after": done.after}
    return told | dict(zip(("min_nm", "nominal_nm", "max_nm", "limit_nm"), done.figures, strict=True))


def write_decided(done: Decided) -> str:
    """Return what was decided in a line."""
    from torquary_catalogue.show.figures import write_figures

    figure = write_figures(done.figures)
    return f"{done.id} ({done.file}): {done.before} → {done.after}{f', {figure}' if figure else ''}"
