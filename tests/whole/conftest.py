"""Runs the command as its user does, in a folder of its own.

It runs in this process: a Python started for each command, and in it the readers, took most of the time of these
tests. That the installed command starts is seen by `test_docs.py`, the killed loads and the readers beside writers.
"""

from __future__ import annotations

import subprocess
from collections.abc import Callable
from contextlib import chdir
from pathlib import Path

import pytest
from click.testing import CliRunner

from torquary_catalogue.command import main

Run = Callable[..., subprocess.CompletedProcess[str]]


@pytest.fixture
def torquary(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run `torquary` with the arguments given, in an empty folder; a bug raises, no output may hold a traceback."""
    here = tmp_path / "here"
    here.mkdir()
    monkeypatch.delenv("TORQUARY_CATALOGUE", raising=False)

    def run(*arguments: object, **extra: str) -> subprocess.CompletedProcess[str]:
        words = [*map(str, arguments)]
        with chdir(here):
            done = CliRunner(env=extra).invoke(main, words, catch_exceptions=False, prog_name="torquary")
        assert "Traceback" not in done.stderr + done.stdout, done.stderr + done.stdout
        return subprocess.CompletedProcess(["torquary", *words], done.exit_code, done.stdout, done.stderr)

    return run
