"""Which shades side by side are cards that part a page: their widths, heights and the blank between, in points."""

from __future__ import annotations

import pytest

from torquary_ingest.document import Page, Shade
from torquary_ingest.document.frames import find_gutters
from torquary_schema.values import Box


def shade(x0: float, wide: float, *, top: float = 100.0, high: float = 200.0) -> Shade:
    return Shade(box=Box(x0=x0, top=top, x1=x0 + wide, bottom=top + high), colour=0.9)


def parted(*shades: Shade) -> bool:
    return bool(find_gutters(Page(number=1, width=595.0, height=842.0, shades=shades)))


@pytest.mark.parametrize(("gap", "apart"), [(2.9, False), (3.1, True), (59.0, True), (61.0, False)])
def test_cards_stand_further_apart_than_a_rule_and_nearer_than_a_margin(gap: float, *, apart: bool) -> None:
    assert parted(shade(50.0, 100.0), shade(150.0 + gap, 100.0)) is apart


@pytest.mark.parametrize(("wide", "apart"), [(81.0, True), (79.0, False)])
def test_a_card_is_as_wide_as_a_name_and_its_value(wide: float, *, apart: bool) -> None:
    assert parted(shade(150.0 - wide, wide), shade(160.0, 100.0)) is apart


@pytest.mark.parametrize(("off", "apart"), [(1.9, True), (2.1, False)])
def test_cards_of_a_row_begin_and_end_at_one_height(off: float, *, apart: bool) -> None:
    assert parted(shade(50.0, 100.0), shade(160.0, 100.0, top=100.0 + off)) is apart
