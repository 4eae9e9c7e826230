"""Each file in a process of its own: a hostile one costs that file only."""

from __future__ import annotations

import importlib
import multiprocessing
import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from torquary_ingest import worker
from torquary_ingest.errors import SheetRefused
from torquary_ingest.limits import Limits
from torquary_ingest.worker import run_apart

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE))
act: Callable[[Path], str] = importlib.import_module("worker_deeds").act
sys.path.remove(str(HERE))


@pytest.fixture(autouse=True)
def _deeds_can_be_imported(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(str(HERE))


def run(names: str, **limits: float) -> list[str]:
    wished = Limits(**{"seconds": 30, "memory_bytes": 512 * 1024**2} | limits)  # type: ignore[arg-type]
    answers = run_apart(act, [Path(name) for name in names.split()], limits=wished, jobs=2)
    return [one.code if isinstance(one, SheetRefused) else one.split()[0] for one in answers]


def test_answers_come_in_the_order_of_the_paths() -> None:
    assert run("slow ok last") == ["slow", "ok", "last"]


def test_each_file_has_a_process_of_its_own() -> None:
    answers = [one for one in run_apart(act, [Path("a"), Path("b")]) if isinstance(one, str)]
    processes = {one.split()[1] for one in answers}
    assert len(processes) == 2
    assert str(os.getpid()) not in processes


def test_a_process_that_dies_is_named_and_the_next_file_goes_on() -> None:
    assert run("crash leave ok") == ["sheet_crashed", "sheet_crashed", "ok"]


def test_a_bug_in_a_worker_is_one_line_that_names_it() -> None:
    [answer] = run_apart(act, [Path("err")])
    assert isinstance(answer, SheetRefused)
    assert answer.code == "sheet_crashed"
    assert "ValueError: a bug over two lines" in answer.message


def test_a_worker_may_ask_for_time_for_pictures(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(worker, "SECONDS", 2)
    monkeypatch.setattr("torquary_ingest.limits._PATIENCE", 1)
    assert run("ask", seconds=2) == ["ask"]


def test_a_limit_below_the_usual_one_stands_whatever_is_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("torquary_ingest.limits._PATIENCE", 1)
    assert run("ask", seconds=1) == ["sheet_too_slow"]


def test_a_file_that_takes_too_long_is_stopped() -> None:
    # It would sleep for a minute and then answer.
    assert run("hang ok", seconds=1) == ["sheet_too_slow", "ok"]


@pytest.mark.skipif(sys.platform == "win32", reason="there the clock alone guards")
def test_a_file_that_takes_too_much_processor_time_is_stopped(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("torquary_ingest.limits._PATIENCE", 60)
    [answer] = run_apart(act, [Path("spin")], limits=Limits(seconds=1))
    assert isinstance(answer, SheetRefused)
    assert (answer.code, "longer than 1 s" in answer.message) == ("sheet_too_slow", True)


@pytest.mark.skipif(sys.platform != "linux", reason="other systems have no dependable memory limit")
def test_a_file_that_needs_too_much_memory_is_stopped() -> None:
    assert run("swell ok") == ["sheet_too_large", "ok"]


def test_a_refusal_travels_whole() -> None:
    [answer] = run_apart(act, [Path("refuse")])
    assert isinstance(answer, SheetRefused)
    assert (answer.code, answer.message) == ("sheet_encrypted", "the file needs a password: give it")


def test_calling_off_ends_the_workers_under_way() -> None:
    answers = run_apart(act, [Path("ok"), Path("hang"), Path("hang")], jobs=2)
    started = time.monotonic()
    assert isinstance(next(answers), str)
    answers.close()  # type: ignore[attr-defined]
    assert time.monotonic() - started < 20
    assert multiprocessing.active_children() == []


def test_a_script_without_a_main_guard_can_read_sheets(tmp_path: Path) -> None:
    script = tmp_path / "plain.py"
    script.write_text(
        f"import sys; sys.path.insert(0, {str(Path(__file__).parent)!r})\n"
        "from pathlib import Path\n"
        "from worker_deeds import act\n"
        "from torquary_ingest.worker import run_apart\n"
        "print([type(one).__name__ for one in run_apart(act, [Path('ok')])])\n"
    )
    done = subprocess.run([sys.executable, str(script)], capture_output=True, text=True, timeout=60)
    assert (done.stdout.strip(), done.returncode) == ("['str']", 0), done.stderr


def test_reading_goes_on_while_the_caller_does_something_with_an_answer(tmp_path: Path) -> None:
    marks = [tmp_path / f"mark {name}" for name in "abc"]
    answers = run_apart(act, marks, jobs=1)
    next(answers)
    end = time.monotonic() + 60
    while not all(mark.exists() for mark in marks) and time.monotonic() < end:
        time.sleep(0.05)
    assert all(mark.exists() for mark in marks)
    assert [str(one).split()[:2] for one in answers] == [["mark", "b"], ["mark", "c"]]


def test_what_nobody_wants_any_more_is_not_read(tmp_path: Path) -> None:
    marks = [tmp_path / f"mark {number}" for number in range(500)]
    answers = run_apart(act, marks, jobs=1)
    next(answers)
    del answers
    read = sum(mark.exists() for mark in marks)
    time.sleep(1)
    assert sum(mark.exists() for mark in marks) == read < len(marks)
