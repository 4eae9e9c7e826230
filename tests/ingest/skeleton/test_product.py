"""The product of a sheet: the name among its largest lines, unless it is the maker or several stand there."""

from __future__ import annotations

import pytest
from set_pages import page, sheet

from torquary_ingest.document import Document, Noted, Reading, Section, Table
from torquary_ingest.normalise.no_product import prints_no_product
from torquary_ingest.skeleton import Skeleton, make_skeleton
from torquary_schema.values import Place

BODY = [(f"Ordinary words of the sheet in a line, number {n}", 9.0, 300.0 + 14 * n) for n in range(12)]


def product(document: Document) -> str:
    return make_skeleton(document, ()).product


def test_a_kind_of_document_is_larger_than_the_name() -> None:
    assert product(sheet(page(("Datasheet", 26, 80), ("LQX-422 module", 14, 130), *BODY))) == "LQX-422 module"


def test_a_title_of_two_sizes_is_kind_and_type() -> None:
    front = page(("YQ2A14-050", 26, 500), ("Hauptschalter", 18, 530), *BODY)
    assert product(sheet(front)) == "YQ2A14-050 Hauptschalter"


def test_without_large_lines_the_first_that_begins_a_text_names_the_product() -> None:
    lines = ("lights of halls; made to work with VK 20 and VK 30", 9, 60), ("Shutter module QS-4", 9, 80)
    assert product(sheet(page(*lines, *BODY))) == "Shutter module QS-4"


def test_lines_of_one_title_stand_together() -> None:
    front = page(("Energy Meter", 16, 60), ("Type EM212", 16, 80), *BODY)
    assert product(sheet(front)) == "Energy Meter Type EM212"


def test_the_maker_is_no_product_whatever_its_size() -> None:
    lines = ("Quarrow Relays", 20, 60), ("Time relay TR-2", 14, 100), ("© 2030 Quarrow Relays Ltd", 8, 800)
    skeleton = make_skeleton(sheet(page(*lines, *BODY)), ())
    assert (skeleton.product, skeleton.maker) == ("Time relay TR-2", "Quarrow Relays Ltd")


def test_the_number_of_a_document_in_the_margin_is_no_part_of_the_name() -> None:
    front = page(("HT-2210", 9, 44, 500.0), ("Earth bars for enclosures", 17, 80), *BODY)
    assert product(sheet(front)) == "Earth bars for enclosures"


def test_two_names_of_one_size_that_stand_apart_are_no_one_product() -> None:
    beside = page(("LS-Schalter RL 2", 14, 60), ("Hauptschalter RH 3", 14, 60, 320.0), *BODY)
    under = page(("LS-Schalter RL 2", 14, 60), ("Hauptschalter RH 3", 14, 700), *BODY)
    assert [product(sheet(front)) for front in (beside, under)] == ["", ""]


def test_of_two_names_of_one_size_the_file_says_which() -> None:
    under = page(("LS-Schalter RL 2", 14, 60), ("Hauptschalter RH 3", 14, 700), *BODY)
    assert product(sheet(under, file="rh3_hauptschalter_rh_3.pdf")) == "Hauptschalter RH 3"


@pytest.mark.parametrize(
    ("noted", "found"),
    [("Documentation about Lampiride Plus", "Lampiride Plus"), ("", ""), ("Lampiride Plus", "")],
)
def test_a_name_that_shows_nothing_needs_a_document_named_after_it(noted: str, found: str) -> None:
    front = page(("Lampiride Plus", 20, 60), ("Short description", 13, 120), *BODY)
    assert product(sheet(front, noted=Noted(title=noted))) == found


def test_a_running_line_witnesses_the_product() -> None:
    pages = [page((f"Lampiride Plus Installation Manual | {n}", 8, 810), *BODY, number=n) for n in (2, 3)]
    front = page(("Lampiride Plus", 40, 60), *BODY)
    skeleton = make_skeleton(sheet(front, *pages), ())
    assert skeleton.product == "Lampiride Plus"
    assert skeleton.running == {"Lampiride Plus Installation Manual | 2", "Lampiride Plus Installation Manual | 3"}


def test_lines_of_one_size_give_the_first_that_shows_itself_a_product() -> None:
    front = page(("Quarrow & Sons", 9.5, 50), ("Contactor XC-18", 9.5, 64), ("Data sheet XQ-7", 9.5, 78), *BODY)
    assert product(sheet(front)) == "Contactor XC-18"


def test_of_a_file_without_sizes_the_lines_over_all_tables() -> None:
    shared = ("Quarrow Terminals", "Main switch MS 80")
    tables = [
        Table(page=1, number=number, rows=0, columns=0, cells=(), caption=(*shared, own))
        for number, own in enumerate(("Main contacts", "Auxiliary contacts"), start=1)
    ]
    skeleton = make_skeleton(sheet(page(), file="list.csv"), tables)
    assert (skeleton.title, skeleton.product) == ("Quarrow Terminals", "Main switch MS 80")


@pytest.mark.parametrize(("heading", "silent"), [("Lampiride Gateway", False), ("Tightening torques", True)])
def test_a_heading_of_the_first_page_may_name_what_no_line_at_its_head_does(heading: str, *, silent: bool) -> None:
    """A table begins at the top of the page: nothing is its head."""
    over = Section(heading=heading, level=1, place=Place(page=1, text=heading), language="")
    reading = Reading(place=Place(page=2, text="0.5 N·m"), entries=())
    assert prints_no_product(reading, Skeleton(page=1, sections=(over,))) is silent
