"""How long a board takes: to be arranged, of 500 terminals or as many as are named, and to be asked for.

Run: python board_time.py [TERMINALS [CATALOGUE]], with a catalogue that `many_settings.py` made. Of it as many
different questions are asked together, as a plan asks them, and a tenth of them one by one, as `find` asks them.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "catalogue"))
sys.path.insert(0, str(Path(__file__).parents[1] / "catalogue" / "board"))

from boards_by_hand import D, certain, driver, listed, plan

from torquary_catalogue.board.settled import Certain, settle
from torquary_catalogue.find import find, read_question
from torquary_catalogue.store import Catalogue, open_catalogue

BITS = (("cross_z", "1"), ("cross_z", "2"), ("slot", "0.8x4"), ("slot", "1x5.5"))


TERMINALS = ("line", "load", "neutral", "earth", "aux")


def main() -> None:
    """Print what was measured."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 500
    arrange_boards(count)
    if len(sys.argv) > 2:
        with open_catalogue(Path(sys.argv[2])) as catalogue:
            ask_for_board(catalogue, count)


def ask_for_board(catalogue: Catalogue, count: int) -> None:
    """Ask for terminals of different devices, and print how long one takes together and alone."""
    terminals = [
        listed(TERMINALS[at % 5], at, device=f"QX{at * 37 % 1900}", conductor="10 mm2") for at in range(count)
    ]
    begun = time.perf_counter()
    told = list(settle(catalogue, terminals))
    together = (time.perf_counter() - begun) / count
    few = terminals[: max(1, count // 10)]
    begun = time.perf_counter()
    for one in few:
        find(catalogue, read_question(catalogue, one.device, terminal=one.terminal, conductor=one.conductor))
    alone = (time.perf_counter() - begun) / len(few)
    certain = sum(isinstance(one, Certain) for one in told)
    print(
        f"{count} questions, {certain} certain: {together * count:.2f} s together; one {together * 1000:.1f} ms, "
        f"alone {alone * 1000:.1f} ms: {alone / together:.1f} times as long"
    )


def arrange_boards(count: int) -> None:
    """Arrange boards with no driver, one and three, and print settings, bit changes and seconds."""
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
