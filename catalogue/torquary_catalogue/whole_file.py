"""Files that are written whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

from torquary_catalogue.errors import WRONG_USE, TorquaryError


def put_whole(path: Path, content: bytes) -> None:
    """Put a file in its place whole: what was there before stays where it cannot be written.

    Raises `TorquaryError` (status 2) where it cannot.
    """
    half = path.with_name(f".{path.name}.half")
    try:
        half.write_bytes(content)
        os.replace(half, path)
    except OSError as error:
        half.unlink(missing_ok=True)
        raise TorquaryError(f"{path} cannot be written ({error.strerror or error})", status=WRONG_USE) from None
