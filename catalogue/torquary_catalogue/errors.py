"""Errors that end a command: one line for the person, and the exit status."""

from __future__ import annotations

NO_ANSWER = 1
WRONG_USE = 2
NO_CATALOGUE = 3
STOPPED = 130
"""Ctrl-C ended the command: 128 and the number of the signal, as shells have it."""


class TorquaryError(Exception):
    """The program cannot go on. `message` is one line: what, where, what to do; `status` the exit status."""

    def __init__(self, message: str, *, status: int = NO_CATALOGUE) -> None:
        super().__init__(message)
        self.message = message
        self.status = status
