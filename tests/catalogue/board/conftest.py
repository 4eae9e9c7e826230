"""Lets the tests of this folder share `boards_by_hand`, and one catalogue for all that only ask it."""

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from boards_by_hand import harbour

from torquary_catalogue.store import Catalogue, open_catalogue
from torquary_catalogue.store.insert import load_report
from torquary_catalogue.store.words import refresh_words


@pytest.fixture(scope="session")
def harbour_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("harbour") / "harbour.duckdb"
    with open_catalogue(path, writing=True) as opened:
        refresh_words(opened)
        load_report(opened, harbour(), again=True, reader=1)
    return path


@pytest.fixture(scope="session")
def harbour_catalogue(harbour_file: Path) -> Iterator[Catalogue]:
    with open_catalogue(harbour_file) as opened:
        yield opened
