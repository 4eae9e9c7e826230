"""Chromium, spoken to over its debugging pipe: enough to open a page, look at it and press its keys."""

from __future__ import annotations

import base64
import json
import os
import shutil
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, BinaryIO

CHROMIUM = next((found for name in ("chromium", "chromium-browser") if (found := shutil.which(name))), None)
_OPTIONS = "--headless --no-sandbox --disable-gpu --no-first-run --disable-extensions --disable-background-networking"

_LOADED = "new Promise(done => document.readyState === 'complete' ? done(1) : addEventListener('load', () => done(1)))"


class Browser:
    """A page in a browser without a window. `run` returns what a JavaScript expression gives, as JSON."""

    def __init__(self, wish: BinaryIO, answer: BinaryIO) -> None:
        self._wish, self._answer = wish, answer
        self._count = 0
        self._events: list[str] = []
        self._session: str | None = None
        target = self.send("Target.createTarget", url="about:blank")["targetId"]
        self._session = self.send("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]

    def send(self, method: str, **params: Any) -> dict[str, Any]:
        """Ask for something of the protocol and return the answer."""
        self._count += 1
        wish = {"id": self._count, "method": method, "params": params}
        if self._session:
            wish["sessionId"] = self._session
        self._wish.write(json.dumps(wish).encode() + b"\0")
        self._wish.flush()
        while True:
            told = self._hear()
            if told.get("id") == self._count:
                assert "error" not in told, told
                return dict(told["result"])

    def _hear(self) -> dict[str, Any]:
        """Return the next thing that the browser says; events are noted as well."""
        told = dict(json.loads(self._read()))
        if "method" in told:
            self._events.append(told["method"])
        return told

    def _read(self) -> bytes:
        read = bytearray()
        while (sign := self._answer.read(1)) != b"\0":
            assert sign, "the browser ended"
            read += sign
        return bytes(read)

    def close(self) -> None:
        """End the browser."""
        self._session = None
        self.send("Browser.close")

    def open(self, page: Path, *, wide: int) -> None:
        """Open a page in a window so many pixels wide, and wait until it is there."""
        self.send("Emulation.setDeviceMetricsOverride", width=wide, height=900, deviceScaleFactor=1, mobile=False)
        self.send("Page.navigate", url=page.as_uri())
        self.run(_LOADED)

    def reload(self) -> None:
        """Load the page anew, and wait until it is there: while it goes, nothing can be asked of either page."""
        self.send("Page.enable")
        self._events.clear()
        self.send("Page.reload")
        while "Page.loadEventFired" not in self._events:
            self._hear()

    def reload_until(self, script: str, value: Any) -> None:
        """Load the page anew until an expression has the value: what a page keeps is written by another process, which
        may be slower than a reload.
        """
        end = time.monotonic() + 20
        while True:
            self.reload()
            found = self.run(script)
            if found == value:
                return
            assert time.monotonic() < end, f"{script} is {found!r} after a reload"
            time.sleep(0.1)

    def run(self, script: str) -> Any:
        """Return the value of an expression, of a promise what it holds."""
        told = self.send("Runtime.evaluate", expression=script, awaitPromise=True, returnByValue=True)
        assert "exceptionDetails" not in told, told
        return told["result"].get("value")

    def click(self, element: str) -> None:
        """Click with the mouse into the middle of the element that an expression gives."""
        x, y = self.run(
            f"(element => {{ element.scrollIntoView({{block: 'center'}}); const box = element.getBoundingClientRect(); "
            f"return [box.x + box.width / 2, box.y + box.height / 2]; }})({element})"
        )
        for kind in ("mousePressed", "mouseReleased"):
            self.send("Input.dispatchMouseEvent", type=kind, x=x, y=y, button="left", clickCount=1)

    def click_to_save(self, element: str, folder: Path) -> Path:
        """Click, and return the file that the page saves into a folder, which is made for it."""
        folder.mkdir()
        self.send("Page.setDownloadBehavior", behavior="allow", downloadPath=str(folder))
        self.click(element)
        end = time.monotonic() + 20
        while time.monotonic() < end:
            saved = next(folder.glob("*.json"), None)
            if saved is not None:
                return saved
            time.sleep(0.05)
        raise AssertionError(f"nothing was saved by {element}")

    def picture(self, path: Path) -> None:
        """Write what the window shows as a picture."""
        path.write_bytes(base64.b64decode(self.send("Page.captureScreenshot", format="png")["data"]))

    def press(self, key: str) -> None:
        """Press a key where the focus is."""
        text = {"text": key} if len(key) == 1 else {}
        self.send("Input.dispatchKeyEvent", type="keyDown", key=key, **text)
        self.send("Input.dispatchKeyEvent", type="keyUp", key=key)


@contextmanager
def start(folder: Path) -> Iterator[Browser]:
    """Start the browser with a profile of its own in a folder."""
    assert CHROMIUM is not None
    wish_read, wish_write = os.pipe()
    answer_read, answer_write = os.pipe()
    pipes = f"--remote-debugging-pipe 3<&{wish_read} 4>&{answer_write}"
    command = ["bash", "-c", f"exec {CHROMIUM} {_OPTIONS} --user-data-dir='{folder}' {pipes}"]
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    process = subprocess.Popen(command, pass_fds=(wish_read, answer_write), **quiet)
    os.close(wish_read)
    os.close(answer_write)
    try:
        with os.fdopen(wish_write, "wb") as wish, os.fdopen(answer_read, "rb") as answer:
            browser = Browser(wish, answer)
            yield browser
            browser.close()
    finally:
        process.kill()
        process.wait()
