"""A profile file: what is right, and one clear line for everything that is wrong."""

from __future__ import annotations

import json
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from profile_files import HEAD, MZ, codes, profile, read, write_json

from torquary_ingest.profiles import ProfileWrong, read_profile
from torquary_ingest.profiles.listing import means
from torquary_ingest.reader import draft_profile
from torquary_schema.validation import find_form_fault, read_schema
from torquary_schema.words import concepts

RIGHT: dict[str, Any] = {
    "torquary_profile": 1,
    "maker": "Quillhaven",
    "headings": [{"printed": "Mz.", "means": "torque", "unit": "N·m"}],
}


def heading(**more: Any) -> dict[str, Any]:
    return {**RIGHT, "headings": [{"printed": "Mz.", "means": "torque", "unit": "", **more}]}


def test_the_schema_is_sound_and_its_meanings_are_known_concepts() -> None:
    jsonschema.Draft202012Validator.check_schema(read_schema("profile"))
    assert set(means()) < set(concepts("heading"))
    assert find_form_fault("profile", RIGHT) is None


def test_only_what_bears_on_a_reading_is_in_the_digest(tmp_path: Path) -> None:
    one = profile(tmp_path, MZ)
    told = write_json(tmp_path, {**RIGHT, "how_to": ["fill in"], "made_from": "one.pdf"})
    assert read_profile(told).digest == one.digest
    assert profile(tmp_path, MZ, maker="Quillhaven AG").digest != one.digest
    assert profile(tmp_path, ("Mz.", "torque", "lb·in")).digest != one.digest
    assert profile(tmp_path, ("Mz.", "torque_min", "N·m")).digest != one.digest


@pytest.mark.parametrize(
    ("record", "says"),
    [
        ([], "the file: '[]' stands where fields in { } belongs"),
        ({**RIGHT, "torquary_profile": 2}, "torquary_profile: '2' is not a version that is known here; allowed: 1"),
        ({**RIGHT, "author": "Ines"}, "the field 'author' is not known; allowed: "),
        ({"torquary_profile": 1, "maker": "Quillhaven"}, "the field 'headings' is missing"),
        ({**RIGHT, "headings": []}, "headings: is empty"),
        ({**RIGHT, "maker": 3}, "maker: '3' stands where text in quotes belongs"),
        ({**RIGHT, "maker": ""}, "maker: '' names no maker"),
        ({**RIGHT, "maker": "Datenblatt"}, "maker: 'Datenblatt' names no maker"),
        ({**RIGHT, "maker": "AG 63"}, "names no maker"),
        (heading(means="torq"), "headings[0].means: 'torq' is not allowed; allowed: torque, "),
        (heading(means=""), "headings: none is explained"),
        (heading(means="", unit="N·m"), "headings[0].unit: a unit without"),
        (heading(unit="lbs"), "headings[0].unit: 'lbs' is not one certain unit of torque; allowed are such as N·m"),
        (heading(unit="Nm / lb·in"), "headings[0].unit: "),
        (heading(unit="mm²"), "headings[0].unit: "),
        (heading(means="terminal", unit="N·m"), "headings[0].unit: terminal has no unit"),
        (heading(printed="2.5"), "headings[0].printed: '2.5' has no word to explain"),
        (heading(printed="[N·m]"), "headings[0].printed: "),
        (heading(printed="Mz. lb·in", unit="N·m"), "headings[0].unit: the heading itself prints another unit"),
        (heading(printed="Mz. mm²"), "headings[0].means: the heading prints mm²"),
        (heading(printed="Motor torque"), "headings[0].means: 'Motor torque' is known as a torque or figure of"),
        (heading(printed="Anzugsmoment", means="terminal"), "'Anzugsmoment' is known as torque and cannot"),
        (heading(printed="Mz. max.", means="torque_min"), "headings[0].means: 'Mz. max.' prints the other side"),
    ],
)  # fmt: skip
def test_a_wrong_profile_is_one_line_that_says_where(tmp_path: Path, record: Any, says: str) -> None:
    with pytest.raises(ProfileWrong) as wrong:
        read_profile(write_json(tmp_path, record))
    assert says in wrong.value.message
    assert wrong.value.message.startswith(f"{tmp_path / 'mz.json'}: ")
    assert "\n" not in wrong.value.message


