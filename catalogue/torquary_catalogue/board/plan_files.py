"""Plans written to files, by their endings; each is put in its place whole or not at all."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from torquary_catalogue.board.plan import Plan
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.whole_file import put_whole


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """How plans are to be written: the paper's size ("a4", "letter"), and who does the work ("": to
    fill in).
    """

    paper: str = "a4"
    who: str = ""


_Writer = Callable[[list[Plan], Wish], bytes]


def _write_json(plans: list[Plan], wish: Wish) -> bytes:
    from torquary_catalogue.board.plan_record import plans_to_dict
    from torquary_catalogue.show.visible import to_json

    return (to_json(plans_to_dict(plans)) + "\n").encode()


def _write_csv(plans: list[Plan], wish: Wish) -> bytes:
    from torquary_catalogue.board.plan_table import write_plan_table

    return write_plan_table(plans).encode("utf-8-sig")


def _write_text(plans: list[Plan], wish: Wish) -> bytes:
    from torquary_catalogue.board.plan_text import write_plan_text
    from torquary_catalogue.show.visible import make_visible

    return "".join(
        f"{make_visible(line)}\n" for plan in plans for line in (*write_plan_text(plan), "")
    ).encode()


def _write_pdf(plans: list[Plan], wish: Wish) -> bytes:
    from torquary_catalogue.board.paper import write_plan_paper

    return write_plan_paper(plans, size=wish.paper, who=wish.who)


def _write_page(plans: list[Plan], wish: Wish) -> bytes:
    from torquary_catalogue.board.page import write_page

    return write_page(plans, wish.who).encode()


KINDS: dict[str, _Writer] = {
    ".pdf": _write_pdf,
    ".html": _write_page,
    ".json": _write_json,
    ".csv": _write_csv,
    ".txt": _write_text,
}
"""Ending of a file → what writes plans as that kind."""


def check_targets(paths: Sequence[Path], read: Sequence[Path] = ()) -> None:
    """Refuse endings that nothing writes, and files that the plan is made from, before any work is
    done; `TorquaryError` (status 2).
    """
    for path in paths:
        if any(one.exists() and path.exists() and one.samefile(path) for one in read):
            raise TorquaryError(
                f"{path}: the plan is made from this file: name another one", status=WRONG_USE
            )
        if path.suffix.lower() not in KINDS:
            raise TorquaryError(
                f"{path}: a plan is written as {', '.join(KINDS)}: name a file so", status=WRONG_USE
            )


def write_files(plans: list[Plan], paths: Sequence[Path], wish: Wish) -> None:
    """Write plans to files; `TorquaryError` (status 2) for one that cannot be written."""
    for path in paths:
        put_whole(path, KINDS[path.suffix.lower()](plans, wish))
