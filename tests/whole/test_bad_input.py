"""Bad files and bad catalogues: one line that says what and what to do, and the other sheets are loaded."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path

import pytest
from reportlab.lib.pagesizes import A4
from reportlab.lib.pdfencrypt import StandardEncryption
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

Run = Callable[..., subprocess.CompletedProcess[str]]

GOOD = "Terminal;Conductor (mm²);Torque (N·m)\nL1;1,5–6;2,5\n"

PLAIN_QUESTION = ("find", "L1")


def draw_sheet(path: Path, *, pages: int = 1, torque_on: int = 1, password: str = "") -> Path:
    """Draw a sheet with one small ruled table on page `torque_on`; the other pages bear running text."""
    canvas = Canvas(str(path), pagesize=A4, encrypt=StandardEncryption(password) if password else None)
    for number in range(1, pages + 1):
        canvas.setFont("Helvetica", 10)
        canvas.drawString(72, 780, f"Page {number}: general remarks on storage and transport")
        if number == torque_on:
            for row, texts in enumerate((("Terminal", "Conductor mm²", "Torque N·m"), ("L1", "1.5–6", "2.5"))):
                for column, text in enumerate(texts):
                    canvas.drawString(76 + 120 * column, 706 - 20 * row, text)
            canvas.grid([72, 192, 312, 432], [720, 700, 680])
        canvas.showPage()
    canvas.save()
    return path


def draw_picture(path: Path) -> Path:
    """Draw a page that is nothing but a grey picture."""
    from PIL import Image

    picture = BytesIO()
    Image.new("L", (400, 560), 200).save(picture, "PNG")
    canvas = Canvas(str(path), pagesize=A4)
    canvas.drawImage(ImageReader(BytesIO(picture.getvalue())), 0, 0, *A4)
    canvas.save()
    return path


def make_no_pages(path: Path) -> Path:
    path.write_bytes(
        b"%PDF-1.4\n1 0 obj\n<</Type/Catalog/Pages 2 0 R>>\nendobj\n2 0 obj\n<</Type/Pages/Kids[]/Count 0>>\nendobj\n"
        b"trailer\n<</Root 1 0 R/Size 3>>\n%%EOF\n"
    )
    return path


def make_bad(path: Path) -> Path:
    """Make the bad file that the name asks for."""
    kind = path.stem
    if kind == "nothing":
        path.write_bytes(b"")
    elif kind == "truncated":
        draw_sheet(path)
        path.write_bytes(path.read_bytes()[:300])
    elif kind == "encrypted":
        draw_sheet(path, password="sesame")
    elif kind == "picture":
        draw_picture(path)
    elif kind == "not_a_pdf":
        path.write_bytes(b"PK\x03\x04" + bytes(range(256)) * 20)
    elif kind == "no_pages":
        make_no_pages(path)
    elif kind == "noise":
        path.write_bytes("".join(f"{n * 7919 % 1000}x{chr(33 + n % 90)};;,|\n" for n in range(300)).encode())
    return path


REFUSED = {
    "nothing.pdf": "sheet_empty",
    "nothing.csv": "sheet_empty",
    "truncated.pdf": "sheet_damaged",
    "encrypted.pdf": "sheet_encrypted",
    "picture.pdf": "sheet_no_text",
    "not_a_pdf.pdf": "sheet_damaged",
    "no_pages.pdf": "sheet_no_pages",
}


def test_sheets_that_cannot_be_read_are_refused_by_name(torquary: Run, tmp_path: Path) -> None:
    paths = [make_bad(tmp_path / name) for name in REFUSED]
    done = torquary("read", *paths, "--json")
    sheets = json.loads(done.stdout)["sheets"]
    assert [(sheet["file"], sheet["state"], sheet["settings"]) for sheet in sheets] == [
        (name, "refused", []) for name in REFUSED
    ]
    for sheet in sheets:
        assert REFUSED[sheet["file"]] in [finding["code"] for finding in sheet["findings"]]
        assert all("\n" not in finding["message"] for finding in sheet["findings"])
    assert done.returncode == 1
    told = torquary("read", *paths)
    assert all(name in told.stdout for name in REFUSED)


def test_noise_gives_a_finding_and_no_figure(torquary: Run, tmp_path: Path) -> None:
    done = torquary("read", make_bad(tmp_path / "noise.csv"), "--json")
    [sheet] = json.loads(done.stdout)["sheets"]
    assert [one for one in sheet["settings"] if one["state"] == "released"] == []
    assert sheet["findings"]


def test_the_other_sheets_of_a_folder_are_loaded(torquary: Run, tmp_path: Path) -> None:
    folder = tmp_path / "sheets"
    folder.mkdir()
    for name in REFUSED:
        make_bad(folder / name)
    (folder / "good.csv").write_text(GOOD, encoding="utf-8")
    draw_sheet(folder / "good.pdf")
    done = torquary("load", folder)
    assert done.returncode == 1
    for name in REFUSED:
        assert name in done.stdout
    found = torquary(*PLAIN_QUESTION, "--json")
    assert found.returncode == 0, found.stdout + found.stderr
    assert "good.csv" in found.stdout
    assert "good.pdf" in found.stdout


def test_two_thousand_pages_are_read_for_their_one_torque(torquary: Run, tmp_path: Path) -> None:
    path = draw_sheet(tmp_path / "long.pdf", pages=2000, torque_on=1357)
    done = torquary("read", path, "--json")
    [sheet] = json.loads(done.stdout)["sheets"]
    assert sheet["pages"] == 2000
    assert [(one["place"]["page"], one["torque"]["printed"]) for one in sheet["settings"]] == [(1357, "2.5")]


def one_line(done: subprocess.CompletedProcess[str]) -> str:
    """Return the last line of the error; click's usage lines may stand before it."""
    lines = [line for line in done.stderr.splitlines() if line.strip()]
    assert lines, done.stdout
    assert len(lines) <= 4, done.stderr
    return lines[-1]


