"""Reading only the pages that can hold a torque gives what reading every page gives, in every language."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from torquary_ingest.openers.pdf.page_text import PageText
from torquary_schema.torque_kinds import tightening_words
from torquary_schema.units import find_units
from torquary_schema.words import all_spellings, languages, spellings, spot

sys.path.insert(0, str(Path(__file__).parents[1] / "bench"))
sys.path.insert(0, str(Path(__file__).parents[1] / "whole" / "random_tables"))
from mixed_sheets import write_mixed
from pages_passed import differences

HERE = Path(__file__).parent
SAMPLES = sorted((HERE.parents[1] / "sample_sheets").glob("*.pdf"))
TOLD = sorted((HERE / "told_in_languages").glob("*.txt"))


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_a_sample_sheet_gives_the_same_also_within_a_manual(path: Path) -> None:
    assert differences(path) == []


@pytest.mark.parametrize("seed", [2, 4, 9, 15, 23, 31])
def test_a_generated_sheet_gives_the_same_also_within_a_manual(tmp_path: Path, seed: int) -> None:
    sheet = write_mixed(tmp_path, seed)
    assert sheet.path.suffix != ".pdf" or differences(sheet.path) == []


def without_units(text: str) -> str:
    """Return a text whose units of torque are taken out."""
    for unit in reversed([unit for unit in find_units(text) if unit.kind in ("torque", "force")]):
        text = text[: unit.start] + text[unit.end :]
    return text


@pytest.mark.parametrize("path", TOLD, ids=lambda path: path.stem)
def test_a_page_is_known_by_its_words_alone_in_every_language(path: Path) -> None:
    """Of every small sheet whose words speak of tightening: by the words where the units are taken out."""
    parts = [part.partition("\n") for part in path.read_text("utf-8").split("%% ") if part]
    bodies = {name: body for name, _, body in parts if speaks_of_tightening(body)}
    assert len(bodies) >= 3
    assert [name for name, body in bodies.items() if not PageText(body).why_read()] == []
    assert [name for name, body in bodies.items() if not PageText(without_units(body)).why_read()] == []


def speaks_of_tightening(text: str) -> bool:
    lines = text.splitlines()
    return any(tightening_words(line) or any(m.concept == "torque" for m in spot("heading", line)) for line in lines)


@pytest.mark.parametrize("language", languages())
def test_every_word_for_a_torque_over_a_figure_keeps_its_page(language: str) -> None:
    known = (*spellings("heading", "torque", language), *spellings("torque_kind", "tightening", language))
    words = [word.strip("*|=") for word in known]
    of_terminals = next(iter(spellings("tightened", "terminal", language) or all_spellings("tightened", "terminal")))
    pages = {word: f"{of_terminals.strip('*|=')} {word}\n2.5" for word in words}
    assert [word for word, text in pages.items() if not PageText(text).why_read()] == []
