"""`torquary load --cluster`: the workers of a Dask cluster read, and the rows are those of one process."""

from __future__ import annotations

import os
import random
import signal
import sys
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from loads_to_kill import KILLS, ClusterLoad, try_kills, write_sheets

from torquary_catalogue.command import main
from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.load import LoadedSheet, load_sheets
from torquary_catalogue.store import open_catalogue

distributed = pytest.importorskip("distributed", reason="the extra “cluster” is not installed")

pytestmark = [
    pytest.mark.skipif(sys.platform == "win32", reason="there is no SIGKILL"),
    # Dask's own: sockets of a killed worker are left to the collector.
    pytest.mark.filterwarnings("ignore"),
]
SAMPLES = Path(__file__).parents[2] / "sample_sheets"


@pytest.fixture(scope="module")
def cluster() -> Iterator[Any]:
    """Two workers on this machine, as `dask worker` starts them: under a nurse that replaces one that is lost."""
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None, host="127.0.0.1"
    ) as made:
        yield made


def read_rows(catalogue: Path) -> list[dict[str, Any]]:
    with open_catalogue(catalogue) as opened:
        rows = opened.rows("SELECT * FROM setting ORDER BY sheet, number")
        rows += opened.rows("SELECT * FROM finding ORDER BY sheet, setting, number")
        rows += opened.rows("SELECT * FROM picture ORDER BY sheet, setting")
        return rows + opened.rows("SELECT * EXCLUDE (loaded_at) FROM sheet ORDER BY number")


def test_the_rows_are_those_of_one_process(cluster: Any, tmp_path: Path) -> None:
    """PDF files, a scan's picture, delimited text, one that is empty and one that nobody reads, in one order."""
    refused = [tmp_path / "empty.csv", tmp_path / "letter.pdf"]
    refused[0].write_bytes(b"")
    refused[1].write_bytes(b"%PDF-1.7 and no more")
    names = ("hobbletarn_mcb_ed4.pdf", "orvantzel_spd.pdf", "pelquorre_interrupteur.pdf", "explained/quillhaven.csv")
    sheets = [*(SAMPLES / name for name in names), *refused, *write_sheets(tmp_path / "more", 6)]
    here = load_sheets(tmp_path / "here.duckdb", sheets)
    there = load_sheets(tmp_path / "there.duckdb", sheets, cluster=cluster.scheduler_address)
    assert [(one.file, one.outcome, one.counts) for one in here.sheets] == [
        (one.file, one.outcome, one.counts) for one in there.sheets
    ]
    assert {one.outcome for one in there.sheets} == {"loaded", "refused"}
    assert read_rows(tmp_path / "here.duckdb") == read_rows(tmp_path / "there.duckdb")


def test_a_worker_lost_in_the_middle_costs_only_time(cluster: Any, tmp_path: Path) -> None:
    sheets = write_sheets(tmp_path / "sheets", 24)
    done: list[str] = []

    def kill_one(sheet: LoadedSheet) -> None:
        done.append(sheet.file)
        if len(done) == 5:
            with distributed.Client(cluster.scheduler_address, set_as_default=False) as client:
                (first, *_) = client.run(os.getpid).values()
            os.kill(first, signal.SIGKILL)

    load_sheets(tmp_path / "there.duckdb", sheets, cluster=cluster.scheduler_address, step=kill_one)
    assert len(done) == len(sheets)
    load_sheets(tmp_path / "here.duckdb", sheets)
    assert read_rows(tmp_path / "here.duckdb") == read_rows(tmp_path / "there.duckdb")


def test_loads_killed_while_workers_die_leave_whole_sheets_only(cluster: Any, tmp_path: Path) -> None:
    chosen = random.Random(20261202)

    class ThisLoad(ClusterLoad):
        address = cluster.scheduler_address

    def kill_a_worker() -> int:
        """A worker that is still starting is let alone: its nurse gives up where that one dies."""
        working = [nurse.pid for nurse in cluster.workers.values() if nurse.process.status.name == "running"]
        if chosen.random() < 0.99 or not working:
            return 0
        with suppress(ProcessLookupError):
            os.kill(chosen.choice(working), signal.SIGKILL)
        return 1

    assert try_kills(tmp_path, write_sheets(tmp_path / "sheets", 12), KILLS, ThisLoad, kill_a_worker)


