"""What of a printed line names a product."""

from __future__ import annotations

import pytest

from torquary_ingest.skeleton.names import Rank, find_name, rank_of


@pytest.mark.parametrize(
    ("line", "name"),
    [
        ("Main switch MS 80", "Main switch MS 80"),
        ("MS 80 – tightening torques", "MS 80"),
        ("Tightening torques of MS 80", "MS 80"),
        ("MS 80 – torques in N·m", "MS 80"),
        ("MS 80 main switch — terminals", "MS 80 main switch"),
        ("WG 10 terminals", "WG 10 terminals"),
        ("Hauptschalter HS – technische Daten", "Hauptschalter HS"),
        ("Varmel Gen4 Product Manual", "Varmel Gen4"),
        ("Data sheet for the contactor XC 18", "contactor XC 18"),
        ("Data sheet HT-2210, edition 2", ""),
        ("Montageanleitung", ""),
        ("Operating instructions", ""),
        ("Edition 4, 2031-05", ""),
        ("Table 3-1", ""),
        ("Page 3", ""),
        ("01234.5 kWh", ""),
        ("000123,4 кВт·ч", ""),
        ("STR-4020 Shutter module", "STR-4020 Shutter module"),
        ("English", ""),
        ("mm² mm", ""),
        ("Трансформаторы серии КТ, IP00, 50/60 Гц", "Трансформаторы серии КТ"),
        ("Control transformers KT, IP20, 60 Hz", "Control transformers KT"),
        ("Nm lb-ft", ""),
        ("NM 8 A", "NM 8 A"),
        ("L1: 2.5 N·m", ""),
        ("1. Switch off the main switch.", ""),
        ("The contactor is fitted on a rail of 35 mm.", ""),
        ("Type: XC-18", "XC-18"),
        ("XC-18 contactor: power and control", "XC-18 contactor"),
        ("Contactors: power and control", ""),
        ("Firmware: 2.2 or later", ""),
        ("Disjoncteur DJ 32 · Quarrow et Lumelle", "Disjoncteur DJ 32"),
        ("Relay 7 - 10 A", "Relay 7 - 10 A"),
        ("Nulleiderklemmen en aardrails NR-serie", "Nulleiderklemmen en aardrails NR-serie"),
    ],
)
def test_a_line_without_what_names_no_product(line: str, name: str) -> None:
    assert find_name(line) == name


@pytest.mark.parametrize(
    ("name", "rank"),
    [
        ("Contactor XC-18", Rank.WHOLE),
        ("VX drives", Rank.TOLD),
        ("Main switches", Rank.TOLD),
        ("Série Lumelle", Rank.TOLD),
        ("Bodenplatte Halvorne 11", Rank.FIGURE),
        ("Lampiride", Rank.BARE),
        ("QUARROW", Rank.BARE),
        ("LQX", Rank.BARE),
        ("Quarrow Switchgear", Rank.BARE),
        ("Electrical data to IEC", Rank.BARE),
    ],
)
def test_how_surely_a_name_is_a_products(name: str, rank: Rank) -> None:
    assert rank_of(name) is rank
