"""The settings are the fewest there can be, and so are the changes of bit: both against trying
everything.
"""

from __future__ import annotations

from bisect import bisect_left
from decimal import Decimal
from functools import cache
from itertools import combinations, pairwise, permutations, product

import numpy
from boards_by_hand import D, certain, driver, plan, values
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse.csgraph import connected_components

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


Terminals = list[tuple[frozenset[str], Span]]


def changes_by_trying(terminals: Terminals) -> int:
    """The fewest changes of bit of all ways to give each terminal a value and a bit, the values being the fewest."""
    places = sorted({high for _, (_, high) in terminals})

    def meets(chosen: tuple[int, ...]) -> bool:
        return all(any(low <= at <= high for at in chosen) for _, (low, high) in terminals)

    counts = range(1, len(places) + 1)
    fewest = next(n for n in counts if any(map(meets, combinations(places, n))))
    found = set()
    for chosen in combinations(places, fewest):
        ways = [
            [(at, bit) for at in chosen if low <= at <= high for bit in bits] for bits, (low, high) in terminals
        ]
        found |= {frozenset(way) for way in product(*ways) if len({at for at, _ in way}) == fewest}
    return min(map(changes_of_batches, found))


def changes_of_batches(batches: frozenset[tuple[int, str]]) -> int:
    """The fewest changes of bit of all orders in which batches, those of one value together, can be done."""
    groups: dict[int, list[str]] = {}
    for at, bit in sorted(batches):
        groups.setdefault(at, []).append(bit)
    return least_changes(tuple(sorted(map(tuple, groups.values()))))


@cache
def least_changes(groups: tuple[tuple[str, ...], ...]) -> int:
    """The fewest changes of bit of all orders of settings, by every order of them and of their bits."""
    best = 99
    for order in set(permutations(groups)):
        ends: dict[str, int] = {"": -1}
        for bits in order:
            following: dict[str, int] = {}
            for turned in permutations(bits):
                cost = min(n + (turned[0] != end) for end, n in ends.items()) + len(turned) - 1
                following[turned[-1]] = min(following.get(turned[-1], 99), cost)
            ends = following
        best = min(best, *ends.values())
    return best


KINDS = st.one_of(BITS.map(lambda bit: frozenset({bit})), st.frozensets(BITS, min_size=1, max_size=2))


@settings(max_examples=150, deadline=None)
@given(st.lists(st.tuples(KINDS, st.integers(0, 9), st.sampled_from([0, 0, 1, 2, 4])), min_size=1, max_size=6))
def test_no_choice_of_the_fewest_settings_asks_for_fewer_changes_of_bit(
    found: list[tuple[frozenset[str], int, int]],
) -> None:
    terminals = [(kind, (low, low + wide)) for kind, low, wide in found]
    spans: dict[frozenset[str], list[Span]] = {}
    for kind, span in terminals:
        spans.setdefault(kind, []).append(span)
    batches, proved = choose_batches(spans)
    assert proved
    assert all(any(bit in kind and low <= at <= high for at, bit in batches) for kind, (low, high) in terminals)
    assert changes_of_batches(batches) == changes_by_trying(terminals)


def test_two_bits_are_taken_for_one_where_they_join_others() -> None:
    """A slot would do for both at 2, and PZ2 and hex go on from 0 and to 1."""
    points = {"PZ2": 0, "hex": 1, "PZ2 slot": 2, "hex slot": 2}
    batches, proved = choose_batches({frozenset(bits.split()): [(at, at)] for bits, at in points.items()})
    assert (changes_of_batches(batches), proved) == (1, True)


def test_a_batch_more_is_taken_where_it_saves_changes_of_bit() -> None:
    """A at 2 alone would part the settings of C; at 1 and at 3 it joins those of B and D."""
    points = {"B": [1], "C": [2, 5, 6], "D": [3], "E": [5], "F": [6]}
    spans = {frozenset({bit}): [(at, at) for at in values] for bit, values in points.items()}
    batches, proved = choose_batches({**spans, frozenset({"A"}): [(1, 2), (2, 3)]})
    assert proved
    assert {at for at, bit in batches if bit == "A"} == {1, 3}
    assert changes_of_batches(batches) == 5


