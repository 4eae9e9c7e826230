"""Errors that mean "cannot go on" for a sheet or for the program."""

from __future__ import annotations


class SheetRefused(Exception):  # noqa: N818  (a fact, not a fault of ours)
    """A sheet cannot be read at all. `code` is a finding code, `message` one line: what, and what to do."""

    def __init__(self, code: str, message: str) -> None:
        super().__init__(message)
        self.code = code
        self.message = message
