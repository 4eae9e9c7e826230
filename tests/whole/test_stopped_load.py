"""How far a load is, as a terminal shows it, and what Ctrl-C leaves: the next load goes on from there."""

from __future__ import annotations

import csv
import json
import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from torquary_catalogue.command import main
from torquary_catalogue.command.progress import ended_by_ctrl_c

Run = Callable[..., subprocess.CompletedProcess[str]]
TORQUARY = str(Path(sys.executable).with_name("torquary"))

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="there are no pseudo-terminals")


@pytest.fixture(autouse=True)
def ctrl_c_is_heard() -> Iterator[None]:
    """Programs started in the background of a shell do not hear Ctrl-C, nor do theirs: these do."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


def make_sheets(folder: Path, count: int) -> Path:
    folder.mkdir()
    for number in range(count):
        rows = [f"T{row};{row};{row / 10 + number / 100:.2f}" for row in range(1, 7)]
        lines = (f"Main switch QX {number}", "", "Terminal;Conductor mm²;Torque N·m", *rows)
        (folder / f"sheet_{number:02}.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    return folder


def read_terminal(terminal: int, until: Callable[[str], bool]) -> str:
    """Return what a program shows on its terminal until that is seen, or until it lets the terminal go."""
    shown = ""
    while not until(shown):
        try:
            shown += os.read(terminal, 4096).decode("utf-8", "replace")
        except OSError:
            break
    return shown


def start(sheets: Path, catalogue: Path) -> tuple[subprocess.Popen[str], int]:
    """Start a load whose standard error is a terminal of 120 columns."""
    ours, theirs = os.openpty()
    process = subprocess.Popen(
        [TORQUARY, "load", str(sheets), "--catalogue", str(catalogue)],
        stdout=subprocess.PIPE,
        stderr=theirs,
        env={**os.environ, "TERM": "xterm", "COLUMNS": "120"},
        text=True,
        start_new_session=True,
    )
    os.close(theirs)
    return process, ours


def test_a_terminal_shows_sheets_pages_figures_held_and_the_time_left(tmp_path: Path) -> None:
    process, terminal = start(make_sheets(tmp_path / "sheets", 8), tmp_path / "c.duckdb")
    shown = re.sub(r"\x1b\[[0-9;?]*[A-Za-z]", "", read_terminal(terminal, lambda text: False))
    os.close(terminal)
    assert process.wait(timeout=60) == 0
    assert process.stdout is not None
    assert process.stdout.read().startswith("8 sheet(s): 8 loaded; settings read: 48 released, 0 held\n")
    process.stdout.close()
    assert "8/8 sheets, 8 pages, 48 figures, 0 held" in shown
    assert re.search(r"(--:--|\d+:\d\d) left  sheet_0\d\.csv", shown)


def test_nothing_is_shown_where_standard_error_is_no_terminal(torquary: Run, tmp_path: Path) -> None:
    done = torquary("load", make_sheets(tmp_path / "sheets", 2), "--catalogue", tmp_path / "c.duckdb")
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize("after", [0, 1, 9])
def test_ctrl_c_stops_with_one_line_and_the_next_load_goes_on(torquary: Run, tmp_path: Path, after: int) -> None:
    """Ctrl-C reaches every process of the terminal; `after`: so many sheets are done when it is pressed."""
    count = 60
    sheets, catalogue = make_sheets(tmp_path / "sheets", count), tmp_path / "c.duckdb"
    process, terminal = start(sheets, catalogue)
    read_terminal(terminal, lambda text: any(int(done) >= after for done in re.findall(rf"(\d+)/{count}", text)))
    os.killpg(process.pid, signal.SIGINT)
    shown = read_terminal(terminal, lambda text: False)
    os.close(terminal)
    assert process.wait(timeout=60) == 130
    assert process.stdout is not None
    assert process.stdout.read() == ""
    process.stdout.close()
    (line,) = (line for line in shown.splitlines() if "Stopped" in line)
    told = re.search(r"Stopped: (\d+) of 60 sheets are in the catalogue; the same command goes on from there", line)
    assert told
    assert "Traceback" not in shown
    kept = int(told[1])
    assert after <= kept <= count
    again = torquary("load", sheets, "--catalogue", catalogue, "--json")
    assert again.returncode == 0
    outcomes = [sheet["outcome"] for sheet in json.loads(again.stdout)["sheets"]]
    assert outcomes.count("unchanged") >= kept
    assert set(outcomes) <= {"unchanged", "loaded"}
    assert count_settings(torquary, catalogue) == {f"sheet_{number:02}.csv": 6 for number in range(count)}


def count_settings(torquary: Run, catalogue: Path) -> dict[str, int]:
    out = catalogue.with_suffix(".csv")
    assert torquary("export", out, "--catalogue", catalogue).returncode == 0
    with out.open(encoding="utf-8-sig", newline="") as file:
        files = [row["file"] for row in csv.DictReader(file)]
    return {file: files.count(file) for file in dict.fromkeys(files)}


def test_ctrl_c_within_a_write_is_ctrl_c() -> None:
    """DuckDB makes an error of its own of an interrupt that it meets; that is no damaged catalogue."""
    def press_within_a_library() -> None:
        try:
            os.kill(os.getpid(), signal.SIGINT)
            time.sleep(5)
        except KeyboardInterrupt:
            raise RuntimeError("Query interrupted") from None

    with pytest.raises(KeyboardInterrupt), ended_by_ctrl_c():
        press_within_a_library()
    with pytest.raises(ZeroDivisionError), ended_by_ctrl_c():
        raise ZeroDivisionError
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler


def test_ctrl_c_ends_any_other_command_with_the_same_status(monkeypatch: pytest.MonkeyPatch) -> None:
    def press(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("torquary_catalogue.store.open_catalogue", press)
    done = CliRunner().invoke(main, ["find", "mcb"])
    assert (done.exit_code, done.stdout, done.stderr) == (130, "", "Stopped.\n")
