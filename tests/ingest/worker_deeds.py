"""A task for workers that does what the file's name says; importable by name, as a task must be."""

from __future__ import annotations

import ctypes
import os
import time
from pathlib import Path

from torquary_ingest.errors import SheetRefused
from torquary_ingest.worker_line import ask_for_time


def act(path: Path) -> str:
    deed = path.stem
    if deed == "crash":
        ctypes.string_at(0)
    if deed == "leave":
        os._exit(7)
    if deed == "hang":
        time.sleep(60)
    if deed == "spin":
        while True:
            pass
    if deed == "swell":
        return str(len(bytearray(3 * 1024**3)))
    if deed == "err":
        raise ValueError("a bug\nover two lines")
    if deed == "refuse":
        raise SheetRefused("sheet_encrypted", "the file needs a password: give it")
    if deed == "ask":
        ask_for_time(60)
        time.sleep(2.5)
    if deed.startswith("mark"):
        path.touch()
    if deed == "slow":
        time.sleep(0.4)
    return f"{deed} {os.getpid()}"
