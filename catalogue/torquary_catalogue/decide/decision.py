"""Decisions about settings. What was printed is never changed; what is released is."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal, TypeVar

from torquary_catalogue.decide.answer import Answered, AnswerWish, answer
from torquary_catalogue.decide.given import read_typed_names, read_typed_torque
from torquary_catalogue.decide.reading import find_reading
from torquary_catalogue.decimals import shorten
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.find.row import Figures
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.decisions import keep_decision, settle, take_back_to_read
from torquary_catalogue.store.disagreements import note_disagreements
from torquary_catalogue.store.follow import at_once
from torquary_catalogue.store.names_given import keep_names

Verdict = Literal["accept", "correct", "reject", "reopen"]
VERDICTS: tuple[Verdict, ...] = ("accept", "correct", "reject", "reopen")
_AFTER = {"accept": "released", "correct": "released", "reject": "rejected", "reopen": "held"}

FIGURES = ("min_nm", "nominal_nm", "max_nm", "limit_nm")
"""Columns of the figures of a setting, in the order of `Figures`."""


_W = TypeVar("_W")
_D = TypeVar("_D")


class WishWrong(TorquaryError):  # noqa: N818  (a fact, as in errors elsewhere)
    """One of several decisions cannot be carried out; `at` is its place among them, from 0."""

    def __init__(self, message: str, at: int) -> None:
        super().__init__(message, status=WRONG_USE)
        self.at = at


@dataclass(frozen=True, slots=True, kw_only=True)
class Decided:
    """A decision as written: setting id, its sheet's file, state before and after, figures released (N·m)."""

    id: str
    file: str
    verdict: Verdict | Literal["add"]
    before: str
    after: str
    figures: Figures


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What a person wants done with one reading.

    `setting` is its id or the beginning of it. For "correct" only, at least one of: `torque`, the right figure as
    typed ("2.5 Nm", "20-25 lb-in"), `device` and `terminal`, as printed, `conductor`, the size with its unit, `drive`,
    the driver bit ("PZ 2"), `purpose` and `conditions`, vocabulary keys; what is not given stays as it was.
    `printed`, if given, is the torque that the person saw beside the picture: another is
    no longer the reading that was decided about.
    """

    setting: str
    verdict: Verdict
    who: str
    why: str
    torque: str | None = None
    device: str | None = None
    terminal: str | None = None
    conductor: str | None = None
    drive: str | None = None
    purpose: str | None = None
    conditions: tuple[str, ...] | None = None
    printed: str | None = None

    @property
    def names(self) -> dict[str, Any]:
        """What is given beside the torque."""
        named = ("device", "terminal", "conductor", "drive", "purpose", "conditions")
        return {name: getattr(self, name) for name in named}


_Prepared = tuple[Wish, dict[str, Any], Figures, dict[str, Any]]


def decide(catalogue: Catalogue, wishes: Sequence[Wish | AnswerWish]) -> tuple[Decided | Answered, ...]:
    """Carry out decisions, all or none: their figures are released or withdrawn, and what was decided is kept.

    Answers for many readings are given first; what is decided about one reading goes before them. Raises
    `TorquaryError` (status 2) if a setting is not known or named twice, or a decision cannot be carried out; its
    `at` is the place of the wish at fault.
    """
    with at_once(catalogue):
        answers = _each(wishes, AnswerWish, lambda wish: answer(catalogue, wish))
        prepared = _each(wishes, Wish, lambda wish: (wish, *_prepare(catalogue, wish)))
        _check_once(prepared)
        sheets = tuple(dict.fromkeys(found["sheet"] for _, found, _, _ in prepared.values()))
        for sheet in sheets:
            take_back_to_read(catalogue, sheet)
        for one in prepared.values():
            _keep(catalogue, *one)
        for sheet in sheets:
            settle(catalogue, sheet)
        touched = {one.sheet for one in answers.values()}
        note_disagreements(catalogue, {*sheets, *touched})
    told: dict[int, Decided | Answered] = {**answers}
    told |= {at: _tell(catalogue, wish, found) for at, (wish, found, _, _) in prepared.items()}
    return tuple(told[at] for at in sorted(told))


def _each(wishes: Sequence[Any], kind: type[_W], do: Callable[[_W], _D]) -> dict[int, _D]:
    """Do something with each wish of a kind; return what came of it by the wish's place, which a fault names."""
    done: dict[int, _D] = {}
    for at, wish in enumerate(wishes):
        if isinstance(wish, kind):
            try:
                done[at] = do(wish)
            except TorquaryError as fault:
                raise WishWrong(str(fault), at) from None
    return done


def _check_once(prepared: Mapping[int, _Prepared]) -> None:
    named: set[tuple[str, str]] = set()
    for at, (_, found, _, _) in prepared.items():
        if (found["sheet"], found["id"]) in named:
            raise WishWrong(f"{found['id']} is decided twice: leave one", at)
        named.add((found["sheet"], found["id"]))


