"""How long a board takes to be arranged, of 500 terminals or as many as are named: python
board_time.py 500.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "catalogue"))
sys.path.insert(0, str(Path(__file__).parents[1] / "catalogue" / "board"))

from boards_by_hand import D, certain, driver, plan

BITS = (("cross_z", "1"), ("cross_z", "2"), ("slot", "0.8x4"), ("slot", "1x5.5"))


def main() -> None:
    """Arrange boards with no driver, one and three, and print settings, bit changes and seconds."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 500
    bands = [(D(at * 7 % 47) / 10 + 1, D(at % 9) / 10) for at in range(count)]
    told = [
        certain(str(low), str(low + wide), BITS[at % 4], way=at)
        for at, (low, wide) in enumerate(bands, start=1)
    ]
    one = driver("W", "0.5", "8", step="0.05")
    for tools in ((), (one,), (one, driver("S", "0.5", "2", every="0.1"), driver("L", "2", "8"))):
        begun = time.perf_counter()
        made = plan(*told, drivers=tools)
        took = time.perf_counter() - begun
        settings, changes = len(made.settings), made.bit_changes
        print(
            f"{len(tools)} driver(s): {count} terminals, {settings} settings, {changes} bit changes, {took:.3f} s"
        )


main()