def test_one_heading_cannot_be_explained_twice(tmp_path: Path) -> None:
    with pytest.raises(ProfileWrong, match="explained twice"):
        profile(tmp_path, MZ, ("MZ [Nm]", "torque_min"))


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "JSON wants"),
        (b"{", "line 1, column 2"),
        ('{"torquary_profile": 1, “maker”: "Quillhaven"}'.encode(), "line 1, column 25"),
        (b"\xff\xfe{\x00", "save it again with the encoding UTF-8"),
        (b'{"maker": NaN}', "NaN is no number"),
        (b'{"maker": "A", "maker": "B"}', "'maker' stands twice"),
        (b"[" * 100_000, "take it out of the file"),
        (b" " * 1_100_000, "larger than a profile may be"),
    ],
)
def test_a_file_that_is_no_json_is_one_line(tmp_path: Path, content: bytes, says: str) -> None:
    path = tmp_path / "mz.json"
    path.write_bytes(content)
    with pytest.raises(ProfileWrong) as wrong:
        read_profile(path)
    assert says in wrong.value.message
    assert "\n" not in wrong.value.message


def test_a_folder_and_a_missing_file_are_no_profiles(tmp_path: Path) -> None:
    for path in (tmp_path, tmp_path / "none.json"):
        with pytest.raises(ProfileWrong, match="cannot be opened"):
            read_profile(path)


def test_a_byte_order_mark_does_no_harm(tmp_path: Path) -> None:
    path = tmp_path / "mz.json"
    path.write_text(json.dumps(RIGHT), "utf-8-sig")
    assert read_profile(path).headings[0].field == "torque"


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=12,
)
ITEM = st.fixed_dictionaries(
    {"printed": st.text(max_size=12) | JSON, "means": st.sampled_from([*means(), ""]) | JSON},
    optional={"unit": st.sampled_from(["", "N·m", "lb·in", "mm²", "AWG", "lbs"]) | JSON, "under_it": JSON},
)
LIKE_ONE = st.fixed_dictionaries(
    {"torquary_profile": st.just(1) | JSON, "maker": st.just("Quillhaven") | JSON, "headings": st.lists(ITEM) | JSON},
    optional={"how_to": JSON},
)


@settings(max_examples=300, deadline=None)
@given(record=JSON | LIKE_ONE)
def test_any_json_is_a_profile_or_one_line(record: Any) -> None:
    with TemporaryDirectory() as folder:
        path = write_json(Path(folder), record)
        try:
            assert read_profile(path).headings
            line = f"{path}: "
        except ProfileWrong as wrong:
            line = wrong.message
        assert line.startswith(f"{path}: ")
        assert "\n" not in line


def test_what_is_written_for_a_person_fits_the_schema_and_names_the_unknown(tmp_path: Path) -> None:
    sheet = tmp_path / "sheet.csv"
    sheet.write_text(HEAD + "Klemme;Leiter mm²;Mz.;Mz. N·m\nL1;1,5-6;2,5;2,5\nN;1,5-6;2,0;2,0\n", "utf-8")
    draft = draft_profile(sheet)
    assert find_form_fault("profile", draft) is None
    assert draft["maker"].startswith("Quillhaven")
    assert [(one["printed"], one["taken_for"]) for one in draft["headings"]] == [
        ("Klemme", "terminal"), ("Leiter mm²", "conductor"), ("Mz.", "unknown"),
    ]  # fmt: skip
    assert draft["headings"][2]["under_it"] == ["2,5", "2,0"]
    with pytest.raises(ProfileWrong, match="none is explained"):
        read_profile(write_json(tmp_path, draft))


def test_a_sheet_without_any_known_heading_is_listed_too(tmp_path: Path) -> None:
    sheet = tmp_path / "sheet.csv"
    sheet.write_text(HEAD + "Kx;Qx;Mz.\nL1;1,5-6;2,5\nN;1,5-6;2,0\n", "utf-8")
    draft = draft_profile(sheet)
    assert [(one["printed"], one["taken_for"]) for one in draft["headings"]] == [
        ("Kx", "unknown"), ("Qx", "unknown"), ("Mz.", "unknown"),
    ]  # fmt: skip


def test_a_sheet_whose_torque_heading_is_unknown_says_so(tmp_path: Path) -> None:
    """Without a torque there is no reading; the heading is named all the same."""
    report = read(tmp_path, HEAD + "Klemme;Leiter mm²;Mz.\nL1;1,5-6;2,5\n")
    assert report.settings == ()
    assert {"heading_unknown", "sheet_no_settings"} <= codes(report)
    assert [f.printed for f in report.findings if f.code == "heading_unknown"] == ["Mz."]


