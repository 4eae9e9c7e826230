"""No sequence of loads, decisions, undos, withdrawals, editions and readers loses a figure or invents one."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from histories import (
    ADDED,
    DEEDS,
    GIVEN,
    SHEETS,
    TERMINALS,
    History,
    Step,
    digest_of,
    figures,
    read,
    standing_by,
)
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from torquary_catalogue.decide.undo import undo
from torquary_catalogue.store import Catalogue, open_catalogue
from torquary_catalogue.store.record import read_made

TYPED = {"1.1", "0.9", "0.7"}
"""Figures that people type."""
_NAMED = """
SELECT sheet, setting FROM name_given JOIN decision USING (sheet, setting, decided_at)
JOIN decision_record USING (number, sheet, setting) WHERE terminal_printed IS NOT NULL AND undone_by IS NULL"""
"""Settings to which a decision that stands gives a terminal."""
_STEPS = st.lists(
    st.builds(Step, deed=st.sampled_from(sorted(DEEDS)), at=st.integers(0, 11), more=st.integers(0, 11)),
    min_size=3, max_size=9,
)  # fmt: skip
_FIRST = st.lists(st.sampled_from(range(len(SHEETS))), min_size=2, max_size=3, unique=True)
_COUNT = os.environ.get("TORQUARY_HISTORIES")
# The suite tries the same few each time; a trial of many tries others, --hypothesis-seed those of a seed.
_RUN = settings(
    max_examples=int(_COUNT or "3"), deadline=None, derandomize=not _COUNT, database=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)  # fmt: skip


@pytest.fixture(scope="module")
def empty(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("histories") / "empty.duckdb"
    open_catalogue(path, writing=True).close()
    return path


@contextmanager
def copied(empty: Path, name: str) -> Iterator[History]:
    path = empty.with_name(f"{name}.duckdb")
    shutil.copyfile(empty, path)
    with open_catalogue(path, writing=True) as catalogue:
        # Making ready a statement is most of its time; more threads only wait for each other on a busy machine.
        catalogue.connection.execute("SET threads = 1")
        yield History(catalogue)


def check(history: History) -> None:
    """Hold the catalogue against what was printed, typed and decided."""
    catalogue = history.catalogue
    states = {row["digest"]: row["state"] for row in catalogue.rows("SELECT digest, state FROM sheet")}
    assert set(states) == {digest_of(sheet) for sheet in history.loaded}
    shown = catalogue.rows("SELECT sheet, id, state, terminal_printed, max_nm FROM current_setting")
    assert {row["sheet"] for row in shown} <= {digest for digest, state in states.items() if state == "read"}
    columns = "sheet, row_number, state, read_state, read_max_nm, max_nm, id, terminal_printed"
    rows = catalogue.rows(f"SELECT {columns} FROM setting")
    for sheet in history.loaded:
        _check_rows(sheet, states[digest_of(sheet)], [row for row in rows if row["sheet"] == digest_of(sheet)])
    _check_decided(catalogue, rows)


def _check_rows(sheet: tuple[str, int], state: str, rows: list[dict[str, object]]) -> None:
    """What a reader reads is there, each row once; a figure is one that is printed or typed."""
    assert [row["terminal_printed"] for row in rows if row["row_number"] is None] in ([], [ADDED], ["L7"])
    numbers = sorted(int(str(row["row_number"])) for row in rows if row["row_number"] is not None)
    every = list(range(1, len(TERMINALS) + 1))
    assert numbers in (every, [at for at in every if TERMINALS[at - 1] != "PE"])
    for row in rows:
        printed = {f"{one.torque.max_nm:f}" for one in read(sheet, 1).settings if one.torque and one.torque.max_nm
                   and one.place.row == row["row_number"]}  # fmt: skip
        figure = None if row["max_nm"] is None else f"{row['max_nm'].normalize():f}"  # type: ignore[attr-defined]
        assert (figure is not None) == (row["state"] == "released")
        assert figure is None or figure in printed | TYPED
        assert (row["state"] == "superseded") == (state != "read")


def _check_decided(catalogue: Catalogue, rows: list[dict[str, object]]) -> None:
    """What differs from what was read has a decision that stands, or one that asks."""
    decided = {(row["sheet"], row["setting"]) for row in catalogue.rows("SELECT sheet, setting FROM last_decision")}
    asking = {
        (row["sheet"], row["setting"])
        for row in catalogue.rows("SELECT sheet, setting FROM finding WHERE code = 'decision_unconfirmed'")
    }
    named = {(row["sheet"], row["setting"]) for row in catalogue.rows(_NAMED)}
    answered = {
        (row["sheet"], row["setting"])
        for row in catalogue.rows("SELECT sheet, setting FROM finding WHERE code = 'evidence_given'")
    }
    assert not answered or catalogue.rows("SELECT 1 FROM decision_record WHERE kind = 'answer' AND undone_by IS NULL")
    decided |= answered
    for row in rows:
        one = (row["sheet"], row["id"])
        name = row["terminal_printed"]
        assert name in TERMINALS or one in named or name == ADDED or (name == GIVEN and one in answered)
        as_read = row["state"] in ("superseded", row["read_state"]) and row["max_nm"] in (None, row["read_max_nm"])
        assert as_read or (row["sheet"], row["id"]) in decided | asking


@_RUN
@given(first=_FIRST, steps=_STEPS)
def test_nothing_is_lost_or_invented_and_the_same_history_gives_the_same(
    empty: Path, first: list[int], steps: list[Step]
) -> None:
    told = []
    for name in ("one", "two"):
        with copied(empty, name) as history:
            numbers = 0
            for step in (*(Step("load", at) for at in first), *steps):
                history.do(step)
                check(history)
                made = read_made(history.catalogue)
                assert len(made) >= numbers
                assert [one.number for one in made] == list(range(1, len(made) + 1))
                numbers = len(made)
            told.append((figures(history.catalogue), [(one.kind, one.sheet, one.undone_by) for one in made]))
    assert told[0] == told[1]


@_RUN
@given(first=_FIRST, steps=_STEPS)
def test_all_that_people_decided_taken_back_leaves_what_is_read(
    empty: Path, first: list[int], steps: list[Step]
) -> None:
    """Also what they took back themselves. What they said of two sheets is theirs, and not part of this."""
    with copied(empty, "one") as history:
        for step in (*(Step("load", at) for at in first), *steps):
            if step.deed not in ("take the place", "stay beside"):
                history.do(step)
        while standing := standing_by(history.catalogue, "Ines"):
            undo(history.catalogue, standing[-1].number, who="Jan", why="all of it")
        loaded = list(history.loaded)
        for sheet in loaded:
            history.do(Step("load", SHEETS.index(sheet)))
        with copied(empty, "two") as fresh:
            fresh.reader = history.reader
            for sheet in loaded:
                fresh.do(Step("load", SHEETS.index(sheet)))
            assert figures(history.catalogue) == figures(fresh.catalogue)