def test_a_worker_that_does_not_see_the_file_is_sent_it(cluster: Any, tmp_path: Path) -> None:
    """What it sees under this path is another content, as a copy that is not up to date."""
    from torquary_ingest import cluster as ours

    (sheet,) = write_sheets(tmp_path / "sheets", 1)
    answer = ours._read_there(sheet, "0" * 64, None, lambda paths: pytest.fail("read all the same"))
    assert answer.sheet is None
    client = distributed.Client(cluster.scheduler_address, set_as_default=False)
    try:
        seen = ours._Cluster("", client, ours.partial(ours.read_pictured_sheets, jobs=1))
        content = sheet.read_bytes()
        future = client.submit(ours._read_there, Path("nowhere") / sheet.name, "", content, seen.reader, pure=False)
        read = future.result(timeout=60).sheet
    finally:
        client.close()
    assert (read.report.file, len(read.report.settings)) == (sheet.name, 6)


def test_a_cluster_that_is_lost_leaves_what_was_loaded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The scheduler goes away in the middle; a second load, here, goes on where the first stopped."""
    monkeypatch.setattr("torquary_ingest.cluster._CONNECT", 5)
    sheets = write_sheets(tmp_path / "sheets", 24)
    catalogue = tmp_path / "there.duckdb"
    done: list[str] = []
    with distributed.LocalCluster(
        n_workers=1, threads_per_worker=1, processes=True, dashboard_address=None, host="127.0.0.1"
    ) as short:

        def close(sheet: LoadedSheet) -> None:
            done.append(sheet.file)
            if len(done) == 4:
                short.close(timeout=5)

        with pytest.raises(TorquaryError, match=r"the cluster at tcp://.* is lost \(.*the next load goes on") as error:
            load_sheets(catalogue, sheets, cluster=short.scheduler_address, step=close)
    assert error.value.status == 2
    assert 4 <= len(done) < len(sheets)
    outcomes = [one.outcome for one in load_sheets(catalogue, sheets).sheets]
    assert outcomes == ["unchanged"] * len(done) + ["loaded"] * (len(sheets) - len(done))


@pytest.mark.parametrize("address", ["tcp://127.0.0.1:9", "nonsense://x", "127.0.0.1"])
def test_no_cluster_there_is_one_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, address: str) -> None:
    monkeypatch.setattr("torquary_ingest.cluster._CONNECT", 1)
    gone: list[Any] = []
    monkeypatch.setattr(distributed.Client, "__del__", lambda client: gone.append(client.close()))
    (sheet,) = write_sheets(tmp_path / "sheets", 1)
    where = ["--cluster", address, "--catalogue", str(tmp_path / "c.duckdb")]
    start = time.monotonic()
    done = CliRunner().invoke(main, ["load", str(sheet), *where])
    assert (done.exit_code, done.stderr.count("\n")) == (2, 1), done.output
    assert f"no Dask scheduler answers at {address}" in done.stderr
    assert time.monotonic() - start < 30
    assert gone, "a client half made is left: collected in the making of the next one it waits for ever"


def test_other_readers_there_are_refused(cluster: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("torquary_ingest.cluster.READER_VERSION", 999)
    with pytest.raises(TorquaryError, match="and this torquary with reader 999: install the same there"):
        load_sheets(
            tmp_path / "c.duckdb", write_sheets(tmp_path / "sheets", 1), cluster=cluster.scheduler_address
        )


def test_without_dask_the_extra_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "torquary_ingest.cluster", None)
    with pytest.raises(TorquaryError, match=r"pip install 'torquary\[cluster\]'"):
        load_sheets(tmp_path / "c.duckdb", write_sheets(tmp_path / "sheets", 1), cluster="tcp://127.0.0.1:9")
