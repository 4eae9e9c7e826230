"""Printed words: what each stands for, in many languages, and where it stands in the text."""

import csv
from itertools import pairwise
from pathlib import Path
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from torquary_schema.units import find_units
from torquary_schema.vocabulary import VOCABULARIES, keys
from torquary_schema.words import KINDS, Kind, concepts, fold, languages, spellings, spot

FACTS = Path(__file__).parents[1] / "facts"
REQUIRED_LANGUAGES = ("en", "de", "fr", "es", "it", "nl", "pl", "ja", "zh")
# Concepts that few trades or languages have a printed word for; English alone must know them.
RARE = {
    "role": {
        *("pen", "pem", "pel", "frame", "equipotential", "dc_positive", "dc_negative", "dc_midpoint", "motor"),
        *("aux_nc", "aux_no", "aux_nc_late", "aux_no_early", "aux_co", "measuring", "communication"),
        *("trip_signal", "shunt_release", "undervoltage_release", "functional_earth"),
    },
    "family": {"afdd", "tse", "rcm", "rcd_screwless", "tb_pe", "pcb_tb", "asm"},
    "clamp": {"pillar", "stud", "saddle", "mantle", "ipc", "split_bolt"},
    "drive": {"cross_h", "cross_z", "hexalobular", "square", "combi"},
    "connective": {"from", "with", "per", "and", "range"},
    "false_friend": {"tool_range"},
    "torque_kind": {"prevailing_torque", "loosening_torque", "test_torque", "operating_torque"},
    "document_word": {"company"},  # legal forms are the same in all languages
    "purpose": {"other"},
    "heading": {"unit", "torque_min", "torque_max"},
    "stranding": {"extra_flexible"},
    "ferrule": {"either"},
    "instruction": {"of", "attribute_before", "attribute_behind"},
}
# No language prints these as words: they are told from the marking alone (EN 50005).
MARKED_ONLY = {("role", "aux_nc_late"), ("role", "aux_no_early"), ("instruction", "attribute_behind")}


def found(kind: Kind, text: str) -> list[str]:
    return [match.concept for match in spot(kind, text)]


@pytest.mark.parametrize(
    ("kind", "text", "expected"),
    [
        ("heading", "Tightening torque (max.) N·m", ["torque_max"]),
        ("heading", "Torque (rec.)", ["torque"]),
        ("heading", "Anzugs-\ndrehmoment Nm", ["torque"]),
        ("heading", "ANSCHLUSSQUERSCHNITT", ["conductor"]),
        ("heading", "Anschlußquerschnitt", ["conductor"]),
        ("heading", "Sammelschienenquerschnitt", ["conductor"]),
        ("heading", "Con-\nductor\nmm²", ["conductor"]),
        ("heading", "T O R Q U E", ["torque"]),
        ("heading", "Torque¹", ["torque"]),
        ("heading", "couple de serrage", ["torque"]),
        ("heading", "Nombre de fils par borne", ["count", "count"]),
        ("heading", "moment dokrecania", ["torque"]),
        ("heading", "締付\nトルク", ["torque"]),
        ("heading", "ﾄﾙｸ", ["torque"]),
        ("heading", "拧紧力矩（N·m）", ["torque"]),
        ("heading", "Abisolierlaenge", ["strip_length"]),
        ("heading", "A", []),
        ("stranding", "fein-drähtig / finely stranded", ["flexible", "flexible"]),
        ("stranding", "eindraehtig", ["solid"]),
        ("ferrule", "mit Aderendhülse ohne Kunststoffkragen", ["with"]),
        ("ferrule", "ohne Aderendhülse", ["without"]),
        ("ferrule", "with or without ferrule", ["either"]),
        ("connective", "0.8to1.2", ["range"]),
        ("connective", "1 do 5", ["range"]),
        ("connective", "do.", ["ditto"]),
        ("connective", "2,5 t/m 4 mm²", ["max"]),
        ("connective", "TM-63", []),
        ("connective", '"', ["ditto"]),
        ("connective", '1/4"', []),
        ("connective", "≤ 1.8", ["max"]),
        ("drive", "PH2, PZ 2", ["cross_h", "cross_z"]),
        ("drive", "+ / − ドライバービット No.2", ["combi"]),
        ("drive", "+ドライバービット No.2", ["cross"]),
        ("false_friend", "Drehmoment", []),
        ("false_friend", "handfest anziehen", ["hand_tight"]),
        ("purpose", "Befestigungsschraube", ["mounting"]),
        ("role", "pencil", []),
    ],
)
def test_spot_finds_the_concept(kind: Kind, text: str, expected: list[str]) -> None:
    assert found(kind, text) == expected


