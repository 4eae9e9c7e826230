"""How much of a glyph must show to be read, how much to be doubted: the last that is, the first that is not."""

from __future__ import annotations

import pytest

from torquary_ingest.openers.pdf.paint import Bounds, Glyph, Image, Painting, Path, Wash
from torquary_ingest.openers.pdf.visibility import Grounds, find_hidden, judge_all

PAGE: Bounds = (0.0, 0.0, 100.0, 100.0)
BLACK, GREY = (0.0, 0.0, 0.0), (0.6, 0.6, 0.6)
GLYPH = Glyph(
    text="8", x=40.0, y=50.0, end_x=50.0, end_y=50.0, spacing=0.0, box=(40.0, 40.0, 50.0, 50.0), size=10.0, turn=0,
    run=1, order=1, font="F", font_key=1, cid=1, colour=BLACK, alpha=1.0, render=0, clip=PAGE, shown=True,
)  # fmt: skip


def area(box: Bounds, order: int) -> Path:
    """An opaque grey rectangle."""
    x0, top, x1, bottom = box
    return Path(
        points=((x0, top), (x1, top), (x1, bottom), (x0, bottom)), box=box, rectangle=True, straight=True, closed=True,
        stroked=False, filled=True, stroke_colour=None, fill_colour=GREY, stroke_alpha=1.0, fill_alpha=1.0, width=0.0,
        clip=PAGE, order=order, shown=True,
    )  # fmt: skip


def hidden(painting: Painting, glyph: Glyph = GLYPH) -> str:
    return find_hidden(glyph, painting.bounds, Grounds(painting))


def painted(*paths: Path, images: tuple[Image, ...] = ()) -> Painting:
    return Painting(width=100.0, height=100.0, glyphs=[GLYPH], paths=list(paths), images=list(images))


@pytest.mark.parametrize(("part", "said"), [(0.61, "covered"), (0.59, "cut"), (0.21, "cut"), (0.19, "")])
def test_a_glyph_under_a_patch_is_covered_cut_or_whole(part: float, said: str) -> None:
    """Its middle is from 41.5 to 48.5 points across."""
    assert hidden(painted(area((0.0, 30.0, 41.5 + 7.0 * part, 60.0), 2))) == said


@pytest.mark.parametrize(("part", "said"), [(0.81, ""), (0.79, "cut"), (0.41, "cut"), (0.39, "clipped")])
def test_a_glyph_within_a_clip_is_whole_cut_or_gone(part: float, said: str) -> None:
    clip = (0.0, 0.0, 41.5 + 7.0 * part, 100.0)
    assert hidden(painted(area((0.0, 0.0, 5.0, 5.0), 0)), GLYPH._replace(clip=clip)) == said


@pytest.mark.parametrize(("side", "said"), [(55.0, "recognised"), (54.0, "covered")])
def test_a_picture_over_three_tenths_of_the_page_may_be_a_scan(side: float, said: str) -> None:
    """55 by 55 of 100 by 100 points are 30.25 %, 54 by 54 are 29.16 %."""
    image = Image(box=(0.0, 0.0, side, side), clip=PAGE, order=2, shown=True, stencil=False, clear=False)
    assert hidden(painted(images=(image,))) == said


@pytest.mark.parametrize(("share", "said"), [(0.9, ""), (0.89, "cut"), (0.25, "cut"), (0.24, "covered")])
def test_what_the_rendered_page_shows_of_a_glyph_decides(share: float, said: str) -> None:
    painting = painted()
    painting.washes.append(Wash(box=(0.0, 0.0, 100.0, 100.0), order=2))
    [(_, answer)] = judge_all(painting, Grounds(painting), lambda _, orders: dict.fromkeys(orders, share))
    assert answer == said


@pytest.mark.parametrize(("width", "asked"), [(3.0, True), (2.9, False)])
def test_a_broad_stroke_over_a_glyph_is_looked_at_on_the_rendered_page(width: float, *, asked: bool) -> None:
    stroke = area((0.0, 45.0, 100.0, 45.0), 2)._replace(
        filled=False, stroked=True, rectangle=False, closed=False, stroke_colour=BLACK, width=width
    )
    painting = painted(stroke)
    [(_, answer)] = judge_all(painting, Grounds(painting), lambda _, orders: dict.fromkeys(orders, 0.5))
    assert answer == ("cut" if asked else "")


@pytest.mark.parametrize(("alpha", "asked"), [(0.051, True), (0.05, False)])
def test_a_film_that_hardly_takes_light_hides_nothing(alpha: float, *, asked: bool) -> None:
    painting = painted(area((0.0, 0.0, 100.0, 100.0), 2)._replace(fill_alpha=alpha))
    [(_, answer)] = judge_all(painting, Grounds(painting), lambda _, orders: dict.fromkeys(orders, 0.5))
    assert answer == ("cut" if asked else "")
