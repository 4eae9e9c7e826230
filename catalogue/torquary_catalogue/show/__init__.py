"""Answers for a person to read: plain text, or large and in colour on a terminal, or JSON."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from torquary_catalogue.find import Answer


def show_answer(answer: Answer, unit: str = "newton_metre", *, every_row: bool = False) -> None:
    """Print an answer: large on a terminal, plain lines elsewhere. `unit` is a canonical name."""
    from torquary_catalogue.show.notice import write_notice

    notice = write_notice(answer, unit, every_row=every_row)
    if sys.stdout.isatty():
        from torquary_catalogue.show.terminal import print_notice

        print_notice(notice)
        return
    from torquary_catalogue.show.plain import write_plain
    from torquary_catalogue.show.visible import say

    say(*write_plain(notice))
