"""Text shows through what is transparent and not through what hides it, as the PDF standard composes them.

ISO 32000-1, 11.3 to 11.6: constant opacity, soft masks and blend modes; a group's result is painted with the opacity
in force where the group is painted.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from raw_pages import group, read_page, write_page

FONT = "/Font << /F 5 0 R >>"
STATES = (
    "/ExtGState << /None << /ca 0 >> /Veil << /ca 0.05 /CA 0.05 >> /Solid << /ca 1 /CA 1 >> /Half << /ca 0.5 >> "
    "/Dark << /ca 0.8 >> "
    "/Times << /BM /Multiply >> /Shield << /BM /Screen >> "
    "/Gone << /SMask << /S /Luminosity /G 11 0 R >> >> /Whole << /SMask /None >> >>"
)
FORMS = "/XObject << /X 10 0 R >>"
SHADES = (
    "/Shading << /S << /ShadingType 2 /ColorSpace /DeviceRGB /Coords [0 0 400 0] /Extend [true true] "
    "/Function << /FunctionType 2 /Domain [0 1] /C0 [0 0 0.4] /C1 [0 0 0.2] /N 1 >> >> >>"
)
BLACK_MASK = group("0 g 0 0 400 400 re f", "").replace(b"/S /Transparency", b"/S /Transparency /CS /DeviceGray")
COVER = "90 190 80 30 re f"


def text(printed: str, colour: str = "0 g") -> str:
    return f"{colour} BT /F 10 Tf 100 200 Td ({printed}) Tj ET"


FOUR = text("4").replace("200 Td", "300 Td")
ROUNDED = "90 195 m 90 215 95 220 110 220 c 150 220 l 165 220 170 215 170 205 c 170 190 l 90 190 l h f"


def words(folder: Path, content: str, form: bytes = group("", "")) -> dict[str, list[str]]:
    path = write_page(folder / "page.pdf", content, f"{FONT} {STATES} {FORMS} {SHADES}", {10: form, 11: BLACK_MASK})
    return {word.text: [doubt.code for doubt in word.doubts] for word in read_page(path).words}


def test_a_veil_is_as_thin_as_the_opacity_of_its_group_says(tmp_path: Path) -> None:
    form = group(f"/Solid gs 0 g {COVER}", STATES)
    assert words(tmp_path, f"{text('2.5')} q /Veil gs /X Do Q", form) == {"2.5": []}
    assert words(tmp_path, f"{text('2.5')} q /X Do Q {FOUR}", form) == {"4": []}


def test_opacities_of_a_group_and_of_what_it_paints_multiply(tmp_path: Path) -> None:
    inner = group(f"/Solid gs 1 g {COVER}", STATES)
    outer = group("/Half gs /Y Do", f"{STATES} /XObject << /Y 12 0 R >>")
    path = write_page(
        tmp_path / "page.pdf",
        f"{text('2.5')} q /Half gs /X Do Q",
        f"{FONT} {STATES} {FORMS}",
        {10: outer, 11: BLACK_MASK, 12: inner},
    )
    assert [(word.text, word.doubts) for word in read_page(path).words] == [("2.5", ())]


def test_text_of_a_group_painted_without_opacity_is_left_out(tmp_path: Path) -> None:
    form = group(f"/Solid gs {text('3.5')}", f"{FONT} {STATES}")
    assert words(tmp_path, f"q /None gs /X Do Q {FOUR}", form) == {"4": []}


@pytest.mark.parametrize(
    "ground",
    [
        f"0 0 0.3 rg {ROUNDED}",
        f"/Dark gs 0 g {COVER}",
        f"q {COVER[:-1]} W n /S sh Q",
        "q 30 w 0 G 90 205 m 170 205 l S Q",
        f"/Times gs 0 0 0.3 rg {COVER}",
    ],
    ids=["rounded", "translucent", "shading", "broad line", "multiplied"],
)
def test_white_text_on_a_dark_ground_of_any_kind_is_read(tmp_path: Path, ground: str) -> None:
    assert words(tmp_path, f"q {ground} Q {text('Torque', '1 g')}") == {"Torque": []}


def test_white_text_on_a_pale_ground_is_left_out(tmp_path: Path) -> None:
    content = f"q 0.97 g {ROUNDED} Q {text('3.5', '1 g')} {FOUR}"
    assert words(tmp_path, content) == {"4": []}


@pytest.mark.parametrize(
    ("cover", "read"),
    [
        (f"1 g {ROUNDED}", False),
        (f"/Times gs 1 1 0 rg {COVER}", True),
        (f"/Times gs 0 g {COVER}", False),
        (f"/Shield gs 1 g {COVER}", False),
        (f"/Shield gs 0 g {COVER}", True),
        (f"/Gone gs 1 g {COVER}", True),
        (f"q {COVER[:-1]} W n /S sh Q", False),
        ("q 30 w 1 G 90 205 m 170 205 l S Q", False),
    ],
    ids=["rounded", "marker", "black times", "white screen", "black screen", "masked away", "shading", "broad line"],
)
def test_a_cover_hides_what_does_not_show_through_it(tmp_path: Path, cover: str, read: bool) -> None:
    paper = "1 g 0 0 400 400 re f"  # on the bare page nothing lies beneath that a colour could be mixed with
    page = words(tmp_path, f"{paper} {text('2.5')} q {cover} Q {FOUR}")
    assert page == ({"2.5": [], "4": []} if read else {"4": []})


def test_text_that_a_soft_mask_takes_away_is_left_out(tmp_path: Path) -> None:
    content = f"/Gone gs {text('3.5')} /Whole gs {FOUR}"
    assert words(tmp_path, content) == {"4": []}


def test_figure_of_which_a_rounded_cover_leaves_a_half_is_doubted(tmp_path: Path) -> None:
    cover = f"q 1 0 0 1 18.5 0 cm 1 g {ROUNDED} Q"
    assert words(tmp_path, f"{text('12.5')} {cover}") == {"12": ["text_covered"]}


def test_a_form_paints_in_the_colour_in_force_around_it(tmp_path: Path) -> None:
    """ISO 32000-1, 8.10.1: a form starts with the graphics state in force where it is painted."""
    form = group("BT /F 10 Tf 100 200 Td (3.5) Tj ET", FONT, transparent=False)
    assert words(tmp_path, f"q 1 g /X Do Q {FOUR}", form) == {"4": []}
    assert words(tmp_path, f"q 0 g {COVER} 1 g /X Do Q {FOUR}", form) == {"3.5": [], "4": []}
