"""Screw drives as printed, trade-mark aliases among them, to vocabulary kinds."""

from __future__ import annotations

import pytest

from torquary_ingest.figures import read_drive
from torquary_schema.vocabulary import keys

PRINTED = [
    ("PZ2", "", [("cross_z", "2")]),
    ("PZ 2 6 x 100 mm", "", [("cross_z", "2")]),
    ("+ドライバービット No.2", "", [("cross", "2")]),
    ("SL 0.8x4", "", [("slot", "0.8x4")]),
    ("0,8 x 4,0 mm", "", [("slot", "0.8x4")]),
    ("0.8x4", "Schlitz", [("slot", "0.8x4")]),
    ("5 mm hex", "", [("hex_socket", "5 mm")]),
    ("SW5", "", [("hex_socket", "5 mm")]),
    ("AF 5", "", [("hex_socket", "5 mm")]),
    ("T20", "", [("hexalobular", "20")]),
    ("TX20", "", [("hexalobular", "20")]),
    ('1/4" slot', "", [("slot", "1/4 in")]),
    ("#2 Phillips", "", [("cross_h", "2")]),
    ("+/-", "", [("combi", "")]),
    ("PZ2/SL", "", [("combi", "2")]),
    ("SL 1.0 x 5.5 or PZ2", "", [("slot", "1x5.5"), ("cross_z", "2")]),
    ("PH2 / SL 1.0x5.5", "", [("cross_h", "2"), ("slot", "1x5.5")]),
    ("cross Z2", "", [("cross_z", "2")]),
    ("cross Z2 / slot 1.0x5.5", "", [("cross_z", "2"), ("slot", "1x5.5")]),
    ("SL 0.8x4, cross recess type Z 1", "", [("slot", "0.8x4"), ("cross_z", "1")]),
    ("Kreuzschlitz H2", "", [("cross_h", "2")]),
    ("Z2", "Cross recess", [("cross_z", "2")]),
    ("Z2", "Bit", [("cross_z", "2")]),
    ("PZ2/0.8x4", "", [("cross_z", "2"), ("slot", "0.8x4")]),
    ("0.8 x 4 mm / PZ1", "", [("slot", "0.8x4"), ("cross_z", "1")]),
    ("SL5.5/PZ2", "", [("slot", ""), ("cross_z", "2")]),
    ("2.5x16", "", [("slot", "2.5x16")]),
    ("2.6x16", "", []),
    ("1x20", "", [("slot", "1x20")]),
    ("1x21", "", []),
    ("Z2", "", []),
    ("H2", "Bit", []),
    ("crossing Z2", "", []),
    ("M5", "", []),
    ("L1, L2", "", []),
]


@pytest.mark.parametrize(("text", "heading", "wanted"), PRINTED)
def test_drives(text: str, heading: str, wanted: list[tuple[str, str]]) -> None:
    assert [(d.kind, d.size) for d in read_drive(text, heading=heading)] == wanted


def test_kinds_are_words_of_the_vocabulary() -> None:
    known = set(keys("drive"))
    assert {kind for _, _, wanted in PRINTED for kind, _ in wanted} <= known
