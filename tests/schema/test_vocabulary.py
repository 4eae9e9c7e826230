"""Closed vocabularies: every key defined, every standard named, markings told by their standards."""

import json
from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis import strategies as st

from torquary_schema.vocabulary import VOCABULARIES, VocabularyName, define, keys, roles_of_markings, vocabulary

TRADE_MARKS = ("phillips", "pozidriv", "torx", "robertson", "allen", "inbus", "supadriv")


@pytest.mark.parametrize("name", VOCABULARIES)
def test_every_key_has_a_term_a_definition_and_a_source(name: VocabularyName) -> None:
    entries = vocabulary(name)
    assert entries
    for key, entry in entries.items():
        assert entry.key == key
        assert entry.term
        assert entry.definition.endswith(".")
        assert entry.standard
        assert define(name, key) == entry.definition


def test_an_unknown_name_or_key_is_refused() -> None:
    with pytest.raises(FileNotFoundError):
        vocabulary("colour")
    with pytest.raises(KeyError):
        define("drive", "star")


@pytest.mark.parametrize("name", VOCABULARIES)
def test_no_trade_mark_name_is_shown(name: VocabularyName) -> None:
    text = json.dumps(
        json.loads((files("torquary_schema") / "vocabulary" / f"{name}.json").read_text("utf-8"))
    ).casefold()
    assert not any(mark in text for mark in TRADE_MARKS)


def test_stranding_follows_the_classes_of_iec_60228() -> None:
    """Classes 1, 2, 5 and 6 of IEC 60228 (seen in print)."""
    assert {key: entry.conductor_class for key, entry in vocabulary("stranding").items()} == {
        "solid": 1,
        "stranded": 2,
        "flexible": 5,
        "extra_flexible": 6,
    }


def test_cross_recess_sizes_follow_iso_4757() -> None:
    """Recess numbers 0 to 4 of ISO 4757 (seen in print)."""
    assert vocabulary("drive")["cross_h"].sizes == ("0", "1", "2", "3", "4")
    assert vocabulary("drive")["cross_z"].sizes == ("0", "1", "2", "3", "4")


@pytest.mark.parametrize(
    ("label", "roles"),
    [
        # IEC 60445: L1 L2 L3 and N seen in print; L, PEN, FE, L+ from memory.
        ("L", ("line",)),
        ("L1, L2, L3", ("line",)),
        ("L1–L3", ("line",)),
        ("L1、L2、L3", ("line",)),
        ("L1 to L3", ("line",)),
        ("n", ("neutral",)),
        ("PE", ("protective_earth",)),
        ("PEN", ("pen",)),
        ("FE", ("functional_earth",)),
        ("L+", ("dc_positive",)),
        ("L−", ("dc_negative",)),
        # IEC 60947-1 and EN 50005, from memory.
        ("1/L1", ("line_in",)),
        ("1/L1–5/L3", ("line_in",)),
        ("2/T1 4/T2 6/T3", ("load_out",)),
        ("A1/A2", ("coil",)),
        ("A1–A2", ("coil",)),
        ("U V W", ("motor",)),
        ("C1 C2", ("shunt_release",)),
        ("D1, D2", ("undervoltage_release",)),
        # EN 50005, function digits: seen in print.
        ("13-14", ("aux_no",)),
        ("21–22", ("aux_nc",)),
        ("55-56", ("aux_nc_late",)),
        ("67-68", ("aux_no_early",)),
        ("11-12-14", ("aux_co",)),
        ("95-96", ("trip_signal",)),
        ("95/98", ("trip_signal",)),
        ("05-06-08", ("aux",)),
        ("13-14, 21-22", ("aux_no", "aux_nc")),
        # Several.
        ("L1, N", ("line", "neutral")),
        ("L1, L2, L3 and N", ("line", "neutral")),
        ("L N PE", ("line", "neutral", "protective_earth")),
        ("1/L1, 3/L2, 5/L3, 7/N", ("line_in", "neutral")),
        ("L+ / L−", ("dc_positive", "dc_negative")),
        ("L1, 13, 14", ("line", "aux_no")),
        # Nothing, or nothing certain: "L-N" is a voltage between two.
        ("L-N", ()),
        ("N-PE", ()),
        ("L1, X7", ()),
        ("1", ()),
        ("1-3", ()),
        ("A", ()),
        ("E", ()),
        ("U", ()),
        ("X1", ()),
        ("11-28", ()),
        ("-", ()),
        ("—", ()),
        ("", ()),
    ],
)
def test_roles_of_markings(label: str, roles: tuple[str, ...]) -> None:
    assert roles_of_markings(label) == roles


def test_every_listed_marking_stands_for_its_role_unless_it_only_counts_points() -> None:
    for entry in vocabulary("role").values():
        for marking in entry.markings:
            alone = roles_of_markings(marking)
            assert alone == (entry.key,) or (alone == () and len(marking) == 1)


@given(st.text(max_size=30))
def test_any_label_gives_keys_or_nothing(label: str) -> None:
    assert set(roles_of_markings(label)) <= set(keys("role"))
