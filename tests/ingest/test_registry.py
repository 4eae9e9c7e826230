"""Plug-ins are found, loaded and chosen; none, one and two matches are three different answers."""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest

from torquary_ingest.document import Document, Page
from torquary_ingest.errors import SheetRefused
from torquary_ingest.registry import (
    BUILT_IN,
    EXTRACTORS,
    OPENERS,
    Group,
    choose_extractors,
    choose_opener,
    find_plugins,
    recognise_file,
)

ROOT = Path(__file__).parents[2]
EMPTY = Document(file="a.csv", kind="test", pages=(Page(number=1),), page_count=1)

Install = Callable[[str, Group, str], None]


@pytest.fixture
def install(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Install:
    """Put a distribution with one plug-in on the search path: its name, its group, its module's text."""

    def put(name: str, group: Group, text: str) -> None:
        place = tmp_path / f"site_{name}"
        information = place / f"{name}-1.0.dist-info"
        information.mkdir(parents=True)
        (place / f"{name}_plugin.py").write_text(text)
        (information / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {name}\nVersion: 1.0\n")
        (information / "entry_points.txt").write_text(f"[{group}]\n{name} = {name}_plugin:Made\n")
        monkeypatch.syspath_prepend(str(place))
        monkeypatch.delitem(sys.modules, f"{name}_plugin", raising=False)

    return put


def extractor(name: str, *, specific: bool = True, recognises: str = "True") -> str:
    return (
        f"class Made:\n    name = {name!r}\n    specific = {specific}\n"
        f"    def recognises(self, document): return {recognises}\n"
        "    def readings(self, document, tables): return ()\n"
    )


def opener(name: str) -> str:
    return (
        f"class Made:\n    name = {name!r}\n"
        "    def recognises(self, path, head): return head.startswith(b'DRUM')\n"
        "    def open(self, path, wish): raise NotImplementedError\n"
    )


def test_ours_are_registered_in_the_groups_that_others_use() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    declared = [
        (group, name, value) for group, points in project["entry-points"].items() for name, value in points.items()
    ]
    assert declared == [(point.group, point.name, point.value) for point in BUILT_IN]


@pytest.mark.parametrize("group", [OPENERS, EXTRACTORS])
def test_all_of_ours_load(group: Group) -> None:
    ours = [plugin for plugin in find_plugins(group) if plugin.built_in]
    assert [plugin.fault for plugin in ours] == [""] * len(ours)
    assert len(ours) == sum(point.group == group for point in BUILT_IN)


def test_one_specific_extractor_goes_before_the_general_ones(install: Install) -> None:
    install("drum", EXTRACTORS, extractor("drum"))
    chosen, findings = choose_extractors(EMPTY)
    assert chosen[0].name == "drum"
    assert all(not one.specific for one in chosen[1:])
    assert findings == ()


def test_two_specific_extractors_for_one_sheet_are_both_named_and_neither_is_used(install: Install) -> None:
    install("drum", EXTRACTORS, extractor("drum"))
    install("fife", EXTRACTORS, extractor("fife"))
    chosen, [finding] = choose_extractors(EMPTY)
    assert chosen == ()
    assert finding.code == "extractors_clash"
    assert "drum" in finding.message
    assert "fife" in finding.message


def test_no_extractor_is_an_answer_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("torquary_ingest.registry.BUILT_IN", ())
    monkeypatch.setattr("torquary_ingest.registry._find_installed", lambda path: ())
    monkeypatch.setattr("sys.path", ["nowhere"])
    assert [finding.code for finding in choose_extractors(EMPTY)[1]] == ["no_extractor"]


def test_an_extractor_that_stops_is_named_and_the_others_go_on(install: Install) -> None:
    install("drum", EXTRACTORS, extractor("drum", recognises="1 / 0"))
    chosen, [finding] = choose_extractors(EMPTY)
    assert finding.code == "extractor_crashed"
    assert "drum" in finding.message
    assert "drum" not in [one.name for one in chosen]
    assert chosen


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("import no_such_module_anywhere", "no_such_module_anywhere"),
        ("raise RuntimeError('broken\\nat the start')", "broken at the start"),
        ("class Made:\n    name = 'drum'\n", "no method recognises"),
        (extractor("fife"), "`name` is not 'drum'"),
        (extractor("drum").replace("specific = True", "specific = 'yes'"), "`specific`"),
    ],
)
def test_a_plugin_that_cannot_be_used_is_a_finding(install: Install, text: str, said: str) -> None:
    install("drum", EXTRACTORS, text)
    chosen, [finding] = choose_extractors(EMPTY)
    assert finding.code == "plugin_unusable"
    assert finding.message.startswith("plug-in drum (drum): ")
    assert said in finding.message
    assert "\n" not in finding.message
    assert chosen


def test_a_plugin_with_a_name_of_ours_is_not_used(install: Install) -> None:
    install("headed", EXTRACTORS, extractor("headed"))
    _, [finding] = choose_extractors(EMPTY)
    assert "taken by torquary" in finding.message


def test_an_opener_from_elsewhere_goes_before_ours(install: Install, tmp_path: Path) -> None:
    install("drum", OPENERS, opener("drum"))
    sheet = tmp_path / "sheet.csv"
    sheet.write_bytes(b"DRUM;1;2\n")
    assert choose_opener(sheet)[0].name == "drum"


def test_two_openers_from_elsewhere_refuse_the_file_by_name(install: Install, tmp_path: Path) -> None:
    install("drum", OPENERS, opener("drum"))
    install("fife", OPENERS, opener("fife"))
    sheet = tmp_path / "sheet.csv"
    sheet.write_bytes(b"DRUM;1;2\n")
    with pytest.raises(SheetRefused, match=r"drum.*fife") as refused:
        choose_opener(sheet)
    assert refused.value.code == "openers_clash"


@pytest.mark.parametrize(
    ("content", "code"),
    [(b"", "sheet_empty"), (bytes(range(256)) * 4, "sheet_unknown_kind"), (None, "sheet_unreachable")],
)
def test_a_file_that_no_opener_can_take_is_refused(tmp_path: Path, content: bytes | None, code: str) -> None:
    sheet = tmp_path / "sheet.bin"
    if content is not None:
        sheet.write_bytes(content)
    with pytest.raises(SheetRefused) as refused:
        choose_opener(sheet)
    assert refused.value.code == code
    assert not recognise_file(sheet)
