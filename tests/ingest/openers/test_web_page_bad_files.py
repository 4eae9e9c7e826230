"""Web pages that cannot be read are refused in one line that says what to do, and cost little."""

from __future__ import annotations

import random
import tracemalloc
from pathlib import Path

import pytest

from torquary_ingest.errors import SheetRefused
from torquary_ingest.folders import sheets_in
from torquary_ingest.openers.web_page import WebPageOpener, content, reading, tables
from torquary_ingest.openers.web_page.css import cascade
from torquary_ingest.plugins import OpenWish


def attempt(path: Path) -> str:
    """Return "opened", or the code of the refusal."""
    try:
        WebPageOpener().open(path, OpenWish())
    except SheetRefused as refusal:
        return refusal.code
    return "opened"


def refused(tmp_path: Path, raw: bytes) -> str:
    path = tmp_path / "bad.html"
    path.write_bytes(raw)
    with pytest.raises(SheetRefused) as caught:
        WebPageOpener().open(path, OpenWish())
    assert "\n" not in caught.value.message
    return caught.value.code


def test_a_page_beyond_the_bound_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "large.html"
    with path.open("wb") as file:
        file.truncate(100 * 1024 * 1024)
    tracemalloc.start()
    assert attempt(path) == "sheet_too_large"
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 1_000_000
    assert path.stat().st_size > reading.LARGEST_BYTES


@pytest.mark.parametrize("tag", ["div", "span", "sup", "table><tr><td"])
def test_elements_nested_without_end_are_refused_or_read(tmp_path: Path, tag: str) -> None:
    path = tmp_path / "deep.html"
    path.write_text(f"<{tag}>" * 5000 + "2.5 N·m", encoding="utf-8")
    assert attempt(path) == "sheet_damaged"


def test_spans_beyond_reason_are_bounded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tables, "MOST_CELLS", 20_000)
    wide = "<tr>" + "<td colspan=100000 rowspan=65534>x" * 30
    assert refused(tmp_path, f"<table>{wide}{'<tr><td>y' * 5}</table>".encode()) == "sheet_too_large"


def test_lines_without_end_are_bounded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(content, "MOST_LINES", 1000)
    assert refused(tmp_path, b"<p>x" * 2000) == "sheet_too_large"


def test_style_rules_without_end_are_bounded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cascade, "MOST_TRIALS", 5000)
    rules = "".join(f"tr td:nth-child({at}) {{display:none}}" for at in range(200))
    assert refused(tmp_path, f"<style>{rules}</style><table>{'<tr><td>x' * 50}".encode()) == "sheet_too_large"
    unused = "".join(f".a{at} td {{display:none}}" for at in range(200))
    path = tmp_path / "site.html"
    path.write_text(f"<style>{unused}</style><table>{'<tr><td>x' * 50}", encoding="utf-8")
    assert attempt(path) == "opened"


def test_pages_without_text_are_named(tmp_path: Path) -> None:
    assert refused(tmp_path, b"<html><script>var a = 1</script></html>") == "sheet_empty"
    assert refused(tmp_path, b"   \n ") == "sheet_empty"
    assert refused(tmp_path, bytes(range(1, 9)) * 400) in ("sheet_not_a_table", "sheet_unknown_encoding")


def test_noise_opens_or_is_refused(tmp_path: Path) -> None:
    dice = random.Random(4)
    tags = ["<table>", "</table>", "<tr>", "<td colspan=2>", "<td rowspan=3>", "</td>", "<p>", "<sup>", "<!--", "-->",
            "<style>a{", "}</style>", "<del>", "2.5", " N·m ", "&frac12;", "&#x", "<thead>", "<br>"]  # fmt: skip
    path = tmp_path / "noise.html"
    for _ in range(200):
        path.write_text("".join(dice.choices(tags, k=60)), encoding="utf-8")
        assert attempt(path) in ("opened", "sheet_empty", "sheet_damaged")


def test_files_of_another_kind_are_not_claimed() -> None:
    assert not WebPageOpener().recognises(Path("a.html"), b"%PDF-1.7")
    assert not WebPageOpener().recognises(Path("a.pdf"), b"<html>")
    assert WebPageOpener().recognises(Path("A.HTM"), b"<html>")


def test_a_folder_counts_web_pages_as_sheets(tmp_path: Path) -> None:
    for name in ("a.html", "b.htm", "c.css"):
        (tmp_path / name).write_bytes(b"")
    assert [path.name for path in sheets_in([tmp_path])] == ["a.html", "b.htm"]
