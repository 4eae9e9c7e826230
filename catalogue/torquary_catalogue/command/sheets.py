"""The files that a command is given."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from torquary_catalogue.errors import WRONG_USE, TorquaryError


def collect_sheets(paths: Sequence[Path]) -> tuple[Path, ...]:
    """Return the datasheets that files and folders name; `TorquaryError` (status 2) if there are none."""
    from torquary_ingest.errors import NoSheets
    from torquary_ingest.folders import sheets_in

    try:
        return sheets_in(paths)
    except NoSheets as error:
        raise TorquaryError(str(error), status=WRONG_USE) from None
