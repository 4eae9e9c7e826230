"""The same small sheets in many languages, with invented names and figures: each reads as the German one does."""

from __future__ import annotations

from functools import cache
from html import escape
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_schema.values import Setting

TOLD = Path(__file__).parent / "told_in_languages"
MODEL = "de"
HELD = ("otherwise",)
"""Sheets whose figure is held for a person in each language alike: it may not be that of all terminals."""
LANGUAGES = sorted(path.stem for path in TOLD.glob("*.txt") if path.stem != MODEL)


@cache
def pieces(language: str) -> dict[str, str]:
    """Return the sheets of a language by name: a title ("#"), rows of a table ("|") and lines of text."""
    text = (TOLD / f"{language}.txt").read_text("utf-8")
    parts = (part.partition("\n") for part in text.split("%% ") if part)
    return {name: body for name, _, body in parts}


def page_of(body: str) -> str:
    """Return a web page of one sheet."""
    out, rows = [], []
    for line in body.strip().splitlines():
        if line.startswith("|"):
            rows.append("".join(f"<td>{escape(cell.strip())}</td>" for cell in line[1:].split("|")))
        else:
            head = line.startswith("# ")
            out.append(f"<h1>{escape(line[2:])}</h1>" if head else f"<p>{escape(line)}</p>")
    table = "<table>" + "".join(f"<tr>{row}</tr>" for row in rows) + "</table>" if rows else ""
    return f"<html><head><meta charset='utf-8'></head><body>{out[0]}{table}{''.join(out[1:])}</body></html>"


@cache
def read(language: str, name: str) -> list[str]:
    """Return what is read of a sheet, without its words."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "sheet.html"
        path.write_text(page_of(pieces(language)[name]), encoding="utf-8")
        return sorted(map(meaning, read_one(path, OpenWish()).settings))


def meaning(setting: Setting) -> str:
    """Return a setting without anything as printed."""
    one, wire, torque = setting.terminal, setting.conductor, setting.torque
    sizes = (wire.min_mm2, wire.max_mm2, wire.material, wire.stranding, wire.ferrule)
    figures = torque and (torque.min_nm, torque.nominal_nm, torque.max_nm, torque.limit_nm)
    terminal = (setting.purpose, tuple(sorted(one.roles)), one.thread, one.drive)
    kept = (setting.state, *terminal, sizes, figures, setting.conditions)
    return " / ".join(map(_plain, kept))


def _plain(value: object) -> str:
    return "; ".join(map(_plain, value)) if isinstance(value, tuple) else str(value)


@pytest.mark.parametrize("name", pieces(MODEL))
def test_the_german_sheets_say_something_for_certain(name: str) -> None:
    assert read(MODEL, name)
    assert name in HELD or all(setting.startswith("released") for setting in read(MODEL, name))


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("name", pieces(MODEL))
def test_a_sheet_reads_as_the_german_one(language: str, name: str) -> None:
    assert read(language, name) == read(MODEL, name)
