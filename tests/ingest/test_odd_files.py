"""What stands in a folder and is no readable file costs itself only: it is named, and nothing waits for it."""

from __future__ import annotations

import errno
import os
import sys
from pathlib import Path

import pytest

from torquary_ingest.folders import sheets_in
from torquary_ingest.reader import read_sheet
from torquary_ingest.refusal import open_file, take_digest

SHEET = "Terminal;Conductor (mm²);Torque (N·m)\nL1;1,5–6;2,5\n"

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="links, pipes and names of bytes are POSIX's")


def write_sheet(path: Path) -> Path:
    path.write_text(SHEET, encoding="utf-8")
    return path


def name_refused(folder: Path) -> dict[str, str]:
    """Return the names in a folder that are refused, with the reason."""
    reports = [read_sheet(path) for path in sheets_in([folder])]
    return {report.file: report.findings[0].message for report in reports if report.state == "refused"}


@pytest.mark.skipif(sys.platform == "darwin", reason="names are Unicode there")
def test_a_name_that_is_not_utf_8_is_read_and_shown_escaped(tmp_path: Path) -> None:
    write_sheet(tmp_path / os.fsdecode(b"caf\xe9.csv"))
    [path] = sheets_in([tmp_path])
    report = read_sheet(path)
    assert (report.file, report.state, len(report.settings)) == (r"caf\xe9.csv", "read", 1)


@pytest.mark.parametrize("kind", ["pipe", "circle", "dangling", "device"])
def test_what_is_no_file_is_refused_by_name_and_not_waited_for(tmp_path: Path, kind: str) -> None:
    write_sheet(tmp_path / "good.csv")
    odd = tmp_path / "odd.csv"
    if kind == "pipe":
        os.mkfifo(odd)
    elif kind == "circle":
        odd.symlink_to(odd)
    else:
        odd.symlink_to("gone.csv" if kind == "dangling" else "/dev/zero")
    assert list(name_refused(tmp_path)) == ["odd.csv"]
    assert take_digest(odd) == ""


def test_a_pipe_of_any_name_is_not_opened_to_see_what_it_is(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "anything")
    good = write_sheet(tmp_path / "good.csv")
    assert sheets_in([tmp_path]) == (good,)
    with pytest.raises(OSError, match="pipe"):
        open_file(tmp_path / "anything")


def test_folders_linked_in_a_circle_are_searched_once(tmp_path: Path) -> None:
    inside = tmp_path / "inside"
    inside.mkdir()
    good = write_sheet(inside / "good.csv")
    (inside / "round").symlink_to(tmp_path, target_is_directory=True)
    assert sheets_in([tmp_path]) == (good,)


def test_a_folder_elsewhere_is_searched_through_its_link(tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    write_sheet(tmp_path / "elsewhere" / "good.csv")
    (tmp_path / "here").mkdir()
    (tmp_path / "here" / "link").symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    assert sheets_in([tmp_path / "here"]) == (tmp_path / "here" / "link" / "good.csv",)


def test_a_folder_without_permission_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    good = write_sheet(tmp_path / "good.csv")
    closed = tmp_path / "closed"
    closed.mkdir()
    # Permissions do not bind the superuser, whom tests may run as.
    scandir, listdir = os.scandir, os.listdir

    def refuse(real, path):  # type: ignore[no-untyped-def]
        if Path(path) == closed:
            raise PermissionError(errno.EACCES, "Permission denied", str(path))
        return real(path)

    monkeypatch.setattr(os, "scandir", lambda path: refuse(scandir, path))
    monkeypatch.setattr(os, "listdir", lambda path: refuse(listdir, path))
    assert set(sheets_in([tmp_path])) == {good, closed}
    assert list(name_refused(tmp_path)) == ["closed"]
