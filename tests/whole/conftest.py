"""Runs the command as its user does, in a folder of its own."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

COMMAND = shutil.which("torquary", path=str(Path(sys.executable).parent)) or "torquary"

Run = Callable[..., subprocess.CompletedProcess[str]]


@pytest.fixture
def torquary(tmp_path: Path) -> Run:
    """Run `torquary` with the arguments given, in an empty folder; no output may hold a traceback."""
    here = tmp_path / "here"
    here.mkdir()

    def run(*arguments: object, **extra: str) -> subprocess.CompletedProcess[str]:
        environment = {key: value for key, value in os.environ.items() if key != "TORQUARY_CATALOGUE"} | extra
        done = subprocess.run(
            [COMMAND, *map(str, arguments)],
            capture_output=True,
            text=True,
            encoding="utf-8",
            cwd=here,
            env=environment,
            timeout=240,
            stdin=subprocess.DEVNULL,
        )
        assert "Traceback" not in done.stderr + done.stdout, done.stderr + done.stdout
        return done

    return run
