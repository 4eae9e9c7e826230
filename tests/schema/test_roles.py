"""Which roles a label names, and which terminals may be one."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from torquary_schema.roles import may_share_terminal, roles_of_label
from torquary_schema.vocabulary import keys


@pytest.mark.parametrize(
    ("label", "roles"),
    [
        # A side and a conductor are said of one terminal.
        ("Load side N", ("load_out", "neutral")),
        ("Load side, neutral", ("load_out", "neutral")),
        ("Line side / N", ("line_in", "neutral")),
        ("Line L, N", ("line_in", "line", "neutral")),
        ("Abgang 2, N", ("load_out", "line", "neutral")),
        ("1, 3, 5 and N", ("line", "neutral")),
        ("Terminal 1 N", ("neutral",)),
        ("5/L3, 7/N", ("line_in", "neutral")),
        ("Entrée L1 L2 L3 N", ("line_in", "line", "neutral")),
        ("Phase (load side)", ("line", "load_out")),
        # Several conductors or sides that share a figure.
        ("L1, L2, L3 and N", ("line", "neutral")),
        ("Terminals L1, L2, L3 and N", ("line", "neutral")),
        ("Klemmen L1, L2, L3, N und PE", ("line", "neutral", "protective_earth")),
        ("相线 L 和 N", ("line", "neutral")),
        ("Line and load", ("line_in", "load_out")),
        ("Line and neutral", ("line_in", "line", "neutral")),
        ("Neutral and earth bars", ("neutral", "earth")),
        ("L+ / L-", ("dc_positive", "dc_negative")),
        # One thing said twice: the narrower stays.
        ("earth terminal PE", ("protective_earth",)),
        ("PE / earth", ("protective_earth",)),
        ("Main terminals, supply side", ("line_in",)),
        ("Main terminals L1 L2 L3", ("line",)),
        # The side of another circuit is none of the main circuit.
        ("Control input", ("control",)),
        ("Control circuit / Input", ("control",)),
        ("Line side / A1-A2", ("coil",)),
        ("Alarm output", ("trip_signal",)),
        ("Line, load and control terminals", ("line_in", "load_out", "line", "control")),
        # A word inside another, and what is no marking.
        ("Line conductor", ("line",)),
        ("plus pole", ("dc_positive",)),
        ("Frame T2, neutral", ("neutral",)),
        ("X7", ()),
        ("n° de borne", ()),
        ("N° 4", ()),
        ("Terminals", ()),
        ("", ()),
    ],
)
def test_a_label_has_each_role_that_it_names(label: str, roles: tuple[str, ...]) -> None:
    assert roles_of_label(label) == roles


_PIECES = st.sampled_from(["L1", "N", "PE", " / ", ", ", " and ", "Load side", "A1"])


@given(st.text(max_size=40) | st.lists(_PIECES).map("".join))
def test_any_label_has_keys_each_once(label: str) -> None:
    roles = roles_of_label(label)
    assert set(roles) <= set(keys("role"))
    assert len(set(roles)) == len(roles)


@pytest.mark.parametrize(
    ("one", "other", "may"),
    [
        (("neutral",), ("neutral",), True),
        (("neutral",), ("load_out", "neutral"), True),
        (("line", "neutral"), ("neutral",), True),
        (("line",), ("line_in",), True),
        (("main",), ("load_out", "line"), True),
        (("load_out",), ("load_out", "neutral"), True),
        (("earth",), ("protective_earth",), True),
        (("line_in", "load_out"), ("load_out",), True),
        (("line_in",), ("load_out",), False),
        (("line_in", "neutral"), ("load_out", "neutral"), False),
        (("line_in", "line"), ("line_in", "neutral"), False),
        (("line_in",), ("neutral",), False),
        (("protective_earth",), ("functional_earth",), False),
        (("coil",), ("aux",), False),
    ],
)
def test_terminals_that_nothing_tells_apart_may_be_one(
    one: tuple[str, ...], other: tuple[str, ...], *, may: bool
) -> None:
    assert may_share_terminal(one, other) is may
    assert may_share_terminal(other, one) is may
