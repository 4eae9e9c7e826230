"""The settings are the fewest there can be, and so are the changes of bit: both against trying
everything.
"""

from __future__ import annotations

from decimal import Decimal
from functools import cache
from itertools import combinations, permutations

from boards_by_hand import D, certain, driver, plan, values
from hypothesis import given, settings
from hypothesis import strategies as st

from torquary_catalogue.board.bands import Band
from torquary_catalogue.board.bit_changes import choose_batches
from torquary_catalogue.board.driver import Driver
from torquary_catalogue.board.order import count_changes, order_settings
from torquary_catalogue.board.plan import Plan
from torquary_catalogue.board.stabbing import Span

FIGURES = st.integers(4, 60).map(lambda tenths: D(tenths) / 10)
BANDS = st.lists(
    st.tuples(FIGURES, st.sampled_from([D(0), D("0.1"), D("0.5"), D(1), D(3)])),
    min_size=1,
    max_size=9,
)
BITS = st.sampled_from(["PZ2", "slot", "hex"])
SPANS = st.lists(
    st.tuples(st.integers(0, 14), st.sampled_from([0, 1, 2, 5]), BITS), min_size=1, max_size=7
)
WIDE, FINE = driver("W", "1", "6"), driver("F", "0.5", "2", step="0.05")


def fewest_by_trying(bands: list[Band], tools: tuple[Driver, ...]) -> int:
    """The fewest parts of all ways to part the bands, each part with a value that it can be set to."""
    scales = [scale for tool in tools for scale in tool.scales]

    @cache
    def shares(mask: int) -> bool:
        some = [band for at, band in enumerate(bands) if mask >> at & 1]
        low, high = max(band.low_nm for band in some), min(band.high_nm for band in some)
        on_a_scale = not tools or any(
            low <= value <= high for scale in scales for value in scale.values_nm
        )
        return low <= high and on_a_scale

    @cache
    def fewest(left: int) -> int:
        if not left:
            return 0
        first, best, part = left & -left, len(bands), left
        while part:
            if part & first and shares(part):
                best = min(best, 1 + fewest(left & ~part))
            part = (part - 1) & left
        return best

    return fewest((1 << len(bands)) - 1)


def check(made: Plan) -> None:
    """Every terminal is set once, inside its printed band, and the settings are no more than there
    must be.
    """
    bands = [task.certain.band for task in made.tasks]
    for one in made.settings:
        assert all(
            task.certain.band.low_nm <= one.value_nm <= task.certain.band.high_nm
            for task in one.tasks
        )
    assert len(made.settings) == fewest_by_trying(bands, made.drivers)


@settings(max_examples=60)
@given(BANDS)
def test_no_driver(found: list[tuple[Decimal, Decimal]]) -> None:
    made = plan(
        *(
            certain(str(low), str(low + wide), way=at)
            for at, (low, wide) in enumerate(found, start=1)
        )
    )
    assert len(made.tasks) == len(found)
    check(made)


@settings(max_examples=40)
@given(BANDS, st.sampled_from([(WIDE,), (FINE,), (WIDE, FINE)]))
def test_drivers_with_scales(
    found: list[tuple[Decimal, Decimal]], tools: tuple[Driver, ...]
) -> None:
    told = [
        certain(str(low), str(low + wide), way=at) for at, (low, wide) in enumerate(found, start=1)
    ]
    made = plan(*told, drivers=tools)
    assert len(made.tasks) + len(made.not_settable) == len(told)
    check(made)
    everything = fewest_by_trying([task.certain.band for task in made.tasks], tools)
    assert len(made.settings) == everything, (
        "fewer drivers are taken only where that costs no setting"
    )


def batches_by_trying(spans: dict[str, list[Span]]) -> int:
    """The fewest batches of all ways to choose the fewest values."""
    every = [span for some in spans.values() for span in some]
    places = sorted({high for _, high in every})

    def meets(chosen: tuple[int, ...], some: list[Span]) -> bool:
        return all(any(low <= at <= high for at in chosen) for low, high in some)

    def least(chosen: tuple[int, ...], some: list[Span]) -> int:
        counts = range(1, len(chosen) + 1)
        return next(n for n in counts if any(meets(part, some) for part in combinations(chosen, n)))

    count = next(
        n
        for n in range(1, len(places) + 1)
        if any(meets(c, every) for c in combinations(places, n))
    )
    ways = [chosen for chosen in combinations(places, count) if meets(chosen, every)]
    return min(sum(least(chosen, some) for some in spans.values()) for chosen in ways)


@settings(max_examples=150)
@given(SPANS)
def test_batches_are_the_fewest_of_all_ways_with_the_fewest_settings(
    found: list[tuple[int, int, str]],
) -> None:
    spans: dict[str, list[Span]] = {}
    for low, wide, bit in found:
        spans.setdefault(bit, []).append((low, low + wide))
    assert sum(map(len, choose_batches(spans).values())) == batches_by_trying(spans)


@settings(max_examples=60)
@given(
    st.lists(st.lists(BITS, min_size=1, max_size=3, unique=True).map(tuple), min_size=1, max_size=4)
)
def test_the_order_of_settings_changes_the_bit_as_seldom_as_any(
    found: list[tuple[str, ...]],
) -> None:
    made = order_settings(found)
    assert sorted(at for at, _ in made) == list(range(len(found)))
    assert all(sorted(bits) == sorted(found[at]) for at, bits in made)

    def best(order: tuple[int, ...]) -> int:
        ends: dict[str, int] = {"": -1}
        for at in order:
            following: dict[str, int] = {}
            for turned in permutations(found[at]):
                cost = min(n + (turned[0] != end) for end, n in ends.items()) + len(turned) - 1
                following[turned[-1]] = min(following.get(turned[-1], 99), cost)
            ends = following
        return min(ends.values())

    assert count_changes(made) == min(map(best, permutations(range(len(found)))))


def test_where_the_bits_allow_both_the_board_s_own_order_is_kept() -> None:
    assert [at for at, _ in order_settings([("PZ2", ""), ("",)])] == [0, 1]
    assert [at for at, _ in order_settings([("",), ("PZ2", ""), ("PZ2",)])] == [0, 1, 2]


def test_settings_beyond_those_that_are_tried_follow_the_bit_in_hand() -> None:
    bits = [("PZ2",), ("slot",)] * 6
    assert count_changes(order_settings(bits)) == 1


def test_a_range_takes_the_value_of_a_single_figure_and_a_single_figure_none_but_its_own() -> None:
    made = plan(
        certain("2.0"),
        certain("2.2", way=2),
        certain("1.8", "2.4", way=3),
        certain("2.1", "3", way=4),
    )
    assert values(made) == ["2", "2.2"]
    low, high = ({task.terminal.place.way for task in one.tasks} for one in made.settings)
    assert (1 in low, {2, 4} <= high, low | high) == (True, True, {1, 2, 3, 4})


def test_five_hundred_terminals_are_set_whole() -> None:
    bands = [(D(at % 47) / 10 + 1, D(at % 9) / 10) for at in range(500)]
    told = [
        certain(str(low), str(low + wide), way=at) for at, (low, wide) in enumerate(bands, start=1)
    ]
    made = plan(*told, drivers=(driver("W", "0.5", "8", step="0.05"),))
    assert len(made.tasks) == 500
    assert {task.terminal.place.way for task in made.tasks} == set(range(1, 501))