@settings(max_examples=30, deadline=None)
@given(st.lists(st.tuples(FIGURES, st.sampled_from([D(0), D("0.4"), D(2)]), BITS), min_size=1, max_size=7))
def test_the_plan_changes_the_bit_as_seldom_as_any(found: list[tuple[Decimal, Decimal, str]]) -> None:
    told = [
        certain(str(low), str(low + wide), (bit, ""), way=at) for at, (low, wide, bit) in enumerate(found, start=1)
    ]
    made = plan(*told)
    values = sorted({low + wide for low, wide, _ in found})
    terminals = [
        (frozenset({bit}), (bisect_left(values, low), values.index(low + wide))) for low, wide, bit in found
    ]
    assert made.fewest_proved
    assert made.bit_changes == changes_by_trying(terminals)


@settings(max_examples=100, deadline=None)
@given(
    st.lists(
        st.lists(st.sampled_from("ABCDE"), min_size=1, max_size=4, unique=True).map(tuple), min_size=1, max_size=6
    )
)
def test_the_order_of_settings_changes_the_bit_as_seldom_as_any(
    found: list[tuple[str, ...]],
) -> None:
    made = order_settings(found)
    assert sorted(at for at, _ in made.settings) == list(range(len(found)))
    assert all(sorted(bits) == sorted(found[at]) for at, bits in made.settings)
    assert made.proved
    assert count_changes(made.settings) == least_changes(tuple(sorted(map(tuple, map(sorted, found)))))


def changes_by_subsets(groups: list[tuple[str, ...]]) -> int:
    """The fewest changes of bit of all orders, by every set of settings that may be done and the bit in hand then
    (Held and Karp's way to find the shortest tour).
    """
    best: dict[tuple[int, str], int] = {(0, ""): -1}
    for _ in groups:
        following: dict[tuple[int, str], int] = {}
        for (done, in_hand), changes in best.items():
            for at in (at for at in range(len(groups)) if not done >> at & 1):
                bits = groups[at]
                for begin, end in permutations(bits, 2) if len(bits) > 1 else [(bits[0], bits[0])]:
                    state = (done | 1 << at, end)
                    cost = changes + (begin != in_hand) + len(bits) - 1
                    following[state] = min(following.get(state, 99), cost)
        best = following
    return min(best.values())


@settings(max_examples=25, deadline=None)
@given(
    st.lists(
        st.lists(st.sampled_from("ABCDEF"), min_size=1, max_size=3, unique=True).map(tuple), min_size=9, max_size=10
    )
)
def test_beyond_eight_settings_too(found: list[tuple[str, ...]]) -> None:
    made = order_settings(found)
    assert made.proved
    assert count_changes(made.settings) == changes_by_subsets(found)


