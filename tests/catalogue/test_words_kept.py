"""The words that people ask with are the same in every catalogue, whatever the order in which a set gives them."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

MAKE = """
import sys
from pathlib import Path
from torquary_catalogue.store import open_catalogue
from torquary_catalogue.store.words import refresh_words
with open_catalogue(Path(sys.argv[1]), writing=True) as catalogue:
    refresh_words(catalogue)
    print(catalogue.rows("SELECT words FROM catalogue_format"), catalogue.rows("FROM known_word ORDER BY ALL"))
"""


def test_the_words_kept_do_not_depend_on_the_hash_of_texts(tmp_path: Path) -> None:
    made = {
        subprocess.run(
            [sys.executable, "-c", MAKE, str(tmp_path / f"{seed}.duckdb")],
            env=os.environ | {"PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2", "3")
    }
    (told,) = made
    assert b"load_out" in told
