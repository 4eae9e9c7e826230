"""What the commands make of a damaged catalogue: bits flipped, parts zeroed, the end cut off.

Run: python tests/bench/damaged_trial.py [COPIES] [SEED]. Each copy of a small catalogue is damaged in one way and
given to every command that uses one. Counts exit statuses; names each traceback, each signal, each status that
is none of ours, each message of more than one line, and each answer that differs from that of the whole catalogue.
"""

from __future__ import annotations

import contextlib
import io
import json
import os
import random
import shutil
import sys
import tempfile
import traceback
from collections import Counter
from importlib import import_module
from pathlib import Path

from torquary_catalogue.command import main as torquary
from torquary_ingest import reader

SHEETS = {
    "first.csv": "Terminal;Conductor (mm²);Torque (N·m)\nL1;1,5–6;2,5\nL2;10–16;3,5\nN;1,5–6;1,2\n",
    "second.csv": "Terminal;Conductor (mm²);Torque (N·m)\nL1;1,5–6;25 Nm?\nL3;10–16;x3\n",
}
MORE = "Terminal;Conductor (mm²);Torque (N·m)\nL9;1,5–6;2,5\n"
HEADERS = 3 * 4096
"""DuckDB keeps its headers in the first three pages; each of a quarter of the copies is damaged there."""


def run(arguments: list[str], folder: Path) -> tuple[int, str, str]:
    """Run the command in a forked process; return its status (negative: a signal) and what it printed."""
    out, err = folder / "stdout", folder / "stderr"
    child = os.fork()
    if child == 0:
        for stream, file in ((1, out), (2, err)):
            os.dup2(os.open(file, os.O_WRONLY | os.O_CREAT | os.O_TRUNC), stream)
        sys.stdout = io.TextIOWrapper(io.FileIO(1, "w"), encoding="utf-8")
        sys.stderr = io.TextIOWrapper(io.FileIO(2, "w"), encoding="utf-8")
        status = 120
        try:
            torquary(arguments, prog_name="torquary")
        except SystemExit as end:
            status = end.code if isinstance(end.code, int) else 1
        except BaseException:
            traceback.print_exc()
        with contextlib.suppress(Exception):
            sys.stdout.flush()
            sys.stderr.flush()
        os._exit(status)
    _, ended = os.waitpid(child, 0)
    code = os.waitstatus_to_exitcode(ended)
    return code, out.read_text("utf-8", "replace"), err.read_text("utf-8", "replace")


def hasten() -> None:
    """Import what the commands need once, and read sheets in the process that asks; the store is what is tried."""
    from torquary_catalogue.command.group import COMMANDS

    for name in COMMANDS:
        torquary.get_command(None, name)  # type: ignore[arg-type]
    shows = ("show", "show.record", "show.held_page", "show.pictures", "show.summary")
    for module in ("decide", "export", "find", "load", *shows):
        import_module(f"torquary_catalogue.{module}")
    import_module("torquary_ingest.openers.delimited.reading")
    import_module("torquary_ingest.one_sheet")
    import_module("torquary_ingest.extractors.headed")
    reader.run_apart = lambda task, paths, **_: (task(path) for path in paths)


def make(folder: Path) -> tuple[Path, str]:
    """Make the catalogue and return it with the id of a held reading."""
    sheets = [folder / name for name in SHEETS]
    for sheet in sheets:
        sheet.write_text(SHEETS[sheet.name], encoding="utf-8")
    (folder / "more.csv").write_text(MORE, encoding="utf-8")
    whole = folder / "whole.duckdb"
    run(["load", *map(str, sheets), "--catalogue", str(whole)], folder)
    _, told, _ = run(["held", "--catalogue", str(whole), "--json"], folder)
    return whole, json.loads(told)["held"][0]["id"]


def list_commands(folder: Path, held: str) -> dict[str, list[str]]:
    return {
        "find": ["find", "L1", "2.5mm2", "--json"],
        "find --picture": ["find", "L1", "2.5mm2", "--picture", str(folder / "row.png")],
        "held": ["held", "--json"],
        "held --pictures": ["held", "--pictures", str(folder / "pictures")],
        "export csv": ["export", str(folder / "out.csv")],
        "export jsonl": ["export", str(folder / "out.jsonl")],
        "export parquet": ["export", str(folder / "out.parquet")],
        "decide": ["decide", held, "reject", "--who", "x", "--why", "trial", "--json"],
        "load": ["load", str(folder / "more.csv")],
        "load again": ["load", str(folder / "first.csv"), "--again"],
    }


def damage(content: bytes, chance: random.Random) -> tuple[str, bytes]:
    """Return what was done and the damaged bytes."""
    kind = chance.choice(["bits", "bits", "bits", "zeros", "cut"])
    head = chance.random() < 0.25
    place = chance.randrange(HEADERS if head else len(content))
    if kind == "cut":
        return f"cut at {place}", content[:place]
    damaged = bytearray(content)
    if kind == "zeros":
        damaged[place : place + 512] = bytes(len(damaged[place : place + 512]))
        return f"zeros at {place}", bytes(damaged)
    places = [place, *(chance.randrange(len(content)) for _ in range(chance.choice([0, 0, 3, 15])))]
    for one in places:
        damaged[one] ^= 1 << chance.randrange(8)
    return f"bits at {places}", bytes(damaged)


def judge(name: str, result: tuple[int, str, str], whole: tuple[int, str, str]) -> str:
    """Return what is wrong with a result, "" if nothing is."""
    code, out, err = result
    if code < 0:
        return f"signal {-code}"
    if "Traceback" in out + err:
        return "traceback: " + err.strip().splitlines()[-1][:200]
    if code not in (whole[0], 3):
        return f"status {code}: {err.strip()[:200]}"
    if code == 3 and len(err.strip().splitlines()) != 1:
        return f"{len(err.strip().splitlines())} lines: {err.strip()[:300]}"
    if code != 3 and name in ("find", "held") and out != whole[1]:
        return "another answer"
    return ""


def main() -> int:
    copies = int(sys.argv[1]) if len(sys.argv) > 1 else 300
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    hasten()
    chance = random.Random(seed)
    counted: Counter[str] = Counter()
    said: Counter[str] = Counter()
    bad: list[str] = []
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        whole, held = make(folder)
        content = whole.read_bytes()
        passing = folder / "damaged.duckdb"
        commands = {key: [*line, "--catalogue", str(passing)] for key, line in list_commands(folder, held).items()}
        proper = {}
        for key, line in commands.items():
            shutil.copyfile(whole, passing)
            proper[key] = run(line, folder)
        for number in range(copies):
            how, damaged = damage(content, chance)
            for key, line in commands.items():
                for left in folder.glob("*damaged.duckdb*"):
                    left.unlink()
                passing.write_bytes(damaged)
                result = run(line, folder)
                counted[f"{key}: {'status' if result[0] >= 0 else 'signal'} {abs(result[0])}"] += 1
                said[result[2].strip().replace(name, "")[:110]] += result[0] == 3
                wrong = judge(key, result, proper[key])
                if wrong:
                    bad.append(f"copy {number} ({how[:60]}), {key}: {wrong}")
    print(f"{copies} copies, {len(commands)} commands each, seed {seed}; {len(bad)} results are wrong")
    for key, count in sorted(counted.items()):
        print(f"  {key}: {count}")
    for line, count in said.most_common(12):
        print(f"  {count} x {line}")
    print("\n".join(bad[:60]))
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
