"""A program that is killed in the middle of any step leaves the catalogue as it was before the step, or after it."""

from __future__ import annotations

import os
import random
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
from histories import DEEDS, History, Step, everything

from torquary_catalogue.store import Catalogue, open_catalogue

KILLS = int(os.environ.get("TORQUARY_KILLS", "12"))
"""Kills tried; 200 were, with none that did harm."""
STORY = (
    Step("load", 0), Step("decide", 2, 3), Step("load", 1), Step("decide", 0, 4), Step("correct", 1, 0),
    Step("undo", 1), Step("withdraw", 1), Step("load", 2), Step("restore", 1), Step("undo", 0), Step("answer", 1, 1),
    Step("add", 1),
)  # fmt: skip

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="a process is forked to be killed")


class Counting:
    """A connection that ends its process, as a kill does, at one of the statements given to it."""

    def __init__(self, connection: Any, last: int) -> None:
        self._connection = connection
        self._left = last

    def __getattr__(self, name: str) -> Any:
        return getattr(self._connection, name)

    def execute(self, *arguments: Any) -> Any:
        self._left -= 1
        if self._left == 0:
            os._exit(9)
        return self._connection.execute(*arguments)


def act(path: Path, step: Step, last: int = 0) -> int:
    """Do a step in the catalogue; return how many statements it took. `last` is the one at which it is killed."""
    with open_catalogue(path, writing=True) as catalogue:
        counted = Counting(catalogue.connection, last)
        catalogue.connection = counted  # type: ignore[assignment]
        history = History(catalogue)
        DEEDS[step.deed](history, step)
    return -counted._left


def kill(path: Path, step: Step, last: int) -> int:
    """Do a step in a process that is killed at statement `last`; return its exit status."""
    child = os.fork()
    if child == 0:
        try:
            act(path, step, last)
        finally:
            os._exit(0)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def read(path: Path) -> tuple[object, ...]:
    with open_catalogue(path) as catalogue:
        return untimed(catalogue)


def untimed(catalogue: Catalogue) -> tuple[object, ...]:
    """All that is in the catalogue but the times at which it came there."""
    times = re.compile(r"datetime\.datetime\([^)]*\)|\d{4}-\d\d-\d\d")
    return tuple(times.sub("", str(part)) for part in everything(catalogue))


@pytest.fixture(scope="module")
def story(tmp_path_factory: pytest.TempPathFactory) -> list[tuple[Path, Step, int, tuple[object, ...]]]:
    """For each step the catalogue before it, the number of its statements, and what is in the catalogue after it."""
    folder = tmp_path_factory.mktemp("story")
    path = folder / "0.duckdb"
    open_catalogue(path, writing=True).close()
    kept = []
    for number, step in enumerate(STORY, 1):
        after = folder / f"{number}.duckdb"
        shutil.copyfile(path, after)
        kept.append((path, step, act(after, step), read(after)))
        path = after
    return kept


def test_kills_lose_and_invent_nothing(story: list[tuple[Path, Step, int, tuple[object, ...]]]) -> None:
    chosen = random.Random(20261130)
    befores = {path: read(path) for path, *_ in story}
    killed = 0
    for number in range(KILLS):
        path, step, statements, after = story[number % len(story)]
        here = path.with_name("killed.duckdb")
        shutil.copyfile(path, here)
        killed += kill(here, step, chosen.randint(1, statements)) == 9
        assert read(here) == befores[path]
        if number < len(story):
            act(here, step)
            assert read(here) == after
    assert killed == KILLS
