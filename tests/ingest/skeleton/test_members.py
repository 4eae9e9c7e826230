"""The devices that a sheet tells apart: types of the series that its product is named by."""

from __future__ import annotations

from torquary_ingest.skeleton.members import find_members


def test_the_types_of_the_one_series_that_the_product_is_named_by_are_members() -> None:
    texts = [
        "Main terminals of the VKX-80/4: 2.4 N·m",
        "Cover screws VKX-CV 0.5 N·m",
        "Adapter VKX-AD",
        "VKX-25/2 and EN-60898, AVKX-9",
    ]
    assert find_members("Residual current devices VKX", texts) == ("VKX-80/4", "VKX-AD", "VKX-25/2")


def test_what_is_of_another_shape_or_of_two_series_is_no_member() -> None:
    assert find_members("Relay VKX-80", ["VKX-9 0.5 N·m", "VKX-250"]) == ("VKX-80",)
    assert find_members("Relays VKX and VKY", ["VKX-25, VKY-9"]) == ()


def test_a_type_of_the_product_s_series_is_a_member_beside_it() -> None:
    assert find_members("Relay VKX-80", ["VKX-25 has the same terminals."]) == ("VKX-80", "VKX-25")


def test_types_behind_words_for_kinds_of_device_are_members() -> None:
    texts = ["Motor circuit breaker QS32 with contactor QA18 on terminal block XT1", "QB40 is sold apart"]
    assert find_members("Starter combination VK-18", texts) == ("VK-18", "QS32", "QA18")
