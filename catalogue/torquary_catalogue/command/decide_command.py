"""`torquary decide`: a person's word on readings."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from torquary_catalogue.command.options import catalogue_option, json_option, take_user, who_option, why_option
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.show.visible import print_json, put_on_one_line, say

if TYPE_CHECKING:
    from torquary_catalogue.decide import Answered, AnswerWish, Decided, Wish
    from torquary_catalogue.store import Catalogue


@click.command("decide")
@click.argument("setting", metavar="ID", required=False)
@click.argument("verdict", metavar="accept|correct|reject|reopen|answer", required=False)
@click.option("--torque", help="The right figure, with its unit, for correct: '2.5 Nm'.")
@click.option("--device", help="The device as it is printed, for correct and answer.")
@click.option("--terminal", help="The label of the terminal as it is printed, for correct and answer.")
@click.option("--conductor", help="The conductor size with its unit, for correct: '1.5-6 mm2'.")
@click.option("--drive", help="The driver bit with its size, for correct: 'PZ 2'.")
@click.option("--purpose", help="What the screw is for, for correct and answer: electrical_terminal, mounting, …")
@click.option("--condition", "conditions", multiple=True, help="A condition, a key such as copper_only, for correct.")
@click.option("--reach", help="For answer and reject: reading, row, column, list, section, sheet or maker. [list]")
@click.option("--device-from", metavar="HEADING", help="Each row prints its device under HEADING, for answer.")
@click.option("--terminal-from", metavar="HEADING", help="Each row prints its terminal under HEADING, for answer.")
@click.option("--unit", help="The unit that the torques are in, for answer: 'lbf·in'.")
@click.option("--size-unit", help="The unit that the conductor sizes are in, for answer: mm2, AWG or kcmil.")
@click.option("--tightening", is_flag=True, help="It is a tightening torque, for answer.")
@click.option("--no-torque", is_flag=True, help="None of these figures is a torque, for answer, of a column.")
@click.option(
    "--as-read", multiple=True, metavar="device|terminal|blank|condition", help="They are right as read, for answer."
)
@click.option(
    "--profile",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Keep in FILE, as a layout profile for the maker's next sheets, what an answer says of headings.",
)
@who_option
@why_option
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
    who: str,
    why: str,
    file: Path | None,
    profile: Path | None,
    as_json: bool,
    catalogue: Path,
    **given: Any,
) -> None:
    """Accept, correct, reject or reopen the reading ID (its beginning is enough; see torquary held), or answer.

    What is not given for correct stays as read. A device or terminal that nothing printed names must be given.
    What is opened again waits for a decision as it did before. An answer gives what no print proves to all readings
    in its --reach that lack it, and releases those that lacked nothing else.
    """
    from torquary_catalogue.decide import carry_out_file, decide
    from torquary_catalogue.decide.wishes import make_wish
    from torquary_catalogue.store import open_catalogue

    wish = None
    if file is None:
        reading, deed = _take_verdict(setting, verdict)
        wish = make_wish(deed, {**given, "setting": reading, "who": who or take_user(), "why": why})
    elif any((setting, verdict, who, why, profile, *given.values())):
        raise TorquaryError("--from FILE says all that is decided: leave out the rest", status=WRONG_USE)
    if not catalogue.exists():
        # Deciding never makes a catalogue; reading says that it is missing.
        open_catalogue(catalogue)
    with open_catalogue(catalogue, writing=True) as opened:
        done = decide(opened, [wish]) if wish else carry_out_file(opened, file or Path())
        if profile is not None:
            _keep_profile(opened, wish, done[0], profile)
    if as_json:
        told = [as_dict(one) for one in done]
        print_json(told[0] if file is None else {"decided": told})
    else:
        say(*(line for one in done for line in write_decided(one)))
        if profile is not None:
            say(f"For the maker's next sheets: torquary load --profile {profile}")


def _keep_profile(
    catalogue: Catalogue, wish: Wish | AnswerWish | None, done: Decided | Answered, profile: Path
) -> None:
    """Keep an answer as a profile; where that cannot be, nothing is answered."""
    from torquary_catalogue.decide import Answered, AnswerWish
    from torquary_catalogue.decide.kept_profile import check_kept, write_profile

    if not isinstance(wish, AnswerWish) or not isinstance(done, Answered):
        raise TorquaryError("--profile keeps an answer: leave it out", status=WRONG_USE)
    check_kept(wish.given)
    write_profile(catalogue, done, wish.given, profile)


def _take_verdict(setting: str | None, verdict: str | None) -> tuple[str, str]:
    """Return the reading and the verdict, whichever was written first."""
    from torquary_catalogue.decide.wishes import DEEDS

    if setting in DEEDS:
        setting, verdict = verdict, setting
    if not setting or not verdict:
        message = "name the reading and accept, correct, reject, reopen or answer; or --from FILE"
        raise TorquaryError(message, status=WRONG_USE)
    if verdict not in DEEDS:
        message = f"{verdict!r} is no decision: write accept, correct, reject, reopen or answer"
        raise TorquaryError(message, status=WRONG_USE)
    return setting, verdict


def as_dict(done: Decided | Answered) -> dict[str, Any]:
    """Return what was decided for --json."""
    from dataclasses import asdict

    from torquary_catalogue.decide import Answered

    if isinstance(done, Answered):
        return asdict(done) | {"verdict": "answer"}
    told = {"id": done.id, "file": done.file, "verdict": done.verdict, "before": done.before, "after": done.after}
    return told | dict(zip(("min_nm", "nominal_nm", "max_nm", "limit_nm"), done.figures, strict=True))


def write_decided(done: Decided | Answered) -> list[str]:
    """Return what was decided: in a line, of an answer with what it leaves held in lines behind it."""
    from torquary_catalogue.decide import Answered
    from torquary_catalogue.show.figures import write_figures

    if isinstance(done, Answered):
        return _write_answered(done)
    figure = write_figures(done.figures)
    return [f"{done.id} ({done.file}): {done.before} → {done.after}{f', {figure}' if figure else ''}"]


_MOST_HELD = 5
"""Readings that are named of those that an answer leaves held for one reason."""


def _write_answered(done: Answered) -> list[str]:
    counts = ((done.released, "released"), (done.rejected, "rejected"), (len(done.held), "held still"))
    told = ", ".join(f"{count} {what}" for count, what in counts if count)
    lines = [f"{done.file}: {done.readings} reading(s) answered: {told} (decision {done.number})"]
    for still in done.still:
        named = ", ".join(id_[:10] for id_ in still.ids[:_MOST_HELD]) + (", …" if len(still.ids) > _MOST_HELD else "")
        lines.append(f"    held still: {len(still.ids)} ({named}), for:")
        lines += [f"        {put_on_one_line(message)} [{code}]" for code, message in still.reasons]
    return lines
