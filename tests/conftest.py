"""For every test: generated examples may take their time, for a busy machine is no fault, and none that fails is lost.

The database of failures is a folder that git ignores, and a build server has none: what failed is therefore printed
with the line that repeats it (`@reproduce_failure`). Write it into the test as an `@example`.
"""

import multiprocessing.forkserver
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from torquary_ingest.worker import TO_READ, _prepare

settings.register_profile(
    "unhurried", deadline=None, print_blob=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("unhurried")


@pytest.fixture(scope="session", autouse=True)
def readers_imported() -> None:
    """Start the server of workers once with what reads every kind of file: a test begins with any of them."""
    kinds = (".pdf", ".csv", ".xlsx", ".html", ".png")
    if _prepare([Path(f"sheet{kind}") for kind in kinds], TO_READ).get_start_method() == "forkserver":
        multiprocessing.forkserver.ensure_running()
