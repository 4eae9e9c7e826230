"""Prints the lowest version allowed of each dependency, as pip's -r reads it; see the step in `.ci/run`."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

_BOUND = re.compile(r"([A-Za-z0-9._-]+)(?:==|>=)([0-9][^,;\s]*)")


def lowest_versions(project: Path) -> list[str]:
    """Return "name==version" of each dependency in a pyproject.toml. ValueError: one without a lower bound."""
    declared = tomllib.loads(project.read_text("utf-8"))["project"]["dependencies"]
    found = [(line, _BOUND.match(line)) for line in declared]
    if open_ended := [line for line, bound in found if bound is None]:
        raise ValueError(f"no lower bound: {', '.join(open_ended)}")
    return [f"{bound[1]}=={bound[2]}" for _, bound in found if bound]


if __name__ == "__main__":
    print("\n".join(lowest_versions(Path(__file__).parents[1] / "pyproject.toml")))
