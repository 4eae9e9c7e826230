"""Lets the tests of this folder share `sheets_by_hand`, and gives each an empty catalogue."""

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from torquary_catalogue.store import Catalogue, open_catalogue
from torquary_catalogue.store.words import refresh_words


@pytest.fixture
def catalogue(tmp_path: Path) -> Iterator[Catalogue]:
    with open_catalogue(tmp_path / "harbour.duckdb", writing=True) as opened:
        refresh_words(opened)
        yield opened