def test_a_folder_without_sheets_is_wrong_use(torquary: Run, tmp_path: Path) -> None:
    (tmp_path / "bare").mkdir()
    done = torquary("load", tmp_path / "bare")
    assert done.returncode == 2
    assert "no datasheet in this folder" in one_line(done)


def test_a_file_that_is_not_there_is_wrong_use(torquary: Run, tmp_path: Path) -> None:
    for command in ("load", "read", "tables"):
        done = torquary(command, tmp_path / "nowhere.pdf")
        assert done.returncode == 2
        assert "nowhere.pdf" in one_line(done)


COMMANDS = (PLAIN_QUESTION, ("held",), ("export", "out.csv"), ("decide", "abc", "reject", "--who", "x"))


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command[0])
def test_a_catalogue_that_is_not_there_cannot_be_used(torquary: Run, command: tuple[str, ...]) -> None:
    done = torquary(*command)
    assert done.returncode == 3
    assert "torquary.duckdb" in one_line(done)


@pytest.mark.parametrize("command", [*COMMANDS, "load"], ids=lambda command: command[0])
def test_a_catalogue_that_is_not_a_catalogue_is_left_alone(
    torquary: Run, tmp_path: Path, command: tuple[str, ...] | str
) -> None:
    letter = tmp_path / "letter.txt"
    letter.write_text("Dear all, this is a letter and no catalogue.\n" * 40)
    sheet = tmp_path / "good.csv"
    sheet.write_text(GOOD, encoding="utf-8")
    before = letter.read_bytes()
    done = torquary(*(("load", sheet) if command == "load" else command), "--catalogue", letter)
    assert done.returncode == 3
    assert "letter.txt" in one_line(done)
    assert letter.read_bytes() == before


@pytest.fixture
def writer(tmp_path: Path) -> Iterator[Callable[[Path], None]]:
    """Hold a catalogue open for writing in another process."""
    script = "import duckdb, sys; c = duckdb.connect(sys.argv[1]); print('open', flush=True); sys.stdin.read()"
    held: list[subprocess.Popen[str]] = []

    def hold(path: Path) -> None:
        process = subprocess.Popen(
            [sys.executable, "-c", script, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        held.append(process)
        assert process.stdout is not None
        assert process.stdout.readline() == "open\n"

    yield hold
    for process in held:
        process.communicate()


def test_a_catalogue_locked_by_a_writer_says_so(torquary: Run, tmp_path: Path, writer: Callable[[Path], None]) -> None:
    sheet = tmp_path / "good.csv"
    sheet.write_text(GOOD, encoding="utf-8")
    catalogue = tmp_path / "locked.duckdb"
    torquary("load", sheet, "--catalogue", catalogue)
    writer(catalogue)
    for command in (PLAIN_QUESTION, ("load", sheet, "--again")):
        done = torquary(*command, "--catalogue", catalogue)
        assert done.returncode == 3
        assert "locked.duckdb" in one_line(done)
