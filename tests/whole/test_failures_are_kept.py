"""A generated example that fails is printed with the line that repeats it, for every test of every folder."""

from hypothesis import settings


def test_a_failing_example_is_printed_to_be_repeated() -> None:
    assert settings().print_blob
