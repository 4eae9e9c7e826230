"""Who made the product, and what the document says of itself."""

from __future__ import annotations

import pytest

from torquary_ingest.skeleton.maker import find_maker, find_makers_told
from torquary_ingest.skeleton.paper import Paper, read_date, read_paper


@pytest.mark.parametrize(
    ("line", "maker"),
    [
        ("© 2019–2024 Quarrow Relays S.p.A. All rights reserved", "Quarrow Relays S.p.A."),
        ("Preisliste 2030 – Rabenbruck Schaltgeräte GmbH", "Rabenbruck Schaltgeräte GmbH"),
        ("Quarrow Elektro a.s., Lesná 4", "Quarrow Elektro a.s."),
        ("Quarrow AG | Subject to change", "Quarrow AG"),
        ("Quarrow Relays Co., Ltd. 12", "Quarrow Relays Co., Ltd."),
        ("Lumbus is a trademark of Fenwhistle Ltd", ""),
        ("Fenwhistle Ltd and any company of its group", ""),
        ("Quarrow Relays", ""),
        ("as of 2024", ""),
    ],
)
def test_a_company_at_the_edge_of_a_page(line: str, maker: str) -> None:
    assert find_maker((), [line], ()) == maker


def test_two_companies_make_none() -> None:
    lines = ["Quarrow Relays Ltd", "Distributed by", "Fenwhistle Trading Ltd"]
    assert find_maker((), lines, ()) == ""
    assert find_maker((), [*lines[:1], "© Quarrow Relays Ltd"], ()) == "Quarrow Relays Ltd"


def test_what_is_told_to_be_the_maker_goes_before_companies() -> None:
    told = find_makers_told(["Manufacturer: Quarrow Relays", "Type: XC 18"], ())
    assert told == ("Quarrow Relays",)
    assert find_maker(told, ["Fenwhistle Trading Ltd"], ()) == "Quarrow Relays"


def test_an_author_is_the_maker_when_a_company_or_printed_at_an_edge() -> None:
    assert find_maker((), ["Quarrow Relays", "Data sheet"], ("", "Quarrow Relays")) == "Quarrow Relays"
    assert find_maker((), ["Data sheet"], ("", "Quarrow Relays GmbH")) == "Quarrow Relays GmbH"
    assert find_maker((), ["Data sheet"], ("", "P. Shepwright")) == ""


@pytest.mark.parametrize(
    ("line", "paper"),
    [
        ("Document no: 177/52701", Paper(number="177/52701")),
        ("Dokument-Nr. HT-2210, Ausgabe 3/2024", Paper(number="HT-2210", edition="Ausgabe 3/2024", date="2024-03")),
        ("Edition 4, 17.05.2031", Paper(edition="Edition 4, 17.05.2031", date="2031-05-17")),
        ("Revision: D", Paper(edition="Revision: D")),
        ("the date on which it was made", Paper()),
    ],
)
def test_number_edition_and_date(line: str, paper: Paper) -> None:
    assert read_paper([line]) == paper


@pytest.mark.parametrize(
    ("text", "date"),
    [
        ("2024-05-17", "2024-05-17"), ("11/2018", "2018-11"), ("05/04/2024", "2024"), ("17/05/2024", "2024-05-17"),
        ("17.05.2024", "2024-05-17"), ("2024年5月", "2024-05"), ("2023 and 2024", ""), ("Edition 4", ""),
    ],
)  # fmt: skip
def test_a_date_is_kept_as_far_as_it_is_certain(text: str, date: str) -> None:
    assert read_date(text) == date
