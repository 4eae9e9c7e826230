"""No function is denser than radon's 15, except those that still were when this was first held; their list shrinks."""

from __future__ import annotations

import pytest
from whole.density import MOST, all_dense_functions, dense_functions, listed

WAYS = "\n".join(f"    if n == {at}:\n        return {at}" for at in range(MOST - 1))


def test_no_function_is_newly_dense() -> None:
    new = {name: count for name, count in all_dense_functions().items() if name not in listed()}
    assert not new, f"more than {MOST} ways through a function: part it"


def test_a_mended_function_is_taken_off_the_list() -> None:
    mended = sorted(set(listed()) - set(all_dense_functions()))
    assert not mended, "mended: run python tests/whole/density.py"


def test_the_list_is_sorted() -> None:
    assert listed() == sorted(set(listed()))


@pytest.mark.parametrize(
    ("text", "dense"),
    [
        (f"def few(n):\n{WAYS}\n", set()),
        (f"def many(n):\n{WAYS}\n    return n or 2\n", {"many"}),
        (f"class A:\n  def many(self, n):\n{WAYS}\n    return n or 2\n", {"A.many"}),
        (f"def outer():\n  def inner(n):\n{WAYS}\n    return n or 2\n  return inner\n", {"outer.inner"}),
    ],
)
def test_functions_methods_and_closures_are_counted(text: str, dense: set[str]) -> None:
    assert set(dense_functions(text)) == dense
