"""Work on all rows at once: sorted on the disk where it is much, so that it needs little memory."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.engine import duckdb
from torquary_catalogue.store.exported_folder import quote

_MOST = "300MB"


def in_little_memory(catalogue: Catalogue, folder: Path, work: Callable[[], int]) -> int:
    """Return what `work` does, which DuckDB does within its limit, with `folder` for what has no room.

    What cannot be done so is done anew with as much memory as it takes.
    """
    run = catalogue.connection.execute
    run(f"SET temp_directory = {quote(str(folder))}")
    run(f"SET memory_limit = '{_MOST}'")
    # What makes a question fast lets a join of all rows hold the wider side in memory.
    (unused,) = catalogue.rows("SELECT current_setting('disabled_optimizers') AS names")
    run("SET disabled_optimizers = ''")
    try:
        return work()
    except duckdb.OutOfMemoryException:
        run("RESET memory_limit")
        return work()
    finally:
        run("RESET memory_limit")
        run(f"SET disabled_optimizers = {quote(unused['names'])}")