def _prepare(catalogue: Catalogue, wish: Wish) -> tuple[dict[str, Any], Figures, dict[str, Any]]:
    """Return the reading, the figures to release, and the columns of the device, terminal and conductor given."""
    if not wish.who.strip() or not wish.why.strip():
        raise TorquaryError(
            f"{wish.setting}: a decision needs who decides and why: give --who and --why", status=WRONG_USE
        )
    given = any(part is not None for part in (wish.torque, *wish.names.values()))
    if (wish.verdict == "correct") != given:
        raise TorquaryError(
            f"{wish.setting}: correct needs --torque, such as --torque '2.5 Nm', --device, --terminal, "
            "--conductor, --drive, --purpose or --condition; the others take none",
            status=WRONG_USE,
        )
    found = find_reading(catalogue, wish.setting)
    if wish.printed is not None and wish.printed != (found["torque_printed"] or ""):
        raise TorquaryError(
            f"{found['id']} was read anew since: it is {found['torque_printed'] or ''!r} now and was "
            f"{wish.printed!r}; look at it again",
            status=WRONG_USE,
        )
    if wish.verdict == "reopen" and found["state"] == "held":
        raise TorquaryError(f"{found['id']} waits for a decision already: see torquary held", status=WRONG_USE)
    _want_names(found, wish)
    names = read_typed_names(**wish.names)
    return found, _choose_figures(found, wish.verdict, wish.torque), names


def _want_names(found: dict[str, Any], wish: Wish) -> None:
    """Refuse to release a figure for a device or terminal that nothing printed names and nobody gives."""
    missing = {one["field"] for one in found["missing"]} if _AFTER[wish.verdict] == "released" else set()
    wanted = [name for name in ("device", "terminal") if name in missing and getattr(wish, name) is None]
    if wanted:
        options = " ".join(f"--{name} '…'" for name in wanted)
        raise TorquaryError(
            f"{found['id']}: nothing printed says which {' and '.join(wanted)} the figure is for: write "
            f"torquary decide {found['id']} correct {options}, as on the sheet, or reject it",
            status=WRONG_USE,
        )


def _keep(
    catalogue: Catalogue, wish: Wish, found: dict[str, Any], figures: Figures, names: dict[str, Any]
) -> None:
    """Keep a decision about a reading, which is as it was read."""
    said = {
        "verdict": wish.verdict,
        "who": wish.who.strip(),
        "why": wish.why.strip(),
        "torque_given": wish.torque,
        **dict(zip(FIGURES, figures, strict=True)),
        "state_before": found["state"],
    }
    before = tell_state(found["state"], found, read_figures(found))
    now = {name: names.get(name) or found[name] for name in ("device_printed", "terminal_printed", "conductor_printed")}
    after = tell_state(_AFTER[wish.verdict], now, figures)
    keep_decision(catalogue, found["sheet"], found["id"], said, before=before, after=after)
    if names:
        keep_names(catalogue, found["sheet"], found["id"], names)


def tell_state(state: str, names: Mapping[str, Any], figures: Figures) -> str:
    """Return the state of a setting in words, with its figure and what it is for."""
    from torquary_catalogue.show.figures import write_figures

    figure = write_figures(figures)
    parts = (names[name] for name in ("device_printed", "terminal_printed", "conductor_printed"))
    return f"{state}{f' {figure}' if figure else ''} for {', '.join(part for part in parts if part)}"


def _tell(catalogue: Catalogue, wish: Wish, found: dict[str, Any]) -> Decided:
    (now,) = catalogue.rows("SELECT * FROM setting WHERE sheet = ? AND id = ?", [found["sheet"], found["id"]])
    return Decided(
        id=found["id"], file=found["file"], verdict=wish.verdict, before=found["state"], after=now["state"],
        figures=read_figures(now),
    )  # fmt: skip


def read_figures(columns: Mapping[str, Any]) -> Figures:
    """Return the figures released that the columns of a setting hold."""
    low, nominal, high, limit = (shorten(columns[name]) for name in FIGURES)
    return low, nominal, high, limit


def _choose_figures(found: dict[str, Any], verdict: Verdict, torque: str | None) -> Figures:
    if verdict in ("reject", "reopen"):
        return None, None, None, None
    if torque is not None:
        return read_typed_torque(torque)
    low, nominal, high, limit = (shorten(found[f"read_{name}_nm"]) for name in ("min", "nominal", "max", "limit"))
    if low is nominal is high is limit is None:
        raise TorquaryError(
            f"{found['id']}: no figure could be read, so there is none to accept: "
            "correct it with --torque, or reject it",
            status=WRONG_USE,
        )
    return low, nominal, high, limit
