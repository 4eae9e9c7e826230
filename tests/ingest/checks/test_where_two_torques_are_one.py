"""How far apart two prints may stand, in figure, name or place, and still be of one terminal: the last that are, the
first that are not."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from torquary_ingest.checks.contradiction import differ, may_be_one_device
from torquary_ingest.checks.in_languages import join_languages
from torquary_ingest.checks.ledger.blocks import cut_blocks
from torquary_ingest.checks.printed_elsewhere import check_sentences
from torquary_ingest.document.lines import Line
from torquary_ingest.skeleton.language_parts import LanguagePart
from torquary_schema.values import Box, Conductor, Device, Place, Setting, Terminal, Torque


def made(label: str, figure: str, unit: str = "N·m", *, x0: float = 50.0, top: float = 80.0) -> Setting:
    exact = Decimal(figure)
    return Setting(
        id=f"{label} at {x0}",
        state="released",
        purpose="electrical_terminal",
        device=Device(printed="Vellmar RT 22"),
        terminal=Terminal(printed=label),
        conductor=Conductor(printed="2.5", max_mm2=Decimal("2.5")),
        torque=Torque(printed=figure, unit_printed=unit, min_nm=exact, nominal_nm=exact, max_nm=exact),
        place=Place(page=1, box=Box(x0=x0, top=top, x1=x0 + 90, bottom=top + 10), text=label),
    )


@pytest.mark.parametrize(("figure", "unit", "differs"), [("2.06", "lbf·in", False), ("2.07", "lbf·in", True),
                                                         ("2.01", "N·m", True)])  # fmt: skip
def test_two_units_may_differ_by_rounding_and_one_unit_by_nothing(figure: str, unit: str, *, differs: bool) -> None:
    """2 N·m are 17.7 lbf·in; printed with two digits, 18 lbf·in are 2.03 N·m."""
    assert differ(made("Line", "2.00"), made("Line", figure, unit)) is differs


@pytest.mark.parametrize(("one", "other", "same"), [("Frame AB RT 22", "Size CD RT 22", False),
                                                    ("Raum RT 22", "Room RT 22", True),
                                                    ("Frame ABC RT 22", "Size DEF RT 22", True)])  # fmt: skip
def test_up_to_two_letters_tell_devices_of_a_type_apart(one: str, other: str, *, same: bool) -> None:
    assert may_be_one_device(Device(printed=one), Device(printed=other)) is same


@pytest.mark.parametrize(("label", "text", "held"), [("spare coupling", "the spare coupling: 3 N·m", True),
                                                     ("coupling", "the coupling: 3 N·m", False)])  # fmt: skip
def test_a_name_of_two_words_is_the_same_terminal_wherever_it_is_printed(label: str, text: str, *, held: bool) -> None:
    doubtful = replace(made("lid", "3"), state="held", place=Place(page=2, text=text))
    assert bool(list(check_sentences([made(label, "2.0"), doubtful]))) is held


@pytest.mark.parametrize(("pairs", "left"), [(1, 2), (2, 2)])
def test_two_settings_in_the_same_order_show_what_two_languages_call_alike(pairs: int, left: int) -> None:
    parts = tuple(LanguagePart(language=one, page=1, x0=x0, top=40.0) for one, x0 in (("en", 50.0), ("fr", 300.0)))
    names = (("coupling", "raccord"), ("bridge", "pont"))[:pairs]
    told = [
        made(name, f"{2 + number}.0", x0=x0, top=80.0 + 20 * number)
        for number, pair in enumerate(names)
        for name, x0 in zip(pair, (50.0, 300.0), strict=True)
    ]
    assert len(join_languages(told, parts)) == left


def lines(*boxes: tuple[float, float], texts: tuple[str, ...] = ("Tighten the lid", "by hand alone")) -> list[Line]:
    """Lines of 10 pt type and 60 pt width at (left, top)."""
    return [
        Line(page=1, words=(), text=text, box=Box(x0=x0, top=top, x1=x0 + 60, bottom=top + 10), size=10.0)
        for (x0, top), text in zip(boxes, texts, strict=True)
    ]


@pytest.mark.parametrize(("white", "blocks"), [(15.0, 1), (17.0, 2)])
def test_lines_of_a_block_stand_less_than_an_empty_line_apart(white: float, blocks: int) -> None:
    assert len(cut_blocks(lines((50, 100), (50, 110 + white)))) == blocks


@pytest.mark.parametrize(("white", "blocks"), [(78.0, 1), (82.0, 2)])
def test_texts_of_a_row_stand_no_wider_apart_than_a_gap_between_columns(white: float, blocks: int) -> None:
    assert len(cut_blocks(lines((50, 100), (110 + white, 100)))) == blocks


def test_a_bare_figure_belongs_to_its_row_from_anywhere() -> None:
    assert len(cut_blocks(lines((50, 100), (400, 100), texts=("Tightening torque", "2.5")))) == 1
