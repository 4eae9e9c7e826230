"""Errors that mean "cannot go on" for a sheet or for the program."""

from __future__ import annotations


class SheetRefused(Exception):  # noqa: N818  (a fact, not a fault of ours)
    """A sheet cannot be read at all. `code` is a finding code, `message` one line: what, and what to do."""

    def __init__(self, code: str, message: str) -> None:
        super().__init__(message)
        self.code = code
        self.message = message

    def __reduce__(self) -> tuple[type[SheetRefused], tuple[str, str]]:
        """Let the refusal travel from a worker process whole."""
        return SheetRefused, (self.code, self.message)


class NoSheets(Exception):  # noqa: N818  (a fact, not a fault of ours)
    """The paths given hold no datasheet. `message` is one line: what, where, what to do."""

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message


class ClusterUnusable(Exception):  # noqa: N818  (a fact, not a fault of ours)
    """The cluster that is to read sheets cannot, or is lost. `message` is one line: what, where, what to do."""

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message
