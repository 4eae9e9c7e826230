"""How far a load is, on a terminal; and what Ctrl-C does to it."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from torquary_catalogue.show.visible import make_visible

if TYPE_CHECKING:
    from types import FrameType

    from torquary_catalogue.load import LoadedSheet


class Progress:
    """A progress bar on standard error, if `shown`; call it with each sheet done.

    It counts what this load did: sheets, pages read, figures in force, readings held, and guesses the time left.
    """

    def __init__(self, total: int, *, shown: bool) -> None:
        self.done = 0
        self.pages = 0
        self.figures = 0
        self.held = 0
        self._bar = _make_bar() if shown else None
        self._task = self._bar.add_task("", total=total, told=self.told) if self._bar else None

    @property
    def told(self) -> str:
        """What is counted beside the sheets."""
        return f"{self.pages} pages, {self.figures} figures, {self.held} held"

    def __enter__(self) -> Progress:
        if self._bar is not None:
            self._bar.start()
        return self

    def __exit__(self, *_: object) -> None:
        if self._bar is not None:
            self._bar.stop()

    def __call__(self, sheet: LoadedSheet) -> None:
        """Count a sheet that is done."""
        self.done += 1
        if sheet.outcome == "loaded":
            self.pages += sheet.pages
            self.figures += sheet.counts.released + sheet.counts.corrected
            self.held += sheet.counts.held
        if self._bar is not None:
            name = make_visible(sheet.file).replace("[", "\\[")
            self._bar.update(self._task, advance=1, description=name, told=self.told)


def _make_bar() -> Any:
    from rich import progress
    from rich.console import Console

    return progress.Progress(
        progress.BarColumn(),
        progress.MofNCompleteColumn(),
        progress.TextColumn("sheets, {task.fields[told]}"),
        progress.TimeRemainingColumn(compact=True),
        progress.TextColumn("left  {task.description}"),
        console=Console(stderr=True),
        transient=True,
    )


@contextmanager
def ended_by_ctrl_c() -> Iterator[None]:
    """Let Ctrl-C end the block with `KeyboardInterrupt`, whatever a library that it meets makes of it."""
    before = signal.getsignal(signal.SIGINT)
    if before != signal.default_int_handler or threading.current_thread() is not threading.main_thread():
        yield
        return
    pressed = False

    def stop(number: int, frame: FrameType | None) -> None:
        nonlocal pressed
        pressed = True
        raise KeyboardInterrupt

    signal.signal(signal.SIGINT, stop)
    try:
        yield
    except Exception:
        if pressed:
            raise KeyboardInterrupt from None
        raise
    finally:
        signal.signal(signal.SIGINT, before)
