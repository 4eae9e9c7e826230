"""Nothing that was read from a picture is released, whatever else is said of it; its doubts are said."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from torquary_ingest import proposals
from torquary_ingest.document import Cell, Document, Doubt, Page, Seen, Table, Word
from torquary_ingest.extractors.headed import HeadedTables
from torquary_ingest.normalise import settle
from torquary_ingest.proposals import describe_proposals, hold_scanned
from torquary_ingest.skeleton import make_skeleton
from torquary_schema.values import Box, Setting

DOUBT = Doubt(code="scanned_figure", message="read from a picture")


def word(text: str, *, sure: float | None = 0.99, also: str = "") -> Word:
    doubts = () if sure is None else (DOUBT,)
    return Word(text=text, box=Box(x0=0, top=0, x1=9, bottom=9), size=9, sure=sure, also=also, doubts=doubts)


def table(rows: list[list[Word]]) -> Table:
    cells = tuple(
        Cell(row=r, column=c, text=one.text, words=(one,), doubts=one.doubts)
        for r, row in enumerate(rows, start=1)
        for c, one in enumerate(row, start=1)
    )
    return Table(page=1, number=1, rows=len(rows), columns=len(rows[0]), cells=cells)


def read(rows: list[list[Word]], *, seen: Seen | None = None) -> tuple[Setting, ...]:
    """The settings of rows under a heading of live text; a page that is `seen` is a picture as a whole."""
    made = table([[word(t, sure=None) for t in ("Terminal", "Conductor mm²", "Torque N·m")], *rows])
    page = Page(number=1, tables=(made,), seen=seen)
    document = Document(file="a.png", kind="picture", pages=(page,), page_count=1)
    readings = describe_proposals(tuple(HeadedTables().readings(document, (made,))))
    found, _ = settle(document, (made,), readings, make_skeleton(document, (made,)))
    return hold_scanned(document, (made,), found)


def messages(setting: Setting) -> list[str]:
    return [finding.message for finding in setting.findings if finding.code == "scanned_figure"]


def test_two_scales_that_disagree_are_said() -> None:
    (setting,) = read([[word("L1"), word("10"), word("25", also="2.5")]])
    assert setting.state == "held"
    [message] = messages(setting)
    assert "“25” at full size, “2.5” at two thirds of it" in message


def test_little_certainty_is_said() -> None:
    (setting,) = read([[word("L1"), word("10"), word("2.5", sure=0.61)]])
    [message] = messages(setting)
    assert "“2.5” (61%, which is little)" in message


def test_a_figure_outside_the_pattern_of_its_column_is_said() -> None:
    rows = [[word(f"L{n}"), word("10"), word(figure)] for n, figure in enumerate(("2.5", "3.0", "3.5", "4.0", "45"))]
    told = {s.torque.printed: "not written as the others" in messages(s)[0] for s in read(rows) if s.torque}
    assert told == {"2.5": False, "3.0": False, "3.5": False, "4.0": False, "45": True}


def test_a_row_of_live_text_is_released() -> None:
    assert [s.state for s in read([[word(text, sure=None) for text in ("L1", "10", "2.5")]])] == ["released"]


@pytest.mark.parametrize("scanned", range(3))
def test_one_scanned_cell_of_a_row_holds_its_figure(scanned: int) -> None:
    row = [word(text, sure=0.99 if at == scanned else None) for at, text in enumerate(("L1", "10", "2.5"))]
    assert [s.state for s in read([row])] == ["held"]


@pytest.mark.parametrize("rule", ["the doubt of each word", "the hold of each scanned page and table"])
def test_each_of_two_rules_alone_holds_what_was_scanned(monkeypatch: pytest.MonkeyPatch, rule: str) -> None:
    """One reads the words of each figure, the other asks where the figure stands; either suffices."""
    row = [word("L1"), word("10"), word("2.5")]
    if rule.startswith("the doubt"):
        monkeypatch.setattr(proposals, "_hold", lambda setting: setting)
    else:
        row = [replace(one, doubts=()) for one in row]
    assert [s.state for s in read([row])] == ["held"]


@settings(max_examples=60, deadline=None)
@given(
    rows=st.lists(
        st.tuples(
            st.sampled_from(["L1", "PE", "N", "Load", ""]),
            st.sampled_from(["10", "1.5-6", "AWG 8", "x", ""]),
            st.sampled_from(["2.5", "3,0", "22 lb-in", "2.5 N·m / 22 lb·in", "25", "~", ""]),
            st.floats(0, 1),
            st.sampled_from(["", "2.5", "8"]),
            st.booleans(),
        ),
        min_size=1,
        max_size=5,
    ),
    whole=st.booleans(),
)
def test_nothing_scanned_is_released(rows: list[tuple[str, str, str, float, str, bool]], whole: bool) -> None:
    made = []
    for terminal, size, torque, sure, also, doubted in rows:
        row = [word(terminal), word(size), word(torque, sure=sure, also=also)]
        made.append(row if doubted else [replace(one, doubts=()) for one in row])
    seen = Seen(packed=b"", wide=1, scale=1.0) if whole else None
    assert [s.state for s in read(made, seen=seen) if s.state == "released"] == []
