"""Lets the tests of this folder share `sheets_by_hand`, and gives each an empty catalogue.

Making one takes half a second, nearly all of it comments and words. It is therefore made once by each process that
runs tests, and what is new afterwards is a copy of it; `whole` makes its catalogues as users do.
"""

import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from torquary_catalogue.store import Catalogue, connection, open_catalogue
from torquary_catalogue.store.words import refresh_words


@pytest.fixture(scope="session", autouse=True)
def empty_catalogue(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Let new catalogues be copies of one that is made now."""
    empty = tmp_path_factory.mktemp("empty") / "empty.duckdb"
    with open_catalogue(empty, writing=True) as opened:
        refresh_words(opened)

    def copy_tables(catalogue: Catalogue) -> None:
        run = catalogue.connection.execute
        (path,) = run("SELECT path FROM duckdb_databases() WHERE database_name = 'catalogue'").fetchone() or ()
        run("USE memory")
        run("DETACH catalogue")
        shutil.copyfile(empty, path)
        run(f"ATTACH '{path}' AS catalogue")
        run("USE catalogue")

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(connection, "make_tables", copy_tables)
        yield empty


@pytest.fixture
def catalogue(tmp_path: Path) -> Iterator[Catalogue]:
    with open_catalogue(tmp_path / "harbour.duckdb", writing=True) as opened:
        refresh_words(opened)
        yield opened
