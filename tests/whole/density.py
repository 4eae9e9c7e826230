"""How dense each function is, by radon's cyclomatic count; run it to take mended functions off the list of dense ones.

    python tests/whole/density.py
"""

from __future__ import annotations

from pathlib import Path

from radon.complexity import add_inner_blocks, cc_visit
from radon.visitors import Function

TOP = Path(__file__).parents[2]
LIST = Path(__file__).with_name("dense_functions.txt")
MOST = 15
"""Ways through a function, by radon's count, of one that can be read at one go (common practice: 10 to 15)."""


def dense_functions(text: str) -> dict[str, int]:
    """Return the functions, methods and closures of a module that have more ways through them than `MOST`."""
    blocks = [block for block in add_inner_blocks(cc_visit(text)) if isinstance(block, Function)]
    return {block.fullname: block.complexity for block in blocks if block.complexity > MOST}


def all_dense_functions() -> dict[str, int]:
    """Return those of the project as "file function", with their counts, in the order of their names."""
    found = {
        f"{file.relative_to(TOP).as_posix()} {name}": count
        for folder in ("schema", "ingest", "catalogue")
        for file in (TOP / folder).rglob("*.py")
        for name, count in dense_functions(file.read_text("utf-8")).items()
    }
    return dict(sorted(found.items()))


def listed() -> list[str]:
    """Return the functions that were dense before this was held."""
    return LIST.read_text("utf-8").splitlines()


def main() -> None:
    """Take off the list what is mended; what is newly dense does not come onto it."""
    dense = all_dense_functions()
    kept = [line for line in listed() if line in dense]
    LIST.write_text("".join(f"{line}\n" for line in kept), "utf-8")
    print(f"{len(kept)} left")


if __name__ == "__main__":
    main()