def test_the_longest_word_is_served_first() -> None:
    assert found("heading", "Minimum tightening torque") == ["torque_min"]
    assert found("torque_kind", "Motordrehmoment") == ["motor_torque"]


def test_every_kind_has_concepts_and_unknown_kinds_are_refused() -> None:
    assert all(concepts(kind) for kind in KINDS)
    with pytest.raises(KeyError):
        concepts("colour")
    with pytest.raises(KeyError):
        spot("colour", "red")


def test_there_are_at_least_fourteen_languages() -> None:
    assert len(languages()) >= 14
    assert set(REQUIRED_LANGUAGES) <= set(languages())


@pytest.mark.parametrize("kind", KINDS)
def test_every_concept_has_words_in_the_required_languages(kind: Kind) -> None:
    rare = RARE.get(kind, set())
    missing = [
        (language, concept)
        for language in REQUIRED_LANGUAGES
        for concept in concepts(kind)
        if not spellings(kind, concept, language)
        and (kind, concept) not in MARKED_ONLY
        and (language == "en" or concept not in rare)
    ]
    assert missing == []


@pytest.mark.parametrize("kind", [name for name in VOCABULARIES if name not in ("state", "condition")])
def test_concepts_of_values_are_the_keys_of_the_vocabulary(
    kind: Literal["role", "family", "clamp", "drive", "stranding", "material", "purpose"],
) -> None:
    assert tuple(concepts(kind)) == keys(kind)


@pytest.mark.parametrize("kind", KINDS)
def test_a_spelling_alone_is_understood_as_its_own_concept(kind: Kind) -> None:
    """Loading refuses a spelling with two concepts; here each is also found again, whatever surrounds it."""
    wrong = [
        (language, concept, printed)
        for language in languages()
        for concept in concepts(kind)
        for printed in spellings(kind, concept, language)
        if concept not in found(kind, printed.strip("|") if printed[0] == "|" else f"0 {printed.strip('*=')} 0")
    ]
    assert wrong == []


def trade_words(name: str) -> list[str]:
    """Return the trade words of a list in tests/facts (its source is given in the file)."""
    with (FACTS / name).open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    columns = ("concept_en", "de", "fr", "es", "it", "pl", "nl", "ja", "zh", "ru", "words")
    cells = (row.get(column) or "" for row in rows for column in columns)
    return sorted({part.strip() for cell in cells for part in cell.split(";") if part.strip()})


@pytest.mark.parametrize("printed", trade_words("terms_multilingual.csv") + trade_words("terms_seen.csv"))
def test_each_word_of_the_trade_lists_is_understood(printed: str) -> None:
    """Words in ten languages: trade vocabulary seen in print (terms_multilingual.csv, terms_seen.csv)."""
    assert find_units(printed) or any(spot(kind, printed) for kind in KINDS)


@given(st.sampled_from(KINDS), st.text(max_size=60))
def test_any_text_gives_ordered_matches_inside_it(kind: Kind, text: str) -> None:
    matches = spot(kind, text)
    assert all(text[match.start : match.end] == match.printed and match.printed for match in matches)
    assert all(one.end <= two.start for one, two in pairwise(matches))
    assert {match.concept for match in matches} <= set(concepts(kind))


@given(st.text(max_size=60))
def test_folding_is_stable(text: str) -> None:
    once = fold(text)
    assert fold(once) == once
    assert "  " not in once
    assert once == once.strip()


@given(
    st.sampled_from([("torque", "de"), ("conductor", "fr"), ("terminal", "en"), ("strip_length", "ja")]),
    st.data(),
)
def test_noise_around_a_word_does_not_hide_it(pair: tuple[str, str], data: st.DataObject) -> None:
    concept, language = pair
    words = [word for word in spellings("heading", concept, language) if not set("*|") & set(word)]
    printed = data.draw(st.sampled_from(words))
    before = data.draw(st.sampled_from(["", "(", "• ", "12 ", "\n", "[1] "]))
    after = data.draw(st.sampled_from(["", ":", " 2,5", ")", "\n", " (N·m)", "1)"]))
    assert concept in found("heading", before + printed.upper() + after)


CABLES = [("câblé", ["stranded"]), ("Câblés", ["stranded"]), ("câble", []), ("Cable", [])]


@pytest.mark.parametrize(("text", "stranding"), CABLES)
def test_a_cable_is_not_a_stranded_conductor(text: str, stranding: list[str]) -> None:
    """A heading "Cable" over sizes says nothing of how the conductor is built."""
    assert [match.concept for match in spot("stranding", text)] == stranding
