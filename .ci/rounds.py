"""Read sheets of our own rounds again and compare with what they gave last: no row right before may be lost.

    python .ci/rounds.py SCORER [--write]

SCORER is the score.py beside the sheets by others. The rounds are open sets: they measure nothing any more, but what
was mended on them must stay. Exit status 1, and a line for each figure, where fewer rows are right than
tests/rounds/now.json says, or more are wrong, misnamed or lost. --write puts what is read now there.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

ROUNDS = Path(__file__).resolve().parents[1] / "tests" / "rounds"
KEPT = ROUNDS / "now.json"
MOST = ("wrong", "misnamed", "lost")

SLACK = {"right": 3, "lost": 3}
"""Rows of a round that may differ on another machine, where a witness tells a picture otherwise (own choice)."""


EACH = 3
"""Every third sheet is read: all of them take several minutes."""


def read(scorer: str, folder: Path) -> dict[str, int]:
    """Return how many rows of a third of a round's sheets are right, and how many wrong, misnamed and lost."""
    cases = [path.stem for path in sorted(folder.glob("*.json"))[::EACH]]
    command = [sys.executable, scorer, *cases, "--dir", str(folder), "--json"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    try:
        total = json.loads(done.stdout)["total"]
    except (ValueError, KeyError):
        sys.exit(f"{folder.name}: the scorer gave no figures: {done.stderr.strip()[-300:]}")
    return {name: total[name] for name in ("right", *MOST)}


def compare(name: str, now: dict[str, int], kept: dict[str, int]) -> list[str]:
    """Return a line for each figure of a round that is worse than the one kept."""
    worse = [key for key in MOST if now[key] > kept[key] + SLACK.get(key, 0)]
    worse += ["right"] if now["right"] < kept["right"] - SLACK["right"] else []
    return [f"{name}: {key} {now[key]}, was {kept[key]}" for key in worse]


def main() -> int:
    """Read all rounds; see the module."""
    scorer, *options = sys.argv[1:]
    folders = sorted(path for path in ROUNDS.iterdir() if path.is_dir())
    now = {folder.name: read(scorer, folder) for folder in folders}
    if "--write" in options:
        KEPT.write_text(json.dumps(now, indent=1) + "\n", encoding="utf-8")
        return 0
    kept = json.loads(KEPT.read_text("utf-8"))
    for name, figures in now.items():
        print(name, *(f"{key} {value}" for key, value in figures.items()))
    worse = [line for name, figures in now.items() for line in compare(name, figures, kept[name])]
    print(*worse, sep="\n")
    return 1 if worse else 0


if __name__ == "__main__":
    sys.exit(main())
