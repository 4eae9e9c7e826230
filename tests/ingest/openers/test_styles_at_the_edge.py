"""The least and the most that a style does to a text before it is doubted or taken for hidden. Pixels: CSS."""

from __future__ import annotations

import pytest
import tinycss2

from torquary_ingest.openers.colours import Colour
from torquary_ingest.openers.web_page.css.hiding import GONE, Box, judge
from torquary_ingest.openers.web_page.css.paint import UNSEEN, Ink


def judged(text: str = "2.5", **styles: str) -> str:
    """What becomes of a block of 10 px type with these styles, underscores being hyphens."""
    values = {name.replace("_", "-"): tuple(tinycss2.parse_component_value_list(one)) for name, one in styles.items()}
    box = Box(tag="p", styles=values, em=10.0, rem=16.0, inline=False, tabular=False, in_cell=False, text=text)
    return judge(box)


@pytest.mark.parametrize(("opacity", "said"), [("0.09", "it is all but transparent"), ("0.1", ""), ("0", GONE)])
def test_a_tenth_of_its_ink_is_seen(opacity: str, said: str) -> None:
    assert judged(opacity=opacity) == said


@pytest.mark.parametrize(("scale", "said"), [("0.31", ""), ("0.3", "it is shrunk or mirrored")])
def test_three_tenths_of_its_size_are_doubted(scale: str, said: str) -> None:
    assert judged(scale=scale) == said
    assert judged(transform=f"scale({scale})") == said


@pytest.mark.parametrize(("zoom", "said"), [("0.3", ""), ("0.29", "it is shrunk")])
def test_a_zoom_below_three_tenths_is_doubted(zoom: str, said: str) -> None:
    assert judged(zoom=zoom) == said


@pytest.mark.parametrize(("left", "said"), [("-998px", ""), ("-999px", GONE), ("998px", ""),
                                            ("999px", "it is moved far away")])  # fmt: skip
def test_what_is_moved_off_the_screen_is_gone(left: str, said: str) -> None:
    assert judged(position="relative", left=left) == said


@pytest.mark.parametrize(("wide", "said"), [("20px", ""), ("19px", "it may be cut off at the edge of its box")])
def test_a_box_that_may_be_too_narrow_for_its_text_is_doubted(wide: str, said: str) -> None:
    """Three letters of 10 px type take 19.5 px at most."""
    assert judged(overflow_x="hidden", width=wide) == said


def grey(level: int) -> Colour:
    return Colour(level / 255, level / 255, level / 255)


@pytest.mark.parametrize(
    ("level", "said"),
    [
        (252, UNSEEN),  # a contrast of 1.025 on white
        (250, "it stands almost in the colour of its ground"),  # 1.04
        (230, "it stands almost in the colour of its ground"),  # 1.249
        (229, ""),  # 1.26
    ],
)
def test_a_text_in_nearly_the_colour_of_its_ground(level: int, said: str) -> None:
    """Contrast ratios as WCAG 2.2 defines them."""
    assert Ink(colour=grey(level)).seen() == said


@pytest.mark.parametrize(("size", "said"), [(3.0, ""), (2.9, "it is set too small to be read")])
def test_type_of_three_pixels_is_read(size: float, said: str) -> None:
    assert Ink(em=size).seen() == said


@pytest.mark.parametrize(("indent", "said"), [(100.0, ""), (101.0, "it is indented out of its place"),
                                              (-22.0, ""), (-22.1, "it is indented out of its place"),
                                              (-998.0, "it is indented out of its place"),
                                              (-999.0, UNSEEN)])  # fmt: skip
def test_a_first_line_is_indented_or_hangs_out_a_little(indent: float, said: str) -> None:
    assert Ink(em=10.0, indent=indent).seen() == said