@settings(max_examples=30, deadline=None)
@given(
    st.lists(
        st.lists(st.integers(0, 4), min_size=1, max_size=2, unique=True).map(tuple), min_size=20, max_size=40
    )
)
def test_dozens_of_settings_of_two_bits_follow_euler(found: list[tuple[int, ...]]) -> None:
    """As many trails as there are components, or half the bits in them at which an odd number of settings ends
    (Euler's theorem; the components by SciPy).
    """
    ends = numpy.zeros((5, 5), int)
    for bits in found:
        ends[bits[0], bits[-1]] += 1
    _, part = connected_components(ends, directed=False)
    degree = ends.sum(axis=0) + ends.sum(axis=1)
    odd = [int((degree[part == one] % 2).sum()) for one in set(part[degree > 0])]
    trails = sum(max(1, count // 2) for count in odd)
    made = order_settings([tuple(map(str, bits)) for bits in found])
    within = sum(len(bits) - 1 for bits in found)
    assert (count_changes(made.settings), made.proved) == (within + trails - 1, True)


def test_where_the_bits_allow_both_the_board_s_own_order_is_kept() -> None:
    assert [at for at, _ in order_settings([("PZ2", ""), ("",)]).settings] == [0, 1]
    assert [at for at, _ in order_settings([("",), ("PZ2", ""), ("PZ2",)]).settings] == [0, 1, 2]


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
    assert made.fewest_proved


SMALL = (
    driver("P", "1", "2", every="1"), driver("Q", "2", "4", step="1"), driver("R", "3", "5", step="1"),
)  # fmt: skip
Work = tuple[int, int, int]


def least_work(found: list[tuple[int, int, frozenset[str]]], tools: tuple[Driver, ...]) -> Work:
    """The fewest settings, then changes of driver, then changes of bit, of all ways to give each terminal a value of a
    driver and a bit, and of all orders of these.
    """
    scale = [(tool.name, value) for tool in tools for one in tool.scales for value in one.values_nm]
    ways = [
        [(value, name, bit) for name, value in scale if low <= value <= low + wide for bit in bits]
        for low, wide, bits in found
    ]
    plans = {frozenset(way) for way in product(*ways)}
    fewest = min(len({value for value, _, _ in one}) for one in plans)
    least = (99, 99, 99)
    for one in plans:
        groups: dict[tuple[Decimal, str], list[str]] = {}
        for value, name, bit in sorted(one):
            groups.setdefault((value, name), []).append(bit)
        if len(groups) == fewest:
            least = min(least, min(work_of(order) for order in permutations(groups.items())))
    return least


def work_of(order: tuple[tuple[tuple[Decimal, str], list[str]], ...]) -> Work:
    """Settings, changes of driver, and the fewest changes of bit, in this order of settings."""
    tools = sum(one[0][1] != two[0][1] for one, two in pairwise(order))
    ends: dict[str, int] = {"": -1}
    for _, bits in order:
        following: dict[str, int] = {}
        for turned in permutations(bits):
            cost = min(n + (turned[0] != end) for end, n in ends.items()) + len(turned) - 1
            following[turned[-1]] = min(following.get(turned[-1], 99), cost)
        ends = following
    return len(order), tools, min(ends.values())


SLOTS = st.sampled_from([frozenset({"PZ2"}), frozenset({"slot"}), frozenset({"PZ2", "slot"})])


@settings(max_examples=150, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 5), st.sampled_from([0, 0, 1, 2]), SLOTS), min_size=1, max_size=4),
    st.sampled_from([SMALL[:2], SMALL[1:], SMALL]),
)
def test_several_drivers_are_changed_as_seldom_as_can_be(
    found: list[tuple[int, int, frozenset[str]]], tools: tuple[Driver, ...]
) -> None:
    """And the bit, where the plan says that it is proved; never seldomer than there is."""
    on_a_scale = {value for tool in tools for one in tool.scales for value in one.values_nm}
    found = [one for one in found if any(one[0] <= value <= one[0] + one[1] for value in on_a_scale)]
    if not found:
        return
    told = [
        certain(str(low), str(low + wide), *((bit, "") for bit in sorted(bits)), way=at)
        for at, (low, wide, bits) in enumerate(found, start=1)
    ]
    made = plan(*told, drivers=tools)
    names = [one.driver for one in made.settings]
    work = (len(names), sum(one != two for one, two in pairwise(names)), made.bit_changes)
    least = least_work(found, tools)
    assert work[:2] == least[:2]
    assert work[2] == least[2] if made.fewest_proved else work[2] >= least[2]


def test_of_two_drivers_each_is_begun_where_the_bit_in_hand_goes_on() -> None:
    told = [certain(low, None, (bit, ""), way=at) for at, (low, bit) in enumerate(
        [("1", "slot"), ("2", "PZ2"), ("3", "slot"), ("4", "PZ2")], start=1
    )]  # fmt: skip
    made = plan(*told, drivers=(driver("P", "1", "2", every="1"), driver("R", "3", "5", step="1")))
    assert [one.driver for one in made.settings] == ["P", "P", "R", "R"]
    assert (made.bit_changes, made.fewest_proved) == (2, False)
